#include "placement/obstacles_flow.h"

#include <algorithm>
#include <climits>
#include <map>
#include <vector>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Patches that may show the same fabrics are one pool.
class Pools {
public:
    Pools(const Board& board, const Filling& filling) : fabrics_(board.fabrics) {
        std::map<std::vector<int>, int> sizes;
        for (int patch = 0; patch < board.patches; ++patch) {
            std::vector<int> choices;
            for (int f = 0; f < board.fabrics; ++f)
                if (filling.may_show(patch, f)) choices.push_back(f);
            ++sizes[choices];
        }
        for (const auto& [choices, size] : sizes) {
            choices_.push_back(choices);
            sizes_.push_back(size);
        }
        flow_.assign(sizes_.size(), std::vector<int>(at(fabrics_)));
    }

    /// As many patches as can be given fabrics with at most `room[f]` of each.
    int most(const std::vector<int>& room) {
        for (std::vector<int>& from_pool : flow_) std::fill(from_pool.begin(), from_pool.end(), 0);
        room_ = room;
        int sum = 0;
        for (std::size_t pool = 0; pool < sizes_.size(); ++pool)
            for (int left = sizes_[pool]; left > 0;) {
                const int pushed = push(pool, left);
                if (pushed == 0) break;
                left -= pushed;
                sum += pushed;
            }
        return sum;
    }

private:
    /// One augmenting path from a pool to a fabric with room, breadth first.
    int push(std::size_t from, int amount) {
        std::vector<int> pool_by(sizes_.size(), -1), fabric_by(at(fabrics_), -1);
        std::vector<std::size_t> queue{from};
        for (std::size_t k = 0; k < queue.size(); ++k)
            for (const int f : choices_[queue[k]]) {
                if (fabric_by[at(f)] >= 0) continue;
                fabric_by[at(f)] = static_cast<int>(queue[k]);
                if (room_[at(f)] > 0) return carry(from, f, amount, pool_by, fabric_by);
                for (std::size_t pool = 0; pool < sizes_.size(); ++pool)
                    if (flow_[pool][at(f)] > 0 && pool_by[pool] < 0 && pool != from) {
                        pool_by[pool] = f;
                        queue.push_back(pool);
                    }
            }
        return 0;
    }

    int carry(std::size_t from, int to, int amount, const std::vector<int>& pool_by,
              const std::vector<int>& fabric_by) {
        amount = std::min(amount, room_[at(to)]);
        for (int f = to;;) {
            const std::size_t pool = at(fabric_by[at(f)]);
            if (pool == from) break;
            f = pool_by[pool];
            amount = std::min(amount, flow_[pool][at(f)]);
        }
        room_[at(to)] -= amount;
        for (int f = to;;) {
            const std::size_t pool = at(fabric_by[at(f)]);
            flow_[pool][at(f)] += amount;
            if (pool == from) break;
            f = pool_by[pool];
            flow_[pool][at(f)] -= amount;
        }
        return amount;
    }

    int fabrics_;
    std::vector<std::vector<int>> choices_, flow_; // [pool] fabrics; [pool][fabric].
    std::vector<int> sizes_, room_;                // [pool], [fabric]
};

} // namespace

bool numbers_flow(const Board& board, const Demand& demand, const Filling& filling) {
    Pools pools(board, filling);
    std::vector<int> least, most;
    int asked = 0;
    for (const layout::Range& range : demand.counts) {
        least.push_back(range.least);
        most.push_back(range.most);
        asked += range.least;
    }
    // Where both hold, one sharing-out does both (Mendelsohn and Dulmage 1958).
    return pools.most(most) == board.patches && pools.most(least) == asked;
}

} // namespace motley::placement
