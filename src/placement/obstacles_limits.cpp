// Every bound is a packing argument: cells are cut into blocks that may hold a fabric once at most, so the
// number of blocks bounds its uses.

#include "placement/obstacles_limits.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace motley::placement {

namespace {

using layout::Brief;
using layout::Touching;

int blocks(int size, int block) {
    return (size + block - 1) / block;
}

std::string names(const Brief& brief, const std::vector<std::size_t>& fabrics) {
    std::string out;
    for (std::size_t i = 0; i < fabrics.size(); ++i) {
        if (i > 0) out += i + 1 == fabrics.size() ? " and " : ", ";
        out += brief.names[fabrics[i]];
    }
    return out;
}

/// The limits below are about units that may not both carry a fabric. With a single patch to a unit that is
/// what the touching rule says; with several it says so only for `apart` and `line`, and for touching where
/// every contact of units is one of all their patches.
class Limits {
public:
    explicit Limits(const Brief& brief)
        : brief_(brief), rules_(brief.rules), single_(brief.patches_per_unit() == 1) {
        for (std::size_t f = 0; f < brief.names.size(); ++f)
            if (!brief.exempt[f] && least_units(f) > 0) asked_.push_back(f);
        std::stable_sort(asked_.begin(), asked_.end(),
                         [&](std::size_t f, std::size_t g) { return least_units(f) > least_units(g); });
    }

    std::vector<Problem> look() {
        one_fabric();
        if (found_.empty()) several_fabrics(); // Else it would only say again what one of them breaks alone.
        kinds();
        contrast();
        return std::move(found_);
    }

private:
    /// Fewest different units that show a fabric.
    int least_units(std::size_t f) const {
        const int places = brief_.patches_per_unit();
        int least = brief_.counts[f].least;
        int by_role = 0;
        for (int p = 0; p < places; ++p) by_role += brief_.role_counts[static_cast<std::size_t>(p)][f].least;
        return blocks(std::max(least, by_role), places);
    }

    /// Bricks meet six others, not eight: what holds for 2 x 2 blocks of a straight setting does not for
    /// them.
    bool corner() const {
        return !brief_.board.bricks() &&
               (rules_.apart >= 2 || (single_ && rules_.touching == Touching::corner));
    }
    bool edge() const { return single_ && rules_.touching == Touching::edge; }

    void add(const std::string& rule, const std::vector<std::size_t>& fabrics, int asked, int most) {
        found_.push_back(
            {"",
             fmt::format(
                 "impossible: {} {} asked for {} times, but with {} at most {} fit on {} across and {} down",
                 names(brief_, fabrics), fabrics.size() == 1 ? "is" : "are", asked, rule, most,
                 brief_.columns, brief_.rows),
             fmt::format("ask for {} at most {} times", fabrics.size() == 1 ? "it" : "them together", most)});
    }

    void one_fabric() {
        const int m = brief_.rows, n = brief_.columns;
        for (const std::size_t f : asked_) {
            const int asked = least_units(f);
            if (rules_.line && asked > std::min(m, n)) add("\"line\": true", {f}, asked, std::min(m, n));
            const int d = brief_.board.bricks() ? 1 : std::max(rules_.apart, corner() ? 2 : 1);
            if (d >= 2 && asked > blocks(m, d) * blocks(n, d))
                add(rules_.apart >= 2 ? fmt::format("\"apart\": {}", rules_.apart)
                                      : std::string("\"touching\": \"corner\""),
                    {f}, asked, blocks(m, d) * blocks(n, d));
            if (edge() && asked > (m * n + 1) / 2) add("\"touching\": \"edge\"", {f}, asked, (m * n + 1) / 2);
        }
    }

