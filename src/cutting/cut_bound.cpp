#include "cutting/cut_bound.h"

#include <algorithm>
#include <cmath>

#include "cutting/cut_exhaust.h"
#include "cutting/guillotine.h"

namespace motley::cutting {

namespace {

/// Work for proving that nothing less can be bought, and that nothing is shorter.
constexpr std::int64_t proof_work = 200'000'000;
constexpr std::int64_t polish_work = 10'000'000;
constexpr std::int64_t stock_work = 60'000'000;

std::vector<int> counts_of(const std::vector<Kind>& kinds) {
    std::vector<int> counts;
    for (const Kind& kind : kinds) counts.push_back(kind.count);
    return counts;
}

} // namespace

std::int64_t settle(const Frame& frame, const std::vector<Kind>& kinds, const Prices& prices, RowPlan& best,
                    const Purchase& purchase) {
    std::int64_t bound = prices.bound;
    if (!frame.exact) return bound;
    const std::vector<int> asked = counts_of(kinds);
    Work work{proof_work};
    for (bool more = true; more && bound < best.ticks;) {
        const std::int64_t less = purchase.cheaper(best.ticks);
        const bool to_buy = less >= bound;
        if (!to_buy) work.left = std::min(work.left, polish_work);
        const std::int64_t most = to_buy ? less : best.ticks - frame.unit_high;
        Exhausted answer = exhaust(frame, asked, prices, most, work);
        more = answer.verdict != Verdict::unknown;
        if (answer.verdict == Verdict::found) best = std::move(answer.plan);
        // Lengths are sums of heights, so the next one is a unit on.
        if (answer.verdict == Verdict::none)
            bound = std::min(best.ticks, (most / frame.unit_high + 1) * frame.unit_high);
    }
    return bound;
}

std::int64_t bound_beside_stock(const Frame& frame, const Frame& below, const std::vector<Kind>& kinds,
                                const Stock& stock, std::int64_t best, const Purchase& purchase) {
    Work work{stock_work};
    const std::vector<Kind> rest = stock.not_given(kinds, work);
    if (std::all_of(rest.begin(), rest.end(), [](const Kind& kind) { return kind.count == 0; })) return 0;
    const Prices prices = find_prices(below, {}, rest, best, work);
    const std::int64_t less = purchase.cheaper(best);
    if (!frame.exact || less < prices.bound) return prices.bound;
    if (exhaust(frame, counts_of(rest), prices, less, work).verdict != Verdict::none) return prices.bound;
    return std::min(best, (less / frame.unit_high + 1) * frame.unit_high);
}

namespace {

/// Square ticks that pieces can cover of one sheet: by the best guillotine cut, copies without limit; where
/// that would take long, all of it.
double most_covered(const Frame& sheet) {
    constexpr std::int64_t much = 100'000; // Units squared: some ten million steps.
    // Rounded down, very small pieces have no size and are not among the lies.
    if (!sheet.exact || std::int64_t{sheet.width} * sheet.height > much)
        return static_cast<double>(sheet.ticks_wide) * static_cast<double>(sheet.ticks_high);
    std::vector<GuillotinePiece> pieces;
    for (const Lie& lie : sheet.lies)
        pieces.push_back({lie.width, lie.height, lie.ticks_wide * lie.ticks_high, 0});
    return static_cast<double>(guillotine_cut(sheet.width, sheet.height, pieces).bound);
}

} // namespace

std::int64_t area_beside_stock(const std::vector<Kind>& kinds, const Stock& stock, std::int64_t across) {
    double left = 0;
    for (const Kind& kind : kinds)
        left += static_cast<double>(kind.width) * static_cast<double>(kind.height) * kind.count;
    for (const SheetFrames& sheet : stock.frames(Rounding::down))
        if (!sheet.frames.empty()) left -= most_covered(sheet.frames.front()) * sheet.count;
    constexpr double safe = 1 - 1e-9; // Sums of doubles, rounded.
    return left <= 0 ? 0 : static_cast<std::int64_t>(std::floor(left / static_cast<double>(across) * safe));
}

} // namespace motley::cutting
