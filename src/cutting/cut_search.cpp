#include "cutting/cut_search.h"

#include <algorithm>
#include <array>
#include <limits>
#include <numeric>
#include <tuple>
#include <utility>

#include "cutting/cut_beam.h"
#include "cutting/cut_dive.h"
#include "cutting/cut_shelves.h"
#include "cutting/cut_shuffle.h"
#include "fault/fault.h"

namespace motley::cutting {

namespace {

/// What a first plan may cost.
constexpr std::int64_t quick_work = 60'000'000;
/// What is left to mend after chance may cost so much.
constexpr std::int64_t mending_work = 40'000'000;

std::size_t segments(const RowPlan& plan) {
    std::size_t sum = 0;
    for (const RowTimes& one : plan.rows)
        sum += one.row.segments.size() * static_cast<std::size_t>(one.times);
    return sum;
}

/// Strips that are cut alike: same height, same widths.
std::size_t different(const RowPlan& plan) {
    std::vector<std::vector<int>> looks;
    for (const RowTimes& one : plan.rows) {
        std::vector<int> look;
        for (const RowSegment& segment : one.row.segments) look.push_back(segment.width);
        std::sort(look.begin(), look.end());
        look.push_back(one.row.height);
        looks.push_back(std::move(look));
    }
    std::sort(looks.begin(), looks.end());
    return static_cast<std::size_t>(std::unique(looks.begin(), looks.end()) - looks.begin());
}

/// Values that tempt large pieces in early (or late): the price, and so many percent more for the tallest.
std::vector<std::int64_t> tilted(const Frame& frame, const std::vector<std::int64_t>& prices, int percent) {
    std::vector<std::int64_t> height(prices.size(), 0);
    for (const Lie& lie : frame.lies) {
        std::int64_t& least = height[static_cast<std::size_t>(lie.kind)];
        const std::int64_t side = std::min<std::int64_t>(lie.ticks_wide, lie.ticks_high);
        least = std::max(least, side);
    }
    const std::int64_t tallest = std::max<std::int64_t>(1, *std::max_element(height.begin(), height.end()));
    std::vector<std::int64_t> values = prices;
    for (std::size_t k = 0; k < values.size(); ++k)
        values[k] += values[k] / 100 * percent * (height[k] * 1000 / tallest) / 1000;
    return values;
}

/// The prices, but never nothing: every piece must be wanted.
std::vector<std::int64_t> wanted(const Prices& prices, const std::vector<std::int64_t>& area) {
    std::vector<std::int64_t> guide = prices.values;
    for (std::size_t k = 0; k < guide.size(); ++k) guide[k] = std::max(guide[k], area[k] / 4 + 1);
    return guide;
}

/// Takes some strips back and plans their pieces anew.
class Mending {
public:
    Mending(const Frame& frame, const std::vector<std::int64_t>& values,
            const std::vector<std::int64_t>& prices, Work& work)
        : frame_(frame), values_(values), prices_(prices), work_(work) {}

    /// Tries sets of `size` strips, wasteful ones first, until `enough` or all are tried. True when it
    /// helped.
    bool improve(RowPlan& plan, std::size_t size, std::int64_t least) {
        bool helped = false;
        for (bool again = true; again && plan.ticks > least && !work_.spent();) {
            again = try_sets(plan, size);
            helped = helped || again;
        }
        return helped;
    }

private:
    bool try_sets(RowPlan& plan, std::size_t size) {
        const std::vector<std::size_t> order = by_waste(plan);
        if (order.size() < size) return false;
        std::vector<std::size_t> chosen(size);
        std::iota(chosen.begin(), chosen.end(), std::size_t{0});
        while (!work_.spent()) {
            std::vector<std::size_t> rows;
            for (const std::size_t at : chosen) rows.push_back(order[at]);
            if (rebuild(plan, rows)) return true;
            std::size_t turn = size; // The next set: positions rising, the last one runs fastest.
            while (turn > 0 && chosen[turn - 1] == order.size() - size + turn - 1) --turn;
            if (turn == 0) return false;
            ++chosen[turn - 1];
            for (std::size_t i = turn; i < size; ++i) chosen[i] = chosen[i - 1] + 1;
        }
        return false;
    }

