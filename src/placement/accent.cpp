#include "placement/accent.h"

#include <algorithm>
#include <chrono>
#include <numeric>
#include <utility>

#include "fault/fault.h"
#include "placement/accent_walk.h"

namespace motley::placement {

namespace {

// Found by trial on tori from 8 x 8 to 16 x 16, 2 uses to half the cells.
constexpr std::size_t few = 20, many = 40; // Scatters in a population, by turns: easy grounds end soon with
                                           // few, rugged ones need many.
constexpr int patience = 150;              // Moves without a better scatter, before a walk ends.
constexpr std::size_t stale_rounds = 5;    // Children for each parent, none new, before a population ends.
constexpr int loose_tries = 30;            // Images looked at for a loose alignment.

struct Scatter {
    std::vector<int> cells;
    std::int64_t half_cost = 0;
};

class AccentSearch {
public:
    AccentSearch(const Ground& ground, int uses, const AccentEffort& effort)
        : ground_(ground), uses_(uses), effort_(effort), chance_(effort.seed, 0), walk_(ground, chance_) {
        order_.resize(static_cast<std::size_t>(ground.cells()));
        std::iota(order_.begin(), order_.end(), 0);
    }

    Accent run() {
        do {
            settle();
            breed();
            room_ = room_ == few ? many : few;
        } while (!done());
        best_.moves = moves_;
        std::ranges::sort(best_.cells);
        return std::move(best_);
    }

private:
    using Clock = std::chrono::steady_clock;

    double seconds() const { return std::chrono::duration<double>(Clock::now() - began_).count(); }

    bool done() const {
        if (found_ && effort_.enough && best_.cost <= *effort_.enough) return true;
        if (effort_.stop.stop_requested()) return true;
        return effort_.seconds ? seconds() >= *effort_.seconds : moves_ >= effort_.moves;
    }

    /// A new population, each scatter grown from a few uses thrown down by chance.
    void settle() {
        people_.clear();
        for (std::size_t k = 0; k < 2 * room_ && people_.size() < room_; ++k) {
            chance_.shuffle(order_);
            walk_.start(std::span(order_).first(static_cast<std::size_t>(1 + uses_ / 4)));
            walk_.fill(uses_);
            admit(improved());
            if (done()) return;
        }
    }

    void breed() {
        std::size_t stale = 0;
        while (stale < stale_rounds * people_.size() && people_.size() > 1 && !done()) {
            const auto mother = static_cast<std::size_t>(chance_.below(static_cast<int>(people_.size())));
            auto father = static_cast<std::size_t>(chance_.below(static_cast<int>(people_.size()) - 1));
            if (father >= mother) ++father;
            walk_.start(child_of(people_[mother], people_[father]));
            stale = admit(improved()) ? 0 : stale + 1;
        }
    }

    /// The father laid over the mother: every other time as well as can be, else the best of some images by
    /// chance. Always the best one would breed the same children again and again.
    std::vector<int> laid_over(const std::vector<char>& of_mother, const Scatter& mother,
                               const Scatter& father) {
        if (chance_.below(2) == 0) return align(ground_, mother.cells, father.cells).cells;
        Alignment best{{}, -1};
        for (int k = 0; k < loose_tries; ++k) {
            const int turns = static_cast<int>(ground_.turns().size());
            const std::vector<int>& turn = ground_.turns()[static_cast<std::size_t>(chance_.below(turns))];
            const int down = ground_.edges_meet() ? chance_.below(ground_.rows()) : 0;
            const int right = ground_.edges_meet() ? chance_.below(ground_.columns()) : 0;
            Alignment image;
            for (const int cell : father.cells) {
                const int to = ground_.shifted(turn[static_cast<std::size_t>(cell)], down, right);
                image.cells.push_back(to);
                image.common += of_mother[static_cast<std::size_t>(to)];
            }
            if (image.common > best.common) best = std::move(image);
        }
        return best.cells;
    }

