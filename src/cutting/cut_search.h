#pragma once
/// The search for a short plan: strips chosen one after the other on a beam, guided by the prices of pieces,
/// then some strips at a time taken back and planned anew. Private to this folder. Nothing is left to chance.

#include <cstdint>
#include <vector>

#include "cutting/cut_prices.h"

namespace motley::cutting {

/// Equal strips.
struct RowTimes {
    Row row;
    int times = 1;
};

struct RowPlan {
    std::vector<RowTimes> rows;
    std::int64_t ticks = 0; ///< Of all strips.
};

/// Strips one by one, and gathered again.
std::vector<Row> one_by_one(const RowPlan& plan);
RowPlan gathered(std::vector<Row> rows);

/// Which of two plans for the same pieces is better: shorter, then fewer different strips, then fewer
/// segments.
bool better(const RowPlan& a, const RowPlan& b);

/// One strip after the other, always the one worth most for its height. Complete, and quick.
RowPlan quick_plan(const Frame& frame, const std::vector<int>& asked, const std::vector<std::int64_t>& values,
                   Work& work);

/// What a plan is good for: at `enough` ticks nothing shorter is bought, at `least` nothing shorter exists.
struct Goal {
    std::int64_t enough = 0, least = 0;
};

/// The best plan found for what is asked; at least as good as `start`, a complete plan.
RowPlan find_plan(const Frame& frame, const std::vector<Kind>& kinds, const Prices& prices, RowPlan start,
                  const Goal& goal, Work& work);

/// What chance may cost for so many pieces in a plan of so many ticks: more where less may be bought than
/// where only a shorter plan is to be had.
std::int64_t shuffling_work(std::int64_t pieces, std::int64_t ticks, const Goal& goal);

/// The plan after chance has had its turn (`cut_shuffle.h`); never longer.
RowPlan shuffled_plan(const Frame& frame, const Prices& prices, RowPlan plan, const Goal& goal);

/// Some strips at a time planned anew; never longer.
RowPlan mended(const Frame& frame, const Prices& prices, RowPlan plan, const Goal& goal);

} // namespace motley::cutting
