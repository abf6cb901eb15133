#include "cutting/cut_plan.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <tuple>

#include "cutting/cut_bound.h"
#include "cutting/cut_check.h"
#include "cutting/cut_search.h"
#include "cutting/cut_split.h"
#include "cutting/cut_stock.h"
#include "fault/fault.h"

namespace motley::cutting {

namespace {

using measure::Length;

/// Strips taller than this are looked at only where a piece is.
constexpr std::int64_t tall = 300 * Length::per_inch;
/// Work for the bound, and for the search.
constexpr std::int64_t price_work = 150'000'000;
constexpr std::int64_t search_work = 500'000'000;

Cloth yardage(const CutList& list, const std::vector<Kind>& kinds) {
    const std::int64_t across = list.usable_width.ticks;
    double area = 0;
    std::int64_t tallest = 0;
    for (const Kind& kind : kinds) { // What is wider than the cloth comes from sheets.
        if (kind.width > across && !(kind.turn && kind.height <= across)) continue;
        area += static_cast<double>(kind.width) * static_cast<double>(kind.height) * kind.count;
        if (kind.width <= across) tallest = std::max(tallest, kind.height);
        if (kind.turn && kind.height <= across) tallest = std::max(tallest, kind.width);
    }
    const double length = std::min(area / static_cast<double>(across) * 1.25, static_cast<double>(tall));
    return {across, std::max(tallest, std::min(tall, static_cast<std::int64_t>(length) + 2 * tallest)),
            false};
}

/// Gives the pieces of a kind back to the lines of the list, in the list's order.
class Names {
public:
    Names(const CutList& list, const std::vector<Kind>& kinds) : list_(list), kinds_(kinds) {
        for (const CutListPiece& piece : list.pieces) left_.push_back(piece.count);
    }

    std::vector<Strip> strips(const std::vector<RowTimes>& rows, const Frame& frame, bool along) {
        std::vector<Strip> strips;
        for (const RowTimes& one : ordered(split_low(rows, frame), frame))
            for (int i = 0; i < one.times; ++i) strips.push_back(strip(one.row, frame, along));
        return strips;
    }

private:
    /// Cutting order.
    static std::vector<RowTimes> ordered(std::vector<RowTimes> rows, const Frame& frame) {
        const auto lie = [&](int i) -> const Lie& { return frame.lies[static_cast<std::size_t>(i)]; };
        const auto widest = [&](const RowSegment& segment) {
            std::int64_t width = 0;
            for (const int i : segment.lies) width = std::max(width, lie(i).ticks_wide);
            return width;
        };
        const auto wider = [&](const RowSegment& a, const RowSegment& b) {
            const std::int64_t wide_a = widest(a), wide_b = widest(b);
            return std::tie(wide_b, b.lies) < std::tie(wide_a, a.lies);
        };
        for (RowTimes& one : rows) {
            for (RowSegment& segment : one.row.segments)
                std::sort(segment.lies.begin(), segment.lies.end(), [&](int a, int b) {
                    return std::tie(lie(b).ticks_high, lie(b).ticks_wide, a) <
                           std::tie(lie(a).ticks_high, lie(a).ticks_wide, b);
                });
            std::sort(one.row.segments.begin(), one.row.segments.end(), wider);
        }
        std::stable_sort(rows.begin(), rows.end(), [&](const RowTimes& a, const RowTimes& b) {
            if (a.row.ticks_high != b.row.ticks_high) return a.row.ticks_high > b.row.ticks_high;
            // Of the same height the one with the longer segments, and of a beginning and a whole the whole.
            const auto [at, there] = std::mismatch(
                a.row.segments.begin(), a.row.segments.end(), b.row.segments.begin(), b.row.segments.end(),
                [&](const RowSegment& x, const RowSegment& y) { return !wider(x, y) && !wider(y, x); });
            if (there == b.row.segments.end()) return at != a.row.segments.end();
            return at != a.row.segments.end() && wider(*at, *there);
        });
        return rows;
    }

    Strip strip(const Row& row, const Frame& frame, bool along) {
        Strip strip{{row.ticks_high}, {}};
        for (const RowSegment& from : row.segments) {
            Segment segment;
            for (const int i : from.lies) {
                const Lie& lie = frame.lies[static_cast<std::size_t>(i)];
                segment.pieces.push_back(laid(lie, along));
                segment.width = std::max(segment.width, Length{lie.ticks_wide});
            }
            strip.segments.push_back(std::move(segment));
        }
        return strip;
    }

    LaidPiece laid(const Lie& lie, bool along) {
        for (const int p : kinds_[static_cast<std::size_t>(lie.kind)].pieces) {
            if (left_[static_cast<std::size_t>(p)] == 0) continue;
            --left_[static_cast<std::size_t>(p)];
            const CutListPiece& piece = list_.pieces[static_cast<std::size_t>(p)];
            const bool turned = (along ? piece.height : piece.width).ticks != lie.ticks_wide;
            return {p, {lie.ticks_wide}, {lie.ticks_high}, turned};
        }
        expects(false);
        return {};
    }

