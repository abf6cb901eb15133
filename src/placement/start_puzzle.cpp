#include "placement/start_puzzle.h"

#include <algorithm>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

bool linked(const Puzzle& puzzle, int i, int j) {
    return std::binary_search(puzzle.neighbours[at(i)].begin(), puzzle.neighbours[at(i)].end(), j);
}

} // namespace

void find_groups(Puzzle& puzzle) {
    constexpr int least_size = 4;
    std::vector<int> covered(puzzle.neighbours.size(), -1);
    for (int i = 0; i < static_cast<int>(puzzle.neighbours.size()); ++i) {
        const std::vector<int>& near = puzzle.neighbours[at(i)];
        const auto later = std::upper_bound(near.begin(), near.end(), i);
        const auto worth_it = [&](std::ptrdiff_t size) {
            return size >= least_size && puzzle.kinds - size <= size / 3;
        };
        if (!worth_it(near.end() - later + 1)) continue;
        for (auto j = later; j != near.end(); ++j) {
            if (covered[at(*j)] == i) continue;
            std::vector<int> group{i, *j};
            for (auto k = later; k != near.end(); ++k)
                if (std::all_of(group.begin() + 1, group.end(),
                                [&](int member) { return member != *k && linked(puzzle, member, *k); }))
                    group.push_back(*k);
            if (!worth_it(static_cast<std::ptrdiff_t>(group.size()))) continue;
            const bool part_of_another = std::any_of(near.begin(), later, [&](int earlier) {
                return std::all_of(group.begin() + 1, group.end(),
                                   [&](int member) { return linked(puzzle, member, earlier); });
            });
            if (part_of_another) continue;
            for (const int member : group) covered[at(member)] = i;
            puzzle.groups.push_back(std::move(group));
        }
    }
}

Puzzle puzzle_without_neighbours(const Model& model, const layout::Assignment& start) {
    const layout::Brief& brief = model.brief;
    Puzzle puzzle;
    puzzle.fabrics = model.fabrics;
    puzzle.chosen = model.patches;
    puzzle.choices.resize(at(model.patches));
    puzzle.neighbours.resize(at(model.patches));
    for (int patch = 0; patch < model.patches; ++patch) {
        const layout::FabricId pin = brief.pinned[at(patch)];
        for (int f = 0; f < model.fabrics; ++f)
            if (pin == layout::no_fabric ? brief.role_counts[at(patch % model.places)][at(f)].most > 0 &&
                                               brief.counts[at(f)].most > 0
                                         : static_cast<int>(layout::index(pin)) == f)
                puzzle.choices[at(patch)].push_back(f);
        puzzle.wanted.push_back(static_cast<int>(layout::index(start.patches[at(patch)])));
    }
    for (int f = 0; f < model.fabrics; ++f) {
        puzzle.alike.push_back(model.exempt(f) ? std::vector<int>{} : model.alike(f));
        puzzle.needed.push_back(0);
        for (const std::vector<int>& shares : brief.shares) puzzle.needed.back() += shares[at(f)];
    }
    if (model.places > 1 && brief.rules.contrast > 0) {
        puzzle.mates.resize(at(model.patches));
        for (int patch = 0; patch < model.patches; ++patch)
            for (int other = patch - patch % model.places, k = 0; k < model.places; ++k, ++other)
                if (other != patch) puzzle.mates[at(patch)].push_back(other);
        puzzle.contrasts.resize(at(model.fabrics));
        for (int f = 0; f < model.fabrics; ++f)
            for (int g = 0; g < model.fabrics; ++g)
                puzzle.contrasts[at(f)].push_back(static_cast<char>(model.contrasts(f, g)));
    }
    return puzzle;
}

namespace {

void look_for_groups(const Model& model, Puzzle& puzzle) {
    std::vector<char> usable(at(model.fabrics));
    for (int f = 0; f < model.fabrics; ++f)
        for (const auto& role : model.brief.role_counts)
            if (role[at(f)].most > 0 && model.brief.counts[at(f)].most > 0) usable[at(f)] = 1;
    for (int f = 0; f < model.fabrics; ++f)
        if (usable[at(f)] != 0 && puzzle.alike[at(f)].size() != 1)
            return; // A background, or two that are one.
    puzzle.kinds = static_cast<int>(std::count(usable.begin(), usable.end(), 1));
    find_groups(puzzle);
}

} // namespace

Puzzle puzzle_of(const Model& model, const layout::Assignment& start) {
    Puzzle puzzle = puzzle_without_neighbours(model, start);
    const auto turn = [&](int patch) { return static_cast<int>(start.turns[at(patch / model.places)]); };
    for (int patch = 0; patch < model.patches; ++patch) {
        model.for_zone(patch / model.places, [&](int cell) {
            for (int other = cell * model.places; other < (cell + 1) * model.places; ++other)
                if (model.conflict(patch, turn(patch), other, turn(other)))
                    puzzle.neighbours[at(patch)].push_back(other);
        });
        std::sort(puzzle.neighbours[at(patch)].begin(), puzzle.neighbours[at(patch)].end());
    }
    look_for_groups(model, puzzle);
    return puzzle;
}

} // namespace motley::placement
