#pragma once
/// Small boards for brute force: all of them without pins, or drawn with pins that do not contradict one
/// another at first sight.

#include <functional>
#include <optional>
#include <vector>

#include "oracle/rules.h"
#include "oracle/tops.h"

namespace oracle {

/// Every way to write n as `parts` whole numbers >= 1, falling.
inline void for_partitions(int n, int parts, const std::function<void(const std::vector<int>&)>& visit,
                           std::vector<int> so_far = {}) {
    if (parts == 0) {
        if (n == 0) visit(so_far);
        return;
    }
    const int highest = so_far.empty() ? n : so_far.back();
    for (int first = std::min(highest, n - parts + 1); first >= 1 && first * parts >= n; --first) {
        so_far.push_back(first);
        for_partitions(n - first, parts - 1, visit, so_far);
        so_far.pop_back();
    }
}

/// All tops of plain squares up to 3 x 4 (and 4 x 3) with one to four fabrics in exact numbers.
inline void for_small_squares(const std::function<void(Brief&)>& visit) {
    for (int columns = 1; columns <= 4; ++columns)
        for (int rows = 1; rows <= 4 && columns * rows <= 12; ++rows)
            for (int fabrics = 1; fabrics <= std::min(4, columns * rows); ++fabrics)
                for_partitions(columns * rows, fabrics, [&](const std::vector<int>& counts) {
                    Brief brief = squares(columns, rows, counts);
                    visit(brief);
                });
}

/// Makes `shares` again after ranges or pins changed: what is asked or pinned at least, the rest to whoever
/// has least. False when there is none.
inline bool share_out(Brief& brief) {
    const int places = brief.patches_per_unit();
    for (int p = 0; p < places; ++p) {
        std::vector<int>& shares = brief.shares[at(p)];
        const std::vector<Range>& ranges = brief.role_counts[at(p)];
        std::fill(shares.begin(), shares.end(), 0);
        for (int patch = p; patch < brief.patches(); patch += places)
            if (brief.pinned[at(patch)] != motley::layout::no_fabric)
                ++shares[motley::layout::index(brief.pinned[at(patch)])];
        int sum = 0;
        for (std::size_t f = 0; f < shares.size(); ++f) {
            shares[f] = std::max(shares[f], ranges[f].least);
            if (shares[f] > ranges[f].most) return false;
            sum += shares[f];
        }
        if (sum > brief.cells()) return false;
        for (; sum < brief.cells(); ++sum) {
            int best = -1;
            for (int f = 0; f < static_cast<int>(shares.size()); ++f)
                if (shares[at(f)] < ranges[at(f)].most && (best < 0 || shares[at(f)] < shares[at(best)]))
                    best = f;
            if (best < 0) return false;
            ++shares[at(best)];
        }
    }
    return true;
}

/// Pins so many patches; empty when the pins clash between themselves or are more than a count.
inline std::optional<Brief> pinned(Brief brief, int pins, Dice& dice) {
    const int fabrics = static_cast<int>(brief.names.size()), places = brief.patches_per_unit();
    std::vector<std::vector<int>> left(at(places));
    for (int p = 0; p < places; ++p)
        for (int f = 0; f < fabrics; ++f) left[at(p)].push_back(brief.role_counts[at(p)][at(f)].most);
    std::vector<int> at_patch;
    for (int k = 0; k < pins; ++k) {
        const int patch = dice.below(brief.patches()), f = dice.below(fabrics);
        if (brief.pinned[at(patch)] != motley::layout::no_fabric) continue;
        if (left[at(patch % places)][at(f)]-- == 0) return std::nullopt;
        for (const int other : at_patch) {
            const int g = static_cast<int>(motley::layout::index(brief.pinned[at(other)]));
            if (same_fabric(brief, f, g) &&
                clash(brief, patch, other, brief.turns[at(patch / places)], brief.turns[at(other / places)]))
                return std::nullopt;
        }
        brief.pinned[at(patch)] = id(f);
        at_patch.push_back(patch);
    }
    return share_out(brief) ? std::optional<Brief>(brief) : std::nullopt;
}

/// Two to `most_fabrics` fabrics in numbers of chance, each at least once, on a grid of chance between the
/// sizes.
inline Brief drawn_squares(int least_side, int most_side, int most_fabrics, Dice& dice) {
    const int columns = least_side + dice.below(most_side - least_side + 1),
              rows = least_side + dice.below(most_side - least_side + 1);
    const int fabrics = 2 + dice.below(most_fabrics - 1);
    std::vector<int> counts(at(fabrics), 1);
    // Half of them nearly even, half however chance has it.
    if (dice.below(2) == 0)
        counts = even(columns * rows, fabrics);
    else
        for (int cell = fabrics; cell < columns * rows; ++cell) ++counts[at(dice.below(fabrics))];
    if (dice.below(3) == 0 && counts[0] > 1) --counts[0], ++counts[at(fabrics - 1)];
    return squares(columns, rows, counts);
}

} // namespace oracle
