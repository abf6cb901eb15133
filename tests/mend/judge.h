#pragma once
// What mending promises (mend/mend.h), counted from nothing but the brief, the top as it was and the new one.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <tuple>
#include <vector>

#include "colour/difference.h"
#include "mend/mend.h"
#include "oracle/tops.h"

namespace motley::tests {

using layout::Assignment;
using layout::Brief;
using oracle::at;

/// An effort of so much work; nothing else asked.
inline mend::Effort with_work(std::int64_t work) {
    mend::Effort effort;
    effort.work = work;
    return effort;
}

class Judge {
public:
    Judge(const Brief& brief, const mend::Worn& worn)
        : brief_(brief),
          worn_(worn),
          places_(brief.patches_per_unit()),
          fabrics_(static_cast<int>(brief.names.size())),
          used_(at(fabrics_)) {
        for (int p = 0; p < brief.patches(); ++p) ++used_[at(shown(worn.assignment, p))];
        for (int f = 0; f < fabrics_; ++f)
            for (int g = 0; g < fabrics_; ++g)
                far_.push_back(colour::ciede2000(brief.labs[at(f)], brief.labs[at(g)]));
        for (int place = 0; place < places_; ++place) measure(place);
    }

    double far(int f, int g) const { return far_[at(f * fabrics_ + g)]; }
    /// How far beyond near a fabric is in place of another.
    double odd(int place, int f, int g) const { return odd_[at((place * fabrics_ + f) * fabrics_ + g)]; }
    bool is_short(int place, int f) const { return short_[at(place * fabrics_ + f)] != 0; }

    bool differs(const Assignment& top, int cell) const {
        bool different = top.turns[at(cell)] != worn_.assignment.turns[at(cell)];
        for (int p = cell * places_; p < (cell + 1) * places_; ++p)
            different = different || top.patches[at(p)] != worn_.assignment.patches[at(p)];
        return different;
    }

    int changes(const Assignment& top) const {
        int cells = 0;
        for (int cell = 0; cell < brief_.cells(); ++cell) cells += differs(top, cell);
        return cells;
    }

    double strangeness(const Assignment& top) const {
        double sum = 0;
        for (int p = 0; p < brief_.patches(); ++p) sum += far(shown(worn_.assignment, p), shown(top, p));
        return sum;
    }

    double oddness(const Assignment& top) const {
        double sum = 0;
        for (int p = 0; p < brief_.patches(); ++p)
            sum += odd(p % places_, shown(worn_.assignment, p), shown(top, p));
        return sum;
    }

    /// Sum of (uses more than before)^2.
    int piled(const Assignment& top) const {
        std::vector<int> more(at(fabrics_));
        for (int p = 0; p < brief_.patches(); ++p) ++more[at(shown(top, p))];
        int sum = 0;
        for (int f = 0; f < fabrics_; ++f) {
            const int gained = std::max(0, more[at(f)] - used_[at(f)]);
            sum += gained * gained;
        }
        return sum;
    }

    /// Plain squares: 1/d^2 over pairs of one fabric and over pairs of stand-ins, and 1/50 for each
    /// CIEDE2000.
    double crowding(const Assignment& top) const {
        double sum = strangeness(top) / 50;
        for (int a = 0; a < brief_.cells(); ++a)
            for (int b = 0; b < a; ++b) {
                const int down = a / brief_.columns - b / brief_.columns,
                          across = a % brief_.columns - b % brief_.columns;
                const int pairs =
                    (top.patches[at(a)] == top.patches[at(b)] && !brief_.exempt[at(shown(top, a))]) +
                    (stands_in(top, a) && stands_in(top, b));
                sum += pairs / static_cast<double>(down * down + across * across);
            }
        return sum;
    }

private:
    static int shown(const Assignment& top, int patch) {
        return static_cast<int>(layout::index(top.patches[at(patch)]));
    }

    bool stands_in(const Assignment& top, int patch) const {
        const int old = shown(worn_.assignment, patch);
        return shown(top, patch) != old && is_short(patch % places_, old);
    }

    void measure(int place) {
        std::vector<int> here(at(fabrics_));
        for (int p = place; p < brief_.patches(); p += places_) ++here[at(shown(worn_.assignment, p))];
        const auto room = [&](int g) {
            int most = brief_.counts[at(g)].most;
            if (!worn_.liked.empty()) most = std::min(most, worn_.liked[at(g)].most);
            return used_[at(g)] < most && here[at(g)] < brief_.role_counts[at(place)][at(g)].most;
        };
        for (int f = 0; f < fabrics_; ++f) {
            const bool lacking = used_[at(f)] > brief_.counts[at(f)].most ||
                                 here[at(f)] > brief_.role_counts[at(place)][at(f)].most;
            short_.push_back(lacking);
            std::vector<int> others;
            for (int g = 0; g < fabrics_; ++g)
                if (g != f && brief_.counts[at(g)].most > 0 && brief_.role_counts[at(place)][at(g)].most > 0)
                    others.push_back(g);
            if (std::any_of(others.begin(), others.end(), room))
                std::erase_if(others, [&](int g) { return !room(g); });
            const auto nearest = std::min_element(others.begin(), others.end(),
                                                  [&](int g, int h) { return far(f, g) < far(f, h); });
            for (int g = 0; g < fabrics_; ++g) {
                double odd = far(f, g);
                if (lacking && g != f && nearest != others.end())
                    odd = std::max({0.0, odd - far(f, *nearest) - mend::near_colour,
                                    lighter(f, g) - lighter(f, *nearest) - mend::near_value});
                odd_.push_back(odd);
            }
        }
    }

    double lighter(int f, int g) const { return std::abs(brief_.labs[at(f)].l - brief_.labs[at(g)].l); }

    const Brief& brief_;
    const mend::Worn& worn_;
    int places_, fabrics_;
    std::vector<int> used_;
    std::vector<double> far_, odd_;
    std::vector<char> short_;
};

} // namespace motley::tests
