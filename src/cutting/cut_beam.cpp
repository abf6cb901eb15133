#include "cutting/cut_beam.h"

#include <algorithm>
#include <tuple>

#include "cutting/cut_shelves.h"

namespace motley::cutting {

namespace {

/// Lists of more strips than this take equal strips several at a time.
constexpr int one_by_one = 48;

struct Node {
    int before = -1; ///< Index of the node it continues; -1 at the root.
    RowTimes row;
    std::vector<int> left;
    std::int64_t ticks = 0;
    std::int64_t covered = 0; ///< What its pieces are worth at the judging prices.
    bool done = false;
};

struct Candidate {
    int height = 0;
    std::int64_t value = 0; ///< At most.
};

class Beam {
public:
    Beam(const Frame& frame, const std::vector<std::int64_t>& values, const std::vector<std::int64_t>& prices,
         const BeamWidth& width, std::int64_t limit, Work& work)
        : frame_(frame),
          values_(values),
          prices_(prices),
          width_(width),
          limit_(limit),
          work_(work),
          table_(frame) {}

    RowPlan run(const std::vector<int>& asked) {
        Node root;
        root.left = asked;
        nodes_.push_back(std::move(root));
        std::vector<int> level{0};
        while (!level.empty() && !work_.spent()) {
            std::vector<Node> next;
            for (const int at : level) expand(at, next);
            level = keep(std::move(next));
        }
        if (!level.empty()) finish(level.front());
        RowPlan plan;
        for (int at = best_; at > 0; at = nodes_[static_cast<std::size_t>(at)].before)
            plan.rows.push_back(nodes_[static_cast<std::size_t>(at)].row);
        plan.rows.insert(plan.rows.end(), end_.rows.begin(), end_.rows.end());
        if (best_ >= 0) plan.ticks = nodes_[static_cast<std::size_t>(best_)].ticks + end_.ticks;
        return plan;
    }

private:
    /// The work is spent: plain strips for what is left, if that is short enough.
    void finish(int at) {
        const Node& node = nodes_[static_cast<std::size_t>(at)];
        RowPlan end = shelf_plan(frame_, node.left);
        if (node.ticks + end.ticks >= limit_) return;
        limit_ = node.ticks + end.ticks;
        best_ = at;
        end_ = std::move(end);
    }

    void expand(int at, std::vector<Node>& next) {
        const std::vector<int> left = nodes_[static_cast<std::size_t>(at)].left;
        const std::int64_t ticks = nodes_[static_cast<std::size_t>(at)].ticks;
        const std::int64_t room = (limit_ - 1 - ticks) / frame_.unit_high;
        if (room <= 0) return;
        const std::int64_t most =
            std::min<std::int64_t>(width_.height > 0 ? width_.height : frame_.height, frame_.height);
        table_.fill(values_, left, static_cast<int>(std::min(most, room)), work_);
        const std::vector<Candidate> candidates = best_heights();
        struct Cut {
            Row row;
            double worth; ///< Per height, as it came out.
        };
        std::vector<Cut> cuts;
        const auto worse_than = [&](double worth) {
            return std::count_if(cuts.begin(), cuts.end(),
                                 [worth](const Cut& cut) { return cut.worth >= worth; }) >= width_.branches;
        };
        int tries = 4 * width_.branches;
        for (const Candidate& candidate : candidates) {
            if (tries-- == 0 || worse_than(static_cast<double>(candidate.value) / candidate.height)) break;
            Row row = table_.cut(candidate.height, frame_.width, work_);
            if (row.segments.empty()) continue;
            std::int64_t value = 0;
            const std::vector<int> counts = counted(row, frame_, left.size());
            for (std::size_t k = 0; k < counts.size(); ++k) value += counts[k] * values_[k];
            const double worth = static_cast<double>(value) / row.height;
            cuts.push_back({std::move(row), worth});
        }
        std::stable_sort(cuts.begin(), cuts.end(),
                         [](const Cut& a, const Cut& b) { return a.worth > b.worth; });
        if (cuts.size() > static_cast<std::size_t>(width_.branches))
            cuts.resize(static_cast<std::size_t>(width_.branches));
        for (Cut& cut : cuts) add(at, std::move(cut.row), next);
    }

