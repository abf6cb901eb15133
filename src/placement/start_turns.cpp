// Open turns in a puzzle: a node for the turn of each unit, and one for each two patches that touch in some
// turns and not in others.

#include <algorithm>
#include <array>

#include "placement/start_puzzle.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// For two patches of neighbouring units, some turns of which make them clash.
class TurnConditions {
public:
    TurnConditions(const Model& model, Puzzle& puzzle, const layout::Assignment& start)
        : model_(model), puzzle_(puzzle), node_(at(model.cells), -1) {
        puzzle_.fabrics = model.fabrics + 6; // Four turns; touching or not.
        puzzle_.alike.resize(at(puzzle_.fabrics));
        puzzle_.needed.resize(at(puzzle_.fabrics));
        for (int cell = 0; cell < model.cells; ++cell) {
            if (model.brief.turns[at(cell)] >= 0) continue;
            node_[at(cell)] = puzzle_.chosen++;
            puzzle_.choices.push_back(
                {model.fabrics, model.fabrics + 1, model.fabrics + 2, model.fabrics + 3});
            puzzle_.wanted.push_back(model.fabrics + start.turns[at(cell)]);
        }
    }

    void look_at_all() {
        for (int cell = 0; cell < model_.cells; ++cell)
            model_.for_zone(cell, [&](int other) {
                if (other < cell) return;
                for (int i = cell * model_.places; i < (cell + 1) * model_.places; ++i)
                    for (int j = other * model_.places; j < (other + 1) * model_.places; ++j) look_at(i, j);
            });
        puzzle_.neighbours.resize(puzzle_.choices.size());
        if (!puzzle_.mates.empty()) puzzle_.mates.resize(puzzle_.choices.size());
        for (std::vector<int>& list : puzzle_.neighbours) std::sort(list.begin(), list.end());
        for (int cell = 0; cell < model_.cells; ++cell) {
            for (int p = 0; p < model_.places; ++p) puzzle_.order.push_back(cell * model_.places + p);
            if (node_[at(cell)] >= 0) puzzle_.order.push_back(node_[at(cell)]);
        }
    }

private:
    int touching() const { return model_.fabrics + 4; }
    int apart() const { return model_.fabrics + 5; }

    void look_at(int i, int j) {
        const int a = i / model_.places, b = j / model_.places;
        int clashes = 0, ways = 0;
        for (int t = 0; t < 4; ++t)
            for (int u = 0; u < 4; ++u) {
                clash_[at(t * 4 + u)] = 0;
                if (!possible(a, t) || !possible(b, u)) continue;
                ++ways;
                clash_[at(t * 4 + u)] = static_cast<char>(model_.conflict(i, t, j, u));
                clashes += clash_[at(t * 4 + u)];
            }
        if (clashes == 0 || !share_a_fabric(i, j)) return;
        if (clashes == ways) {
            puzzle_.neighbours[at(i)].push_back(j);
            puzzle_.neighbours[at(j)].push_back(i);
            return;
        }
        const bool settled = puzzle_.choices[at(i)].size() == 1 && puzzle_.choices[at(j)].size() == 1;
        int node = -1;
        if (!settled) {
            node = static_cast<int>(puzzle_.choices.size());
            puzzle_.choices.push_back({touching(), apart()});
            puzzle_.meetings.push_back({i, j, node, touching()});
        }
        for (int t = 0; t < 4; ++t) say_when(a, b, t, node);
    }

    /// With unit a turned t they touch, unless b is turned one of the ways in which they do not.
    void say_when(int a, int b, int t, int node) {
        const auto clashes = [&](int u) { return clash_[at(t * 4 + u)] != 0; };
        if (!possible(a, t) || !(clashes(0) || clashes(1) || clashes(2) || clashes(3))) return;
        if (node_[at(a)] >= 0) say(node_[at(a)], model_.fabrics + t, false);
        if (node >= 0) say(node, touching(), true);
        for (int u = 0; u < 4 && node_[at(b)] >= 0; ++u)
            if (!clashes(u)) say(node_[at(b)], model_.fabrics + u, true);
        puzzle_.clause_ends.push_back(puzzle_.literals.size());
    }

    void say(int patch, int fabric, bool shows) {
        puzzle_.literals.push_back(2 * (patch * puzzle_.fabrics + fabric) + (shows ? 0 : 1));
    }
    bool possible(int cell, int turn) const {
        const int said = model_.brief.turns[at(cell)];
        return said < 0 || said == turn;
    }
    bool may_show(int patch, int f) const {
        return std::binary_search(puzzle_.choices[at(patch)].begin(), puzzle_.choices[at(patch)].end(), f);
    }
    bool share_a_fabric(int i, int j) const {
        for (const int f : puzzle_.choices[at(i)])
            for (const int g : puzzle_.alike[at(f)])
                if (may_show(j, g)) return true;
        return false;
    }

    const Model& model_;
    Puzzle& puzzle_;
    std::vector<int> node_; // [cell] where its turn is chosen, -1 where it is fixed.
    std::array<char, 16> clash_{};
};

} // namespace

Puzzle puzzle_with_turns(const Model& model, const layout::Assignment& start) {
    Puzzle puzzle = puzzle_without_neighbours(model, start);
    TurnConditions(model, puzzle, start).look_at_all();
    return puzzle;
}

} // namespace motley::placement
