#include "placement/bound.h"

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <functional>

#include "layout/score.h"
#include "placement/bound_handful.h"
#include "placement/bound_kernel.h"
#include "placement/bound_waves.h"

namespace motley::placement {

namespace {

Gaps gaps_of(const layout::Brief& brief) {
    Gaps gaps{brief.columns, brief.rows, {}, {}};
    const layout::Rules& rules = brief.rules;
    const int touching = rules.touching == layout::Touching::corner ? 2
                         : rules.touching == layout::Touching::edge ? 1
                                                                    : 0; // Square of the distance, at most.
    for (int r = 0; r < brief.rows; ++r)
        for (int c = 0; c < brief.columns; ++c) {
            const int square = r * r + c * c;
            gaps.pull.push_back(square == 0 ? 0 : 1.0 / square);
            gaps.barred.push_back(square > 0 && (square <= touching || std::max(r, c) < rules.apart ||
                                                 (rules.line && (r == 0 || c == 0))));
        }
    return gaps;
}

/// `uses` falling. Fabrics go together that are used about as often as the first of them.
std::vector<Group> grouped(const std::vector<int>& uses) {
    constexpr std::size_t most_groups = 4;
    std::vector<Group> groups;
    for (double alike = 0.8;; alike *= 0.75) {
        groups.clear();
        for (const int n : uses) {
            if (groups.empty() || (n < groups.back().most * alike && n < groups.back().most - 1))
                groups.push_back({.most = n});
            Group& group = groups.back();
            ++group.fabrics;
            group.cells += n;
            group.uses.push_back(n);
            group.squares += static_cast<double>(n) * n;
        }
        if (groups.size() <= most_groups) return groups;
    }
}

/// Small tops get a kernel for every pair of cells, large ones waves.
std::vector<Prices> price_all(const Gaps& gaps, const std::vector<Group>& groups) {
    constexpr std::int64_t work = 3'000'000'000; // Pairs times modes times rounds; some 0.2 s.
    constexpr std::int64_t fewest_rounds = 28;
    // Where `sharpen` reaches the end it closes what 170 rounds more would, but for 0.15 %.
    constexpr int few_cells = 200;
    const bool sharpened = gaps.cells() <= few_cells && groups.front().most <= most_sharpened_uses;
    const std::int64_t most_rounds = sharpened ? 30 : 200;
    constexpr int wave_rounds = 300, modes = 128;
    const std::int64_t searches = std::max<std::int64_t>(
        1, std::count_if(groups.begin(), groups.end(), [](const Group& group) { return group.fabrics > 0; }));
    const std::int64_t round =
        std::int64_t{gaps.cells()} * gaps.cells() * std::min(modes, gaps.cells()) * searches;
    if (work / round >= fewest_rounds)
        return kernel_prices(gaps, groups, static_cast<int>(std::min(work / round, most_rounds)));
    std::vector<Prices> all;
    for (const Group& group : groups)
        all.push_back(group.fabrics > 0
                          ? wave_prices(gaps, group, wave_rounds)
                          : Prices{std::vector<double>(static_cast<std::size_t>(gaps.cells())), 0});
    return all;
}

/// A floor under the sum of 1/d^2 for fabrics used so often (falling, none below 2); the other cells show
/// fabrics that do not count.
double pull_floor(const Gaps& gaps, const std::vector<int>& uses) {
    std::vector<Group> groups = grouped(uses);
    int rest = gaps.cells();
    for (const Group& group : groups) rest -= group.cells;
    if (rest > 0) groups.push_back({.cells = rest});
    std::vector<Prices> prices = price_all(gaps, groups);
    for (std::size_t g = 0; g < groups.size(); ++g)
        sharpen(gaps, groups[g].uses, groups.size() == 1, prices[g]);
    return least_cover(prices, groups);
}

} // namespace

std::optional<double> spread_bound(const layout::Brief& brief, const layout::Assignment& counted) {
    if (brief.patches_per_unit() != 1 || brief.kit) return std::nullopt;
    if (!brief.board.full() || brief.board.bricks()) return std::nullopt;
    std::vector<int> uses(brief.names.size());
    for (const layout::FabricId f : counted.patches) ++uses[layout::index(f)];
    for (std::size_t f = 0; f < uses.size(); ++f)
        if (brief.exempt[f]) uses[f] = 0;
    std::erase_if(uses, [](int n) { return n < 2; });
    if (uses.empty()) return std::nullopt;
    std::sort(uses.begin(), uses.end(), std::greater<>());
    const double expected = layout::sums(brief, counted).spread.expected;
    if (!(expected > 1e-12)) return std::nullopt;
    constexpr double rounding = 1e-9;
    const double ratio = pull_floor(gaps_of(brief), uses) / expected * (1 - rounding);
    const double printed = std::floor(ratio * 1e6) / 1e6;
    if (!(printed > 0)) return std::nullopt;
    return printed;
}

} // namespace motley::placement