    const CutList& list_;
    const std::vector<Kind>& kinds_;
    std::vector<int> left_;
};

double waste_share(const CutPlan& plan, const CutList& list) {
    if (plan.length.ticks == 0) return 0;
    double used = 0;
    for (const Strip& strip : plan.strips)
        for (const Segment& segment : strip.segments)
            for (const LaidPiece& piece : segment.pieces)
                used += static_cast<double>(piece.width.ticks) * static_cast<double>(piece.height.ticks);
    const double whole =
        static_cast<double>(plan.length.ticks) * static_cast<double>(list.usable_width.ticks);
    return std::clamp(1 - used / whole, 0.0, 1.0);
}

/// The kinds with a count of nothing where they do not fit the yardage.
std::vector<Kind> from_yardage(std::vector<Kind> kinds, const Frame& frame) {
    std::vector<char> fits(kinds.size());
    for (const Lie& lie : frame.lies) fits[static_cast<std::size_t>(lie.kind)] = 1;
    for (std::size_t k = 0; k < kinds.size(); ++k)
        if (!fits[k]) kinds[k].count = 0;
    return kinds;
}

/// Pieces wider than the cloth for which the sheets were not enough.
void refuse_left(const CutList& list, const std::vector<Kind>& kinds, const std::vector<int>& left) {
    std::vector<Problem> problems;
    for (std::size_t k = 0; k < left.size(); ++k)
        if (left[k] > 0)
            problems.push_back(
                {list.pieces[static_cast<std::size_t>(kinds[k].pieces.front())].name,
                 fmt::format("{} of {} pieces are wider than the cloth, whose usable width is {}, and no "
                             "place was found for them on the stock",
                             left[k], kinds[k].count, measure::print(list.usable_width, list.measure)),
                 "ask for fewer or smaller ones, add stock, or take wider cloth"});
    if (!problems.empty()) throw Fault(Cause::input, std::move(problems));
}

} // namespace

Length usual_step(measure::System measure) {
    return measure == measure::System::inch ? Length{Length::per_inch * 9 / 2}
                                            : Length{Length::per_millimetre * 100};
}

CutPlan plan_cuts(const CutList& list) {
    check(list);
    const std::vector<Kind> kinds = kinds_of(list.pieces);
    const Length step = list.step.ticks > 0 ? list.step : usual_step(list.measure);
    const Purchase purchase{(list.ends + list.slack).ticks, step.ticks};
    const Cloth cloth = yardage(list, kinds);
    const Frame frame = make_frame(kinds, cloth, list.stages, Rounding::up);
    const Frame below = make_frame(kinds, cloth, list.stages, Rounding::down);
    const std::vector<Kind> cloth_kinds = from_yardage(kinds, frame);
    std::vector<int> asked;
    for (const Kind& kind : cloth_kinds) asked.push_back(kind.count);
    Work work{search_work}, pricing{price_work};
    RowPlan best = quick_plan(frame, asked, area_values(frame, kinds.size()), work);
    const Stock stock(list, kinds);
    const Prices prices = find_prices(below, stock.frames(Rounding::down), cloth_kinds, best.ticks, pricing);
    std::int64_t bound = prices.bound;
    const Goal goal{bound > 0 ? std::max(bound, purchase.as_dear(bound)) : 0, bound};
    Names names(list, kinds);
    CutPlan plan;
    if (list.sheets.empty()) {
        best = find_plan(frame, kinds, prices, std::move(best), goal, work);
        best = shuffled_plan(frame, prices, std::move(best), goal);
        bound = settle(frame, kinds, prices, best, purchase);
    } else {
        StockPlan with = stock.plan(frame, kinds, prices, std::move(best), goal, work);
        refuse_left(list, kinds, with.left);
        for (const SheetRows& one : with.sheets)
            for (int i = 0; i < one.times; ++i)
                plan.sheets.push_back(
                    {one.sheet, one.along, names.strips(one.rows, stock.frame(one), one.along)});
        best = std::move(with.yardage);
        if (purchase.bought(bound) != purchase.bought(best.ticks))
            bound =
                std::max(bound, bound_beside_stock(frame, below, cloth_kinds, stock, best.ticks, purchase));
        if (purchase.bought(bound) != purchase.bought(best.ticks))
            bound = std::max(bound, area_beside_stock(kinds, stock, cloth.across));
    }
    plan.strips = names.strips(best.rows, frame, false);
    if (best.ticks > 0) plan.length = Length{best.ticks} + list.ends;
    if (bound > 0) plan.bound = Length{bound} + list.ends;
    plan.buy = Length{purchase.bought(best.ticks)};
    plan.proved = plan.buy.ticks == purchase.bought(bound);
    plan.waste_share = waste_share(plan, list);
    return plan;
}

} // namespace motley::cutting
