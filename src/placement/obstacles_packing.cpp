#include "placement/obstacles_packing.h"

#include <algorithm>
#include <bit>
#include <functional>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

constexpr int most_steps = 3000;

} // namespace

Packing::Packing(const Board& board) : board_(board), in_(at(board.patches)) {}

int Packing::most(const Patches* set) {
    members_.clear();
    for (int w = 0; w < board_.words; ++w)
        for (Patches left = set[w]; left != 0; left &= left - 1)
            members_.push_back(w * 64 + std::countr_zero(left));
    if (members_.size() <= 1) return static_cast<int>(members_.size());
    for (const int i : members_) in_[at(i)] = 1;
    int result = board_.sides().empty() ? std::min(cover(members_, false), cover(members_, true))
                                        : static_cast<int>(members_.size()) - largest_matching(members_);
    if (board_.brief.rules.line) result = std::min(result, fewest_lines(members_));
    for (const int i : members_) in_[at(i)] = 0;
    return result;
}

int Packing::most_by_branching(const Patches* set) {
    const int bound = most(set);
    if (!board_.sides().empty() || bound <= 1 || members_.size() > 64) return bound;
    std::vector<int> members = members_, degree(at(board_.patches));
    for (const int i : members)
        degree[at(i)] = static_cast<int>(
            std::count_if(members.begin(), members.end(), [&](int j) { return board_.linked(i, j); }));
    // Fewest neighbours first finds a large set early.
    std::stable_sort(members.begin(), members.end(),
                     [&](int i, int j) { return degree[at(i)] < degree[at(j)]; });
    steps_ = 0;
    const int found = branch(members, 0, 0);
    return steps_ > most_steps ? bound : std::min(bound, found);
}

int Packing::branch(std::vector<int> members, int taken, int best) {
    while (!members.empty() && ++steps_ <= most_steps) {
        if (taken + static_cast<int>(members.size()) <= best) return best;
        for (const int i : members) in_[at(i)] = 1;
        const int bound = cover(members, false);
        for (const int i : members) in_[at(i)] = 0;
        if (taken + bound <= best) return best;
        const int i = members.front();
        std::vector<int> rest;
        for (const int j : members)
            if (j != i && !board_.linked(i, j)) rest.push_back(j);
        best = branch(std::move(rest), taken + 1, best);
        members.erase(members.begin());
    }
    return std::max(best, taken);
}

/// Once in each row and column: at most a largest matching of rows to columns by the cells of the set (Kuhn
/// 1955), in each place of a unit.
int Packing::fewest_lines(const std::vector<int>& members) {
    const int rows = board_.brief.rows, columns = board_.brief.columns;
    int sum = 0;
    for (int place = 0; place < board_.places; ++place) {
        std::vector<std::vector<int>> of_row(at(rows));
        for (const int i : members)
            if (i % board_.places == place)
                of_row[at(i / board_.places / columns)].push_back(i / board_.places % columns);
        std::vector<int> row_of(at(columns), -1);
        std::vector<char> seen;
        const std::function<bool(int)> match = [&](int row) {
            for (const int column : of_row[at(row)]) {
                if (seen[at(column)] != 0) continue;
                seen[at(column)] = 1;
                if (row_of[at(column)] >= 0 && !match(row_of[at(column)])) continue;
                row_of[at(column)] = row;
                return true;
            }
            return false;
        };
        for (int row = 0; row < rows; ++row) {
            seen.assign(at(columns), 0);
            sum += match(row);
        }
    }
    return sum;
}

int Packing::cover(const std::vector<int>& members, bool from_the_end) {
    int cliques = 0;
    std::vector<int> clique;
    for (std::size_t k = 0; k < members.size(); ++k) {
        const int i = members[from_the_end ? members.size() - 1 - k : k];
        if (in_[at(i)] != 1) continue;
        ++cliques;
        in_[at(i)] = 2;
        clique.clear();
        const auto join = [&](int j) {
            if (in_[at(j)] != 1) return;
            for (const int other : clique)
                if (!board_.linked(other, j)) return;
            clique.push_back(j);
            in_[at(j)] = 2;
        };
        const int* begin = board_.begin(i);
        const int* end = board_.end(i);
        if (from_the_end)
            while (end != begin) join(*--end);
        else
            for (; begin != end; ++begin) join(*begin);
    }
    for (const int i : members) in_[at(i)] = 1;
    return cliques;
}

/// Hopcroft and Karp 1973: shortest augmenting paths, many at a time.
int Packing::largest_matching(const std::vector<int>& members) {
    mate_.resize(at(board_.patches), -1);
    layer_.resize(at(board_.patches));
    tried_.resize(at(board_.patches));
    std::vector<int> left;
    for (const int i : members) {
        mate_[at(i)] = -1;
        if (board_.sides()[at(i)] == 0) left.push_back(i);
    }
    int pairs = 0;
    for (const int i : left) // Most pairs at once.
        for (const int* j = board_.begin(i); j != board_.end(i) && mate_[at(i)] < 0; ++j)
            if (in_[at(*j)] != 0 && mate_[at(*j)] < 0) mate_[at(i)] = *j, mate_[at(*j)] = i, ++pairs;
    while (layers(left))
        for (const int i : left)
            if (mate_[at(i)] < 0 && augment(i)) ++pairs;
    return pairs;
}

/// Layers of alternating paths from the free patches on the left; whether one reaches a free patch on the
/// right.
bool Packing::layers(const std::vector<int>& left) {
    std::vector<int> queue;
    for (const int i : left) {
        layer_[at(i)] = mate_[at(i)] < 0 ? 0 : -1;
        tried_[at(i)] = board_.begin(i);
        if (mate_[at(i)] < 0) queue.push_back(i);
    }
    bool reached = false;
    for (std::size_t k = 0; k < queue.size(); ++k)
        for (const int* j = board_.begin(queue[k]); j != board_.end(queue[k]); ++j) {
            if (in_[at(*j)] == 0) continue;
            const int next = mate_[at(*j)];
            if (next < 0)
                reached = true;
            else if (layer_[at(next)] < 0) {
                layer_[at(next)] = layer_[at(queue[k])] + 1;
                queue.push_back(next);
            }
        }
    return reached;
}

bool Packing::augment(int i) {
    for (const int*& j = tried_[at(i)]; j != board_.end(i);) {
        const int right = *j++;
        if (in_[at(right)] == 0) continue;
        const int next = mate_[at(right)];
        if (next >= 0 && (layer_[at(next)] != layer_[at(i)] + 1 || !augment(next))) continue;
        mate_[at(i)] = right;
        mate_[at(right)] = i;
        return true;
    }
    return false;
}

} // namespace motley::placement
