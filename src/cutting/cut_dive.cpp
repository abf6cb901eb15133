#include "cutting/cut_dive.h"

#include <algorithm>

#include "cutting/cut_beam.h"

namespace motley::cutting {

namespace {

/// What pricing the rest anew may cost each time.
constexpr std::int64_t repricing_work = 20'000'000;

/// So many times does a row fit into what is left, at most `times`.
int fitting(const std::vector<int>& counts, const std::vector<int>& left, int times) {
    for (std::size_t k = 0; k < counts.size(); ++k)
        if (counts[k] > 0) times = std::min(times, left[k] / counts[k]);
    return times;
}

double eagerness(const Prices::Share& share, const std::vector<int>& counts, const Frame& frame,
                 const std::vector<std::int64_t>& area, Plunge plunge) {
    const double part = share.amount - static_cast<double>(static_cast<int>(share.amount));
    if (plunge == Plunge::largest_share) return part;
    if (plunge == Plunge::largest_height) return part * share.row.height / frame.height;
    double used = 0;
    for (std::size_t k = 0; k < counts.size(); ++k)
        used += counts[k] * static_cast<double>(area[k]) / static_cast<double>(value_scale);
    return used / share.row.height;
}

Prices repriced(const Frame& frame, const std::vector<Kind>& rest, std::int64_t known, Work& work) {
    Work share{std::min(work.left, repricing_work)};
    const std::int64_t given = share.left;
    Prices prices = find_prices(frame, {}, rest, known, share);
    work.spend(given - share.left);
    return prices;
}

} // namespace

RowPlan dive(const Frame& frame, const std::vector<Kind>& kinds, const Prices& prices, Plunge plunge,
             std::int64_t limit, Work& work) {
    const std::vector<std::int64_t> area = area_values(frame, kinds.size());
    RowPlan begun, best;
    std::vector<Kind> rest = kinds;
    // Strips priced in sizes rounded down need not fit in those rounded up.
    Prices now = frame.exact ? prices : repriced(frame, kinds, limit, work);
    while (!work.spent()) {
        std::vector<int> left;
        for (const Kind& kind : rest) left.push_back(kind.count);
        bool took = false;
        std::size_t next = now.mix.size();
        double most = -1;
        std::vector<std::vector<int>> counts;
        for (const Prices::Share& share : now.mix) counts.push_back(counted(share.row, frame, rest.size()));
        const auto take = [&](std::size_t c, int times) {
            times = fitting(counts[c], left, times);
            if (times == 0) return;
            took = true;
            for (std::size_t k = 0; k < left.size(); ++k) left[k] -= times * counts[c][k];
            begun.rows.push_back({now.mix[c].row, times});
            begun.ticks += now.mix[c].row.ticks_high * times;
        };
        for (std::size_t c = 0; c < now.mix.size(); ++c) {
            take(c, static_cast<int>(now.mix[c].amount + 1e-6));
            if (fitting(counts[c], left, 1) == 0) continue;
            const double here = eagerness(now.mix[c], counts[c], frame, area, plunge);
            if (here <= most) continue;
            most = here;
            next = c;
        }
        if (!took && next < now.mix.size()) take(next, 1);
        if (!took && !begun.rows.empty()) break;
        for (std::size_t k = 0; k < rest.size(); ++k) rest[k].count = left[k];
        if (begun.ticks >= limit) break;
        const bool nothing = std::all_of(left.begin(), left.end(), [](int count) { return count == 0; });
        std::vector<std::int64_t> values = now.values;
        for (std::size_t k = 0; k < values.size(); ++k) values[k] = std::max(values[k], area[k] / 4 + 1);
        const RowPlan end =
            nothing ? RowPlan{} : beam_plan(frame, left, values, values, {4, 3}, limit - begun.ticks, work);
        if (nothing || !end.rows.empty()) {
            best = begun;
            best.rows.insert(best.rows.end(), end.rows.begin(), end.rows.end());
            best.ticks += end.ticks;
            limit = best.ticks;
        }
        if (nothing || !took) break;
        now = repriced(frame, rest, limit - begun.ticks, work);
    }
    return best;
}

} // namespace motley::cutting