    /// A row that comes several times is listed twice: two of it may be taken.
    std::vector<std::size_t> by_waste(const RowPlan& plan) const {
        std::vector<std::pair<std::int64_t, std::size_t>> waste;
        for (std::size_t r = 0; r < plan.rows.size(); ++r) {
            const std::vector<int> counts = counted(plan.rows[r].row, frame_, prices_.size());
            std::int64_t lost = plan.rows[r].row.height * value_scale;
            for (std::size_t k = 0; k < counts.size(); ++k) lost -= counts[k] * prices_[k];
            for (int i = 0; i < std::min(plan.rows[r].times, 2); ++i) waste.emplace_back(lost, r);
        }
        std::stable_sort(waste.begin(), waste.end(),
                         [](const auto& a, const auto& b) { return a.first > b.first; });
        if (waste.size() > 16) waste.resize(16);
        std::vector<std::size_t> order;
        for (const auto& [lost, row] : waste) order.push_back(row);
        return order;
    }

    bool rebuild(RowPlan& plan, const std::vector<std::size_t>& rows) {
        std::vector<int> asked(prices_.size(), 0);
        std::int64_t ticks = 0;
        for (const std::size_t r : rows) {
            const std::vector<int> counts = counted(plan.rows[r].row, frame_, prices_.size());
            for (std::size_t k = 0; k < counts.size(); ++k) asked[k] += counts[k];
            ticks += plan.rows[r].row.ticks_high;
        }
        const RowPlan anew = beam_plan(frame_, asked, values_, prices_, {4, 3}, ticks, work_);
        if (anew.rows.empty()) return false;
        for (const std::size_t r : rows) --plan.rows[r].times;
        std::erase_if(plan.rows, [](const RowTimes& row) { return row.times == 0; });
        plan.rows.insert(plan.rows.end(), anew.rows.begin(), anew.rows.end());
        plan.ticks += anew.ticks - ticks;
        return true;
    }