    /// Heights by what a strip may be worth for its height, the best first; only as many are looked at as can
    /// come to be among the best.
    std::vector<Candidate> best_heights() {
        std::vector<Candidate> quick;
        for (const int height : table_.heights())
            quick.push_back({height, table_.quick(height, frame_.width)});
        work_.spend(static_cast<std::int64_t>(quick.size() * (frame_.widths.size() + 16)));
        std::sort(quick.begin(), quick.end(), ahead);
        const std::size_t wanted = static_cast<std::size_t>(4 * width_.branches);
        std::vector<Candidate> best;
        for (const Candidate& one : quick) {
            if (best.size() >= wanted && !ahead(one, best[wanted - 1])) break;
            const Candidate exact{one.height, table_.most(one.height, frame_.width, work_)};
            best.insert(std::upper_bound(best.begin(), best.end(), exact, ahead), exact);
            if (best.size() > wanted) best.pop_back();
        }
        return best;
    }

    /// Worth more for its height; of equals the taller, which leaves less to do.
    static bool ahead(const Candidate& a, const Candidate& b) {
        const double one = static_cast<double>(a.value) * b.height;
        const double other = static_cast<double>(b.value) * a.height;
        return one != other ? one > other : a.height > b.height;
    }

    void add(int at, Row row, std::vector<Node>& next) {
        const Node& before = nodes_[static_cast<std::size_t>(at)];
        Node node;
        node.before = at;
        node.left = before.left;
        const std::vector<int> counts = counted(row, frame_, node.left.size());
        int times = INT32_MAX;
        std::int64_t value = 0;
        for (std::size_t k = 0; k < counts.size(); ++k) {
            if (counts[k] > 0) times = std::min(times, node.left[k] / counts[k]);
            value += counts[k] * prices_[k];
        }
        times = times > one_by_one ? times * 3 / 4 : 1;
        for (std::size_t k = 0; k < counts.size(); ++k) node.left[k] -= times * counts[k];
        node.ticks = before.ticks + row.ticks_high * times;
        node.covered = before.covered + value * times;
        node.done = std::all_of(node.left.begin(), node.left.end(), [](int left) { return left == 0; });
        node.row = {std::move(row), times};
        next.push_back(std::move(node));
    }

    std::vector<int> keep(std::vector<Node> next) {
        // Of equal rests the shorter beginning; then those that got most for their length.
        std::sort(next.begin(), next.end(), [](const Node& a, const Node& b) {
            return std::tie(a.left, a.ticks) < std::tie(b.left, b.ticks);
        });
        next.erase(std::unique(next.begin(), next.end(),
                               [](const Node& a, const Node& b) { return a.left == b.left; }),
                   next.end());
        std::stable_sort(next.begin(), next.end(), [](const Node& a, const Node& b) {
            return static_cast<double>(a.covered) * static_cast<double>(b.ticks) >
                   static_cast<double>(b.covered) * static_cast<double>(a.ticks);
        });
        std::vector<int> level;
        for (Node& node : next) {
            const int index = static_cast<int>(nodes_.size());
            if (node.done) {
                if (node.ticks < limit_) {
                    limit_ = node.ticks;
                    best_ = index;
                    nodes_.push_back(std::move(node));
                }
            } else if (node.ticks < limit_ && level.size() < static_cast<std::size_t>(width_.nodes)) {
                level.push_back(index);
                nodes_.push_back(std::move(node));
            }
        }
        return level;
    }

    const Frame& frame_;
    const std::vector<std::int64_t>& values_;
    const std::vector<std::int64_t>& prices_;
    BeamWidth width_;
    std::int64_t limit_;
    Work& work_;
    StripTable table_;
    std::vector<Node> nodes_;
    int best_ = -1;
    RowPlan end_; ///< After `best_`, where the work was not enough to search on.
};

} // namespace

RowPlan beam_plan(const Frame& frame, const std::vector<int>& asked, const std::vector<std::int64_t>& values,
                  const std::vector<std::int64_t>& prices, const BeamWidth& width, std::int64_t limit,
                  Work& work) {
    return Beam(frame, values, prices, width, limit, work).run(asked);
}

} // namespace motley::cutting
