#pragma once
/// Every rule of a brief by its wording in the contract (`rules`, `counts`, `pins` of a plan), over all pairs
/// of patches.

#include <algorithm>
#include <cmath>
#include <string>
#include <vector>

#include "colour/difference.h"
#include "oracle/contact.h"
#include "oracle/tops.h"

namespace oracle {

inline bool same_fabric(const Brief& brief, int f, int g) {
    if (brief.exempt[at(f)] || brief.exempt[at(g)]) return false;
    if (f == g) return true;
    const double limit = brief.rules.same_if_closer_than;
    return limit > 0 && motley::colour::ciede2000(brief.labs[at(f)], brief.labs[at(g)]) < limit;
}

/// Whether two patches that show the same fabric break a rule.
inline bool clash(const Brief& brief, int i, int j, int turn_i, int turn_j) {
    using motley::layout::Contact;
    using motley::layout::Touching;
    const int places = brief.patches_per_unit();
    const int a = i / places, b = j / places;
    if (a == b) return false;
    const int dr = b / brief.columns - a / brief.columns, dc = b % brief.columns - a % brief.columns;
    if (std::max(std::abs(dr), std::abs(dc)) < brief.rules.apart) return true;
    if (brief.rules.line && (dr == 0 || dc == 0)) return true;
    const Contact touch = contact(places, dr, dc, i % places, turn_i, j % places, turn_j);
    if (brief.rules.touching == Touching::free || touch == Contact::none) return false;
    return touch == Contact::edge || brief.rules.touching == Touching::corner;
}

struct Breaches {
    int pairs = 0;    ///< Pairs of patches of one fabric that touch, are too near or share a line.
    int contrast = 0; ///< Units.
    int other = 0;    ///< Counts out of range, pins and turns not kept.
    int all() const { return pairs + contrast + other; }
};

inline Breaches breaches(const Brief& brief, const Assignment& top) {
    const int places = brief.patches_per_unit(), patches = brief.patches(),
              fabrics = static_cast<int>(brief.names.size());
    const auto fabric = [&](int patch) {
        return static_cast<int>(motley::layout::index(top.patches[at(patch)]));
    };
    Breaches out;
    std::vector<int> used(at(places * fabrics)), total(at(fabrics));
    for (int i = 0; i < patches; ++i) {
        ++used[at(i % places * fabrics + fabric(i))];
        ++total[at(fabric(i))];
        out.other +=
            brief.pinned[at(i)] != motley::layout::no_fabric && brief.pinned[at(i)] != top.patches[at(i)];
        for (int j = i + 1; j < patches; ++j)
            out.pairs += same_fabric(brief, fabric(i), fabric(j)) &&
                         clash(brief, i, j, top.turns[at(i / places)], top.turns[at(j / places)]);
    }
    for (int f = 0; f < fabrics; ++f) {
        out.other += total[at(f)] < brief.counts[at(f)].least || total[at(f)] > brief.counts[at(f)].most;
        for (int p = 0; p < places; ++p) {
            const Range& range = brief.role_counts[at(p)][at(f)];
            out.other += used[at(p * fabrics + f)] < range.least || used[at(p * fabrics + f)] > range.most;
        }
    }
    for (int cell = 0; cell < brief.cells(); ++cell) {
        out.other += top.turns[at(cell)] > 3 ||
                     (brief.turns[at(cell)] >= 0 && brief.turns[at(cell)] != top.turns[at(cell)]);
        bool flat = false;
        for (int p = 0; p < places; ++p)
            for (int q = p + 1; q < places; ++q)
                flat = flat || std::abs(brief.labs[at(fabric(cell * places + p))].l -
                                        brief.labs[at(fabric(cell * places + q))].l) < brief.rules.contrast;
        out.contrast += flat;
    }
    return out;
}

} // namespace oracle
