#include "placement/accent_walk.h"

#include <algorithm>
#include <limits>

namespace motley::placement {

namespace {

constexpr std::int32_t closed = std::int32_t{1}
                                << 30; // Above any push, and a push below it stays within 32 bits.
constexpr std::int32_t forever = std::numeric_limits<std::int32_t>::max();

// Moves for which a cell stays as it is after a move, and how many more chance may add. Found by trial.
constexpr std::int32_t tenure = 8;
constexpr int tenure_spread = 10;

std::size_t at(int cell) {
    return static_cast<std::size_t>(cell);
}

// Compiled twice, the wider vectors taken where the machine has them: whole numbers, so the same results.
#if defined(__x86_64__)
[[gnu::target_clones("avx2", "default")]]
#endif
std::int32_t least_difference(const std::int32_t* open, const std::int32_t* row, std::size_t count) {
    std::int32_t least = closed;
    for (std::size_t i = 0; i < count; ++i) least = std::min(least, open[i] - row[i]);
    return least;
}

#if defined(__x86_64__)
[[gnu::target_clones("avx2", "default")]]
#endif
void exchange_rows(std::int32_t* push, const std::int32_t* in, const std::int32_t* out, std::size_t count) {
    for (std::size_t i = 0; i < count; ++i) push[i] += in[i] - out[i];
}

#if defined(__x86_64__)
[[gnu::target_clones("avx2", "default")]]
#endif
std::int32_t open_up(std::int32_t* open, const std::int32_t* push, const std::int32_t* until,
                     std::int32_t now, std::size_t count) {
    std::int32_t least = closed;
    for (std::size_t i = 0; i < count; ++i) {
        open[i] = until[i] > now ? closed : push[i];
        least = std::min(least, open[i]);
    }
    return least;
}

} // namespace

AccentWalk::AccentWalk(const Ground& ground, Chance& chance)
    : ground_(ground),
      chance_(chance),
      push_(ground.stride()),
      open_(ground.stride(), closed),
      until_(ground.stride(), forever),
      nothing_(ground.stride()) {
    std::vector<int> order;
    for (int cell = 0; cell < ground.cells(); ++cell) {
        order.clear();
        for (int other = 0; other < ground.cells(); ++other)
            if (other != cell) order.push_back(other);
        const std::int32_t* row = ground.row(cell);
        const auto last = order.begin() + static_cast<std::ptrdiff_t>(std::min(order.size(), near_count + 1));
        std::ranges::partial_sort(order, last,
                                  [row](int a, int b) { return row[a] != row[b] ? row[a] > row[b] : a < b; });
        if (!order.empty()) heaviest_ = std::max(heaviest_, row[order.front()]);
        for (std::size_t k = 0; k < near_count; ++k) near_.push_back(k < order.size() ? order[k] : cell);
        beyond_.push_back(near_count < order.size() ? row[order[near_count]] : 0);
    }
}

void AccentWalk::start(std::span<const int> cells) {
    std::ranges::fill(push_, 0);
    std::fill_n(until_.begin(), ground_.cells(), -1);
    used_.clear();
    held_.clear();
    half_cost_ = 0;
    steps_ = 0;
    for (const int cell : cells) add(cell);
}

void AccentWalk::add(int cell) {
    half_cost_ += push_[at(cell)];
    const std::int32_t* row = ground_.row(cell);
    for (std::size_t i = 0; i < push_.size(); ++i) push_[i] += row[i];
    until_[at(cell)] = forever;
    used_.push_back(cell);
    held_.push_back(-1);
}

void AccentWalk::fill(int count) {
    while (static_cast<int>(used_.size()) < count) {
        const std::int32_t least = open_up(open_.data(), push_.data(), until_.data(), 0, open_.size());
        add(pick_least(nothing_.data(), least));
    }
}

/// The least push at the nearest cells of a use, were it not there.
std::int32_t AccentWalk::least_nearby(int cell) const {
    const int* near = near_.data() + at(cell) * near_count;
    const std::int32_t* row = ground_.row(cell);
    std::int32_t least = closed;
    for (std::size_t k = 0; k < near_count; ++k) least = std::min(least, open_[at(near[k])] - row[near[k]]);
    return least;
}

int AccentWalk::pick_least(const std::int32_t* row, std::int32_t least) {
    int found = -1;
    int alike = 0;
    for (int cell = 0; cell < ground_.cells(); ++cell)
        if (open_[at(cell)] - row[cell] == least && chance_.below(++alike) == 0) found = cell;
    return found;
}

bool AccentWalk::step() {
    const std::int32_t lowest = open_up(open_.data(), push_.data(), until_.data(), steps_, open_.size());
    std::size_t best = used_.size();
    std::int32_t gain = closed / 2;
    int alike = 0;
    for (std::size_t use = 0; use < used_.size(); ++use) {
        if (held_[use] > steps_) continue;
        const std::int32_t own = push_[at(used_[use])];
        // Most rows need no scan: even the freest cell would be no better, or only one nearby could be and is
        // not.
        const std::int32_t most_hope = lowest - own - gain;
        if (most_hope > heaviest_) continue;
        if (most_hope > beyond_[at(used_[use])] && least_nearby(used_[use]) - own > gain) continue;
        const std::int32_t found =
            least_difference(open_.data(), ground_.row(used_[use]), open_.size()) - own;
        if (found > gain) continue;
        alike = found < gain ? 1 : alike + 1;
        if (chance_.below(alike) == 0) best = use;
        gain = found;
    }
    ++steps_;
    if (best == used_.size()) return false;
    const int from = used_[best];
    const int to = pick_least(ground_.row(from), gain + push_[at(from)]);
    exchange_rows(push_.data(), ground_.row(to), ground_.row(from), push_.size());
    half_cost_ += gain;
    used_[best] = to;
    held_[best] = steps_ + tenure + chance_.below(tenure_spread);
    until_[at(to)] = forever;
    until_[at(from)] = steps_ + tenure + chance_.below(tenure_spread);
    return true;
}

} // namespace motley::placement