    /// Two and three fabrics under the corner rule: every 2 x 2 block shows four different ones.
    void several_fabrics() {
        if (!corner() || !single_) return;
        const int m = brief_.rows, n = brief_.columns;
        const int limits[] = {std::max(blocks(m, 2) * n, m * blocks(n, 2)), m * n - m / 2 * (n / 2)};
        for (std::size_t count = 2; count <= 3 && count <= asked_.size(); ++count) {
            const std::vector<std::size_t> most_used(asked_.begin(),
                                                     asked_.begin() + static_cast<std::ptrdiff_t>(count));
            int asked = 0;
            for (const std::size_t f : most_used) asked += least_units(f);
            if (asked > limits[count - 2]) {
                add("no two of a fabric touching, not even at corners,", most_used, asked, limits[count - 2]);
                return;
            }
        }
    }

    /// A full d x d block shows d^2 different fabrics; a full row or column as many as it has units.
    void kinds() {
        int usable = 0;
        for (std::size_t f = 0; f < brief_.names.size(); ++f) {
            int most = 0;
            for (const auto& role : brief_.role_counts) most += role[f].most;
            if (std::min(most, brief_.counts[f].most) == 0) continue;
            if (brief_.exempt[f]) return; // A background fills any block.
            ++usable;
        }
        if (!single_) return; // Several patches to a unit show several fabrics; nothing so simple holds.
        const int d = corner() ? std::max(rules_.apart, 2) : 1;
        const int in_block = std::min(d, brief_.rows) * std::min(d, brief_.columns);
        if (usable < in_block) {
            const std::string rule = rules_.apart >= 2 ? fmt::format("\"apart\": {}", rules_.apart)
                                                       : std::string("\"touching\": \"corner\"");
            found_.push_back(
                {"",
                 fmt::format("impossible: with {} every block of {} x {} units shows {} different fabrics, "
                             "and there are {}",
                             rule, std::min(d, brief_.columns), std::min(d, brief_.rows), in_block, usable),
                 fmt::format("at least {} more fabric{} needed, or a looser rule", in_block - usable,
                             in_block - usable == 1 ? " is" : "s are")});
        }
        const int longest = std::max(brief_.rows, brief_.columns);
        if (rules_.line && usable < longest)
            found_.push_back({"",
                              fmt::format("impossible: with \"line\": true a line of {} units shows {} "
                                          "different fabrics, and there are {}",
                                          longest, longest, usable),
                              fmt::format("at least {} more fabric{} needed, or no line rule",
                                          longest - usable, longest - usable == 1 ? " is" : "s are")});
        if (usable < 2 && brief_.cells() > 1 && edge())
            found_.push_back({"", "impossible: with one fabric alone neighbours always match",
                              "at least one more fabric is needed, or \"touching\": \"free\""});
    }

    /// A fabric that must be used needs a partner for every other role.
    void contrast() {
        if (rules_.contrast <= 0 || single_) return;
        const int places = brief_.patches_per_unit();
        for (int p = 0; p < places; ++p)
            for (std::size_t f = 0; f < brief_.names.size(); ++f) {
                if (brief_.role_counts[static_cast<std::size_t>(p)][f].least == 0) continue;
                for (int q = 0; q < places; ++q) {
                    if (q == p) continue;
                    double furthest = 0;
                    for (std::size_t g = 0; g < brief_.names.size(); ++g)
                        if (brief_.role_counts[static_cast<std::size_t>(q)][g].most > 0)
                            furthest = std::max(furthest, std::abs(brief_.labs[f].l - brief_.labs[g].l));
                    if (furthest < rules_.contrast) {
                        found_.push_back(
                            {"",
                             fmt::format("impossible: {} as {} needs a {} at least {} L* lighter or darker; "
                                         "the furthest there is {:.1f} away",
                                         brief_.names[f], brief_.role(p), brief_.role(q), rules_.contrast,
                                         furthest),
                             fmt::format("rules.contrast can be {} at most while {} is used",
                                         std::floor(furthest), brief_.names[f])});
                        break;
                    }
                }
            }
    }

    const Brief& brief_;
    const layout::Rules& rules_;
    bool single_;
    std::vector<std::size_t> asked_; ///< Fabrics that must be used, most first.
    std::vector<Problem> found_;
};

} // namespace

std::vector<Problem> limits(const Brief& brief) {
    return Limits(brief).look();
}

} // namespace motley::placement