    std::vector<int> child_of(const Scatter& mother, const Scatter& father) {
        std::vector<char> of_mother(order_.size());
        for (const int cell : mother.cells) of_mother[static_cast<std::size_t>(cell)] = 1;
        std::vector<int> child, rest;
        for (const int cell : laid_over(of_mother, mother, father)) {
            char& hers = of_mother[static_cast<std::size_t>(cell)];
            (hers != 0 ? child : rest).push_back(cell);
            hers = 0;
        }
        for (const int cell : mother.cells)
            if (of_mother[static_cast<std::size_t>(cell)] != 0) rest.push_back(cell);
        chance_.shuffle(rest);
        const std::size_t missing = static_cast<std::size_t>(uses_) - child.size();
        child.insert(child.end(), rest.end() - static_cast<std::ptrdiff_t>(missing / 2), rest.end());
        rest.resize(rest.size() - missing / 2);
        complete(child, rest);
        return child;
    }

    /// Adds cells of `rest` until the child has all its uses: each where those before push least.
    void complete(std::vector<int>& child, std::vector<int>& rest) const {
        std::vector<std::int64_t> pushes;
        for (const int cell : rest) {
            const std::int32_t* row = ground_.row(cell);
            std::int64_t push = 0;
            for (const int use : child) push += row[use];
            pushes.push_back(push);
        }
        while (static_cast<int>(child.size()) < uses_) {
            const auto least = std::ranges::min_element(pushes) - pushes.begin();
            const int cell = rest[static_cast<std::size_t>(least)];
            rest.erase(rest.begin() + least);
            pushes.erase(pushes.begin() + least);
            for (std::size_t k = 0; k < rest.size(); ++k) pushes[k] += ground_.weight(cell, rest[k]);
            child.push_back(cell);
        }
    }

    /// The best that the walk comes by from where it stands.
    Scatter improved() {
        Scatter best{walk_.cells(), walk_.half_cost()};
        for (int idle = 0; idle < patience; ++idle) {
            walk_.step();
            ++moves_;
            if (walk_.half_cost() >= best.half_cost) continue;
            best = {walk_.cells(), walk_.half_cost()};
            idle = -1;
        }
        if (!found_ || 2 * best.half_cost < best_.cost) {
            found_ = true;
            best_ = {best.cells, 2 * best.half_cost, 0, moves_, seconds()};
        }
        return best;
    }

    /// Whether a scatter joined the population: it does when it is like none there, and there is room or a
    /// worse one to make room.
    bool admit(Scatter newcomer) {
        for (const Scatter& one : people_)
            if (one.half_cost == newcomer.half_cost &&
                align(ground_, one.cells, newcomer.cells).common == uses_)
                return false;
        if (people_.size() < room_) {
            people_.push_back(std::move(newcomer));
            return true;
        }
        const auto worst = std::ranges::max_element(people_, {}, &Scatter::half_cost);
        if (newcomer.half_cost >= worst->half_cost) return false;
        *worst = std::move(newcomer);
        return true;
    }

    const Ground& ground_;
    int uses_;
    const AccentEffort& effort_;
    Clock::time_point began_ = Clock::now();
    Chance chance_;
    AccentWalk walk_;
    std::vector<int> order_;
    std::vector<Scatter> people_;
    std::size_t room_ = few;
    std::int64_t moves_ = 0;
    bool found_ = false;
    Accent best_;
};

/// Where edges meet, the cells left free are scattered exactly as evenly as the others: their cost differs by
/// a constant. With W the weights of one cell against all others, cost(rest) = cost(chosen) + W (N - 2 uses).
Accent scatter_the_rest(const Ground& ground, int uses, AccentEffort effort) {
    const std::int64_t more = std::int64_t{ground.whole(0)} * (2 * uses - ground.cells());
    if (effort.enough) *effort.enough -= more;
    Accent rest = scatter_accent(ground, ground.cells() - uses, effort);
    std::vector<int> chosen;
    for (int cell = 0; cell < ground.cells(); ++cell)
        if (!std::ranges::binary_search(rest.cells, cell)) chosen.push_back(cell);
    rest.cells = std::move(chosen);
    rest.cost += more;
    return rest;
}

} // namespace

Accent scatter_accent(const Ground& ground, int uses, const AccentEffort& effort) {
    expects(uses >= 0 && uses <= ground.cells());
    if (uses == 0 || uses == ground.cells()) {
        Accent only;
        only.cells.resize(static_cast<std::size_t>(uses));
        std::iota(only.cells.begin(), only.cells.end(), 0);
        only.cost = ground.cost(only.cells);
        return only;
    }
    if (ground.edges_meet() && 2 * uses > ground.cells()) return scatter_the_rest(ground, uses, effort);
    return AccentSearch(ground, uses, effort).run();
}

} // namespace motley::placement