    const Frame& frame_;
    const std::vector<std::int64_t>& values_;
    const std::vector<std::int64_t>& prices_;
    Work& work_;
};

} // namespace

std::vector<Row> one_by_one(const RowPlan& plan) {
    std::vector<Row> rows;
    for (const RowTimes& one : plan.rows)
        rows.insert(rows.end(), static_cast<std::size_t>(one.times), one.row);
    return rows;
}

RowPlan gathered(std::vector<Row> rows) {
    RowPlan plan;
    const auto alike = [](const Row& a, const Row& b) {
        return std::equal(a.segments.begin(), a.segments.end(), b.segments.begin(), b.segments.end(),
                          [](const RowSegment& x, const RowSegment& y) { return x.lies == y.lies; });
    };
    for (Row& row : rows) {
        plan.ticks += row.ticks_high;
        const auto same = std::find_if(plan.rows.begin(), plan.rows.end(),
                                       [&](const RowTimes& one) { return alike(one.row, row); });
        if (same != plan.rows.end())
            ++same->times;
        else
            plan.rows.push_back({std::move(row), 1});
    }
    return plan;
}

bool better(const RowPlan& a, const RowPlan& b) {
    if (a.ticks != b.ticks) return a.ticks < b.ticks;
    const std::size_t looks_a = different(a), looks_b = different(b);
    return looks_a != looks_b ? looks_a < looks_b : segments(a) < segments(b);
}

RowPlan quick_plan(const Frame& frame, const std::vector<int>& asked, const std::vector<std::int64_t>& values,
                   Work& work) {
    RowPlan plain = shelf_plan(frame, asked);
    Work share{std::min(work.left, quick_work)};
    const std::int64_t given = share.left;
    RowPlan plan = beam_plan(frame, asked, values, values, {1, 1}, plain.ticks + 1, share);
    work.spend(given - share.left);
    return plan.rows.empty() || better(plain, plan) ? plain : plan;
}

RowPlan find_plan(const Frame& frame, const std::vector<Kind>& kinds, const Prices& prices, RowPlan start,
                  const Goal& goal, Work& work) {
    std::vector<int> asked;
    for (const Kind& kind : kinds) asked.push_back(kind.count);
    RowPlan best = std::move(start);
    // Where nothing shorter is bought the rest of the search only tidies up.
    const auto settle = [&] {
        if (best.ticks <= goal.enough) work.left = std::min(work.left, work.left / 4);
    };
    const std::vector<std::int64_t> area = area_values(frame, asked.size());
    const std::vector<std::int64_t> guide = wanted(prices, area);
    std::vector<std::int64_t> mixed = guide;
    for (std::size_t k = 0; k < mixed.size(); ++k) mixed[k] = (guide[k] + area[k]) / 2 + 1;
    constexpr std::array<int, 4> tilts{0, 8, 25, 60};
    for (const int nodes : {2, 8}) {
        for (const std::vector<std::int64_t>* base : {&guide, &std::as_const(mixed)})
            for (const int tilt : tilts) {
                if (work.spent() || best.ticks <= goal.least) return best;
                const std::vector<std::int64_t> values = tilted(frame, *base, tilt);
                RowPlan plan = beam_plan(frame, asked, values, *base, {nodes, 3}, best.ticks + 1, work);
                if (!plan.rows.empty() && better(plan, best)) best = std::move(plan);
            }
        settle();
        if (nodes == 2)
            for (const Plunge plunge : {Plunge::largest_share, Plunge::largest_height, Plunge::least_waste}) {
                if (work.spent() || best.ticks <= goal.least) return best;
                RowPlan plan = dive(frame, kinds, prices, plunge, best.ticks, work);
                if (!plan.rows.empty() && better(plan, best)) best = std::move(plan);
            }
        settle();
        for (std::size_t size = 2; size <= 4; ++size)
            for (const int tilt : {0, 25}) {
                const std::vector<std::int64_t> values = tilted(frame, guide, tilt);
                Mending(frame, values, guide, work).improve(best, size, goal.least);
            }
        settle();
    }
    return best;
}

std::int64_t shuffling_work(std::int64_t pieces, std::int64_t ticks, const Goal& goal) {
    constexpr std::int64_t for_few = 20'000; // Times the square of the pieces: as many pairs to try.
    constexpr std::int64_t most_hopeful = 100'000'000, most_tidying = 20'000'000;
    pieces = std::min<std::int64_t>(pieces, 1000);
    return std::min(pieces * pieces * for_few, ticks > goal.enough ? most_hopeful : most_tidying);
}

RowPlan shuffled_plan(const Frame& frame, const Prices& prices, RowPlan plan, const Goal& goal) {
    std::int64_t strips = 0, pieces = 0;
    for (const RowTimes& one : plan.rows) {
        strips += one.times;
        for (const RowSegment& segment : one.row.segments)
            pieces += one.times * static_cast<std::int64_t>(segment.lies.size());
    }
    if (plan.ticks <= goal.least || strips > static_cast<std::int64_t>(most_shuffled)) return plan;
    Work work{shuffling_work(pieces, plan.ticks, goal)};
    const std::size_t kinds = prices.values.size();
    const Load load =
        shuffled(frame, {}, {{}, one_by_one(plan), std::vector<int>(kinds, 0)}, goal.least, work);
    if (load.ticks() >= plan.ticks) return plan;
    return mended(frame, prices, gathered(load.yardage), goal);
}

RowPlan mended(const Frame& frame, const Prices& prices, RowPlan plan, const Goal& goal) {
    const std::vector<std::int64_t> guide = wanted(prices, area_values(frame, prices.values.size()));
    Work work{mending_work};
    for (const std::size_t size : {2U, 3U})
        Mending(frame, guide, guide, work).improve(plan, size, goal.least);
    return gathered(one_by_one(plan));
}

} // namespace motley::cutting
