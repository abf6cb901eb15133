#include "cutting/cut_stock.h"

#include <algorithm>
#include <limits>
#include <numeric>
#include <optional>

#include "cutting/cut_sheet.h"
#include "cutting/cut_shuffle.h"

namespace motley::cutting {

namespace {

/// What filling all sheets once may cost; sheets not reached by then stay whole.
constexpr std::int64_t filling_work = 250'000'000;

} // namespace

Stock::Stock(const CutList& list, const std::vector<Kind>& kinds) {
    for (const Sheet& sheet : list.sheets) {
        SheetFrames up{sheet.count, {}}, down{sheet.count, {}};
        std::vector<bool> ways;
        for (const bool along : {false, true}) {
            const Cloth cloth = along ? Cloth{sheet.length.ticks, sheet.width.ticks, true}
                                      : Cloth{sheet.width.ticks, sheet.length.ticks, false};
            Frame frame = make_frame(kinds, cloth, list.stages, Rounding::up);
            if (!frame.lies.empty()) {
                ways.push_back(along);
                up.frames.push_back(std::move(frame));
            }
            Frame below = make_frame(kinds, cloth, list.stages, Rounding::down);
            if (!below.lies.empty()) down.frames.push_back(std::move(below));
        }
        up_.push_back(std::move(up));
        down_.push_back(std::move(down));
        along_.push_back(std::move(ways));
        areas_.push_back(sheet.width.in_inches() * sheet.length.in_inches());
    }
}

namespace {

bool nothing(const std::vector<int>& left) {
    return std::all_of(left.begin(), left.end(), [](int count) { return count == 0; });
}

std::vector<Kind> rest(std::vector<Kind> kinds, const std::vector<int>& left) {
    for (std::size_t k = 0; k < kinds.size(); ++k) kinds[k].count = left[k];
    return kinds;
}

std::vector<int> counted(const std::vector<Row>& rows, const Frame& frame, std::size_t kinds) {
    std::vector<int> counts(kinds);
    for (const Row& row : rows) {
        const std::vector<int> more = counted(row, frame, kinds);
        for (std::size_t k = 0; k < kinds; ++k) counts[k] += more[k];
    }
    return counts;
}

} // namespace

StockPlan Stock::filled(const std::vector<int>& asked, const std::vector<std::int64_t>& values,
                        const std::vector<std::size_t>& order, std::vector<int>& left, Work& work) const {
    StockPlan plan;
    left = asked;
    for (const std::size_t s : order) {
        for (int copies = up_[s].count; copies > 0 && !nothing(left) && !work.spent();) {
            std::vector<Row> best;
            std::vector<int> best_counts;
            std::int64_t most = 0;
            std::size_t best_frame = 0;
            for (std::size_t f = 0; f < up_[s].frames.size(); ++f) {
                std::vector<Row> rows = fill_sheet(up_[s].frames[f], values, left, work);
                std::vector<int> counts = counted(rows, up_[s].frames[f], left.size());
                std::int64_t value = 0;
                for (std::size_t k = 0; k < left.size(); ++k) value += counts[k] * values[k];
                if (value <= most) continue;
                most = value;
                best = std::move(rows);
                best_counts = std::move(counts);
                best_frame = f;
            }
            if (most == 0) break;
            int times = copies;
            for (std::size_t k = 0; k < left.size(); ++k)
                if (best_counts[k] > 0) times = std::min(times, left[k] / best_counts[k]);
            for (std::size_t k = 0; k < left.size(); ++k) left[k] -= times * best_counts[k];
            copies -= times;
            SheetRows one{
                static_cast<int>(s), static_cast<int>(best_frame), along_[s][best_frame], times, {}};
            for (Row& row : best) one.rows.push_back({std::move(row), 1});
            plan.sheets.push_back(std::move(one));
        }
    }
    std::stable_sort(plan.sheets.begin(), plan.sheets.end(),
                     [](const SheetRows& a, const SheetRows& b) { return a.sheet < b.sheet; });
    return plan;
}

std::vector<Kind> Stock::not_given(std::vector<Kind> kinds, Work& work) const {
    std::vector<int> asked;
    for (const Kind& kind : kinds) asked.push_back(kind.count);
    for (std::size_t k = 0; k < kinds.size(); ++k) {
        if (work.spent()) { // Nothing is claimed of what was not looked at.
            kinds[k].count = 0;
            continue;
        }
        std::vector<std::int64_t> values(kinds.size());
        values[k] = 1;
        std::int64_t given = 0;
        for (const SheetFrames& sheet : down_) {
            std::int64_t most = 0;
            for (const Frame& frame : sheet.frames)
                most = std::max(most, most_of_sheet(frame, values, asked, work));
            given += most * sheet.count;
        }
        kinds[k].count = static_cast<int>(std::max<std::int64_t>(0, asked[k] - given));
    }
    return kinds;
}

namespace {

/// Which kinds fit the yardage.
std::vector<bool> on_yardage(const Frame& yardage, std::size_t kinds) {
    std::vector<bool> fits(kinds, false);
    for (const Lie& lie : yardage.lies) fits[static_cast<std::size_t>(lie.kind)] = true;
    return fits;
}

/// The part of `left` that fits the yardage, or the part that fits sheets alone.
std::vector<int> only(std::vector<int> left, const std::vector<bool>& fits, bool from_yardage) {
    for (std::size_t k = 0; k < left.size(); ++k)
        if (fits[k] != from_yardage) left[k] = 0;
    return left;
}

/// By area, but what fits the sheets alone is worth far more.
std::vector<std::int64_t> stock_values(const Frame& yardage, const std::vector<Kind>& kinds,
                                       const std::vector<bool>& fits) {
    constexpr double far_more = 50;
    std::vector<std::int64_t> area = area_values(yardage, kinds.size());
    for (std::size_t k = 0; k < kinds.size(); ++k)
        if (!fits[k])
            area[k] = static_cast<std::int64_t>(
                far_more * static_cast<double>(value_scale) * static_cast<double>(kinds[k].width) *
                static_cast<double>(kinds[k].height) / static_cast<double>(yardage.ticks_wide) /
                static_cast<double>(yardage.unit_high));
    return area;
}

int count_of(const std::vector<int>& left) {
    return std::accumulate(left.begin(), left.end(), 0);
}

bool same_cuts(const LoadedSheet& a, const LoadedSheet& b) {
    if (a.sheet != b.sheet || a.frame != b.frame || a.rows.size() != b.rows.size()) return false;
    for (std::size_t r = 0; r < a.rows.size(); ++r) {
        const auto& x = a.rows[r].segments;
        const auto& y = b.rows[r].segments;
        if (!std::equal(x.begin(), x.end(), y.begin(), y.end(),
                        [](const RowSegment& s, const RowSegment& t) { return s.lies == t.lies; }))
            return false;
    }
    return true;
}

} // namespace

void Stock::shuffle(StockPlan& plan, std::int64_t pieces, const Frame& yardage, const Prices& prices,
                    const Goal& goal) const {
    Load load{{}, one_by_one(plan.yardage), plan.left};
    std::vector<int> unused;
    std::size_t copies = load.yardage.size();
    for (const SheetFrames& sheet : up_) {
        unused.push_back(sheet.frames.empty() ? 0 : sheet.count);
        copies += static_cast<std::size_t>(unused.back());
    }
    if (copies > most_shuffled) return;
    for (const SheetRows& one : plan.sheets) {
        std::vector<Row> rows;
        for (const RowTimes& row : one.rows)
            rows.insert(rows.end(), static_cast<std::size_t>(row.times), row.row);
        load.sheets.insert(load.sheets.end(), static_cast<std::size_t>(one.times),
                           {one.sheet, one.frame, rows});
        unused[static_cast<std::size_t>(one.sheet)] -= one.times;
    }
    for (std::size_t s = 0; s < unused.size(); ++s)
        load.sheets.insert(load.sheets.end(), static_cast<std::size_t>(unused[s]),
                           {static_cast<int>(s), 0, {}});
    const bool stuck = !nothing(plan.left);
    Work work{
        shuffling_work(pieces, stuck ? std::numeric_limits<std::int64_t>::max() : plan.yardage.ticks, goal)};
    load = shuffled(yardage, up_, std::move(load), goal.least, work);
    if (!stuck && load.ticks() >= plan.yardage.ticks) return;
    plan.sheets.clear();
    std::stable_sort(load.sheets.begin(), load.sheets.end(),
                     [](const LoadedSheet& a, const LoadedSheet& b) { return a.sheet < b.sheet; });
    const LoadedSheet* before = nullptr;
    for (const LoadedSheet& one : load.sheets) {
        if (one.rows.empty()) continue;
        if (before && same_cuts(*before, one)) {
            ++plan.sheets.back().times;
            continue;
        }
        before = &one;
        plan.sheets.push_back(
            {one.sheet, one.frame,
             along_[static_cast<std::size_t>(one.sheet)][static_cast<std::size_t>(one.frame)], 1,
             gathered(one.rows).rows});
    }
    plan.yardage = mended(yardage, prices, gathered(load.yardage), goal);
    plan.left = std::move(load.left);
}

StockPlan Stock::plan(const Frame& yardage, const std::vector<Kind>& kinds, const Prices& prices,
                      RowPlan start, const Goal& goal, Work& work) const {
    StockPlan plan = chosen(yardage, kinds, prices, std::move(start), goal, work);
    std::int64_t pieces = 0;
    for (const Kind& kind : kinds) pieces += kind.count;
    if (!nothing(plan.left) || plan.yardage.ticks > goal.least) shuffle(plan, pieces, yardage, prices, goal);
    return plan;
}

StockPlan Stock::chosen(const Frame& yardage, const std::vector<Kind>& kinds, const Prices& prices,
                        RowPlan start, const Goal& goal, Work& work) const {
    std::vector<int> asked;
    for (const Kind& kind : kinds) asked.push_back(kind.count);
    const std::vector<bool> fits = on_yardage(yardage, asked.size());
    const std::vector<std::int64_t> area = stock_values(yardage, kinds, fits);
    std::vector<std::int64_t> priced = prices.values, mixed = prices.values;
    for (std::size_t k = 0; k < area.size(); ++k) {
        priced[k] = std::max(priced[k], area[k] / 4 + 1);
        mixed[k] = (priced[k] + area[k]) / 2 + 1;
    }
    std::vector<std::size_t> large_first(up_.size());
    std::iota(large_first.begin(), large_first.end(), std::size_t{0});
    std::stable_sort(large_first.begin(), large_first.end(),
                     [&](std::size_t a, std::size_t b) { return areas_[a] > areas_[b]; });
    std::vector<std::size_t> small_first(large_first.rbegin(), large_first.rend());

    struct Try {
        StockPlan plan;
        std::vector<int> left; ///< For the yardage.
        int stuck = 0;
    };
    std::vector<Try> tries;
    const auto add = [&](StockPlan plan, std::vector<int> left) {
        plan.left = only(left, fits, false);
        const int stuck = count_of(plan.left);
        tries.push_back({std::move(plan), only(std::move(left), fits, true), stuck});
    };
    add({{}, std::move(start), {}}, asked);
    for (const std::vector<std::int64_t>& values : {priced, mixed, area})
        for (const std::vector<std::size_t>& order : {small_first, large_first}) {
            std::vector<int> left;
            Work share{std::min(work.left, filling_work)};
            const std::int64_t given = share.left;
            StockPlan plan = filled(asked, values, order, left, share);
            add(std::move(plan), std::move(left));
            work.spend(given - share.left);
            Try& one = tries.back();
            if (!nothing(one.left)) one.plan.yardage = quick_plan(yardage, one.left, area, work);
        }
    // The better ones get the more thorough search; of equals the one that cuts fewer sheets.
    std::stable_sort(tries.begin(), tries.end(), [](const Try& a, const Try& b) {
        if (a.stuck != b.stuck) return a.stuck < b.stuck;
        return a.plan.yardage.ticks != b.plan.yardage.ticks ? a.plan.yardage.ticks < b.plan.yardage.ticks
                                                            : a.plan.sheets.size() < b.plan.sheets.size();
    });
    std::optional<StockPlan> best;
    const int stuck = tries.front().stuck;
    for (std::size_t t = 0; t < std::min<std::size_t>(tries.size(), 3) && tries[t].stuck == stuck; ++t) {
        if (best && best->yardage.ticks <= goal.least) break;
        Work share{work.left / 2};
        const std::int64_t given = share.left;
        if (tries[t].plan.yardage.ticks > 0)
            tries[t].plan.yardage = find_plan(yardage, rest(kinds, tries[t].left), prices,
                                              std::move(tries[t].plan.yardage), goal, share);
        work.spend(given - share.left);
        if (!best || tries[t].plan.yardage.ticks < best->yardage.ticks) best = std::move(tries[t].plan);
    }
    return *best;
}

} // namespace motley::cutting
