#include "placement/start_balance.h"

#include <algorithm>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

// ---- numbers

Numbers::Numbers(const Model& model, const std::vector<int>& shown)
    : model_(model), in_place_(at(model.places * model.fabrics)), in_all_(at(model.fabrics)) {
    for (int f = 0; f < model.fabrics; ++f) {
        for (int p = 0; p < model.places; ++p) off_ += beyond(model.brief.role_counts[at(p)][at(f)], 0);
        off_ += beyond(model.brief.counts[at(f)], 0);
    }
    for (int patch = 0; patch < model.patches; ++patch) add(patch % model.places, shown[at(patch)], 1);
}

void Numbers::add(int place, int f, int by) {
    const layout::Range &role = model_.brief.role_counts[at(place)][at(f)], &all = model_.brief.counts[at(f)];
    int &in_place = in_place_[at(place * model_.fabrics + f)], &in_all = in_all_[at(f)];
    off_ +=
        beyond(role, in_place + by) - beyond(role, in_place) + beyond(all, in_all + by) - beyond(all, in_all);
    in_place += by;
    in_all += by;
}

void Numbers::replace(int place, int out, int in) {
    add(place, out, -1);
    add(place, in, 1);
}

bool Numbers::too_many(int place, int f) const {
    return in_place_[at(place * model_.fabrics + f)] > model_.brief.role_counts[at(place)][at(f)].most ||
           in_all_[at(f)] > model_.brief.counts[at(f)].most;
}

bool Numbers::too_few(int place, int f) const {
    return in_place_[at(place * model_.fabrics + f)] < model_.brief.role_counts[at(place)][at(f)].least ||
           in_all_[at(f)] < model_.brief.counts[at(f)].least;
}

// ---- balance

namespace {

class Balance {
public:
    Balance(const Model& model, const Puzzle& puzzle, std::vector<int>& shown, Chance& chance)
        : model_(model),
          puzzle_(puzzle),
          shown_(shown),
          chance_(chance),
          numbers_(model, shown),
          in_chain_(at(model.patches)) {
        for (int patch = 0; patch < model.patches; ++patch)
            if (puzzle.choices[at(patch)].size() > 1) free_.push_back(patch);
    }

    /// As long as that helps.
    std::int64_t run_cold(double temperature, std::int64_t steps) {
        const int patience = 3'000 + 2 * model_.patches; // Chains.
        temperature_ = temperature;
        int best = numbers_.off();
        for (int idle = 0; idle < patience && steps > 0 && best > 0 && !free_.empty();) {
            const std::int64_t looked_at = step();
            steps -= looked_at;
            idle = numbers_.off() < best ? 0 : idle + (looked_at > 1 ? 1 : 0);
            best = std::min(best, numbers_.off());
        }
        return steps;
    }

    /// Cold first; then from hot to cold, as often as the steps allow.
    bool run(std::int64_t steps) {
        constexpr double hot = 3, cold = 0.2;
        constexpr int rounds = 6;
        steps = run_cold(cold, steps);
        const std::int64_t part = std::max<std::int64_t>(steps / rounds, 1);
        for (; numbers_.off() > 0 && steps > 0 && !free_.empty(); steps -= part)
            for (std::int64_t left = part; left > 0 && numbers_.off() > 0; left -= step())
                temperature_ = cold + static_cast<double>(left) / static_cast<double>(part) * (hot - cold);
        return numbers_.off() == 0;
    }

private:
    /// How many patches were looked at.
    std::int64_t step() {
        const int patch = free_[at(chance_.below(static_cast<int>(free_.size())))];
        const int f = shown_[at(patch)], p = patch % model_.places;
        const std::vector<int>& choices = puzzle_.choices[at(patch)];
        const int g = choices[at(chance_.below(static_cast<int>(choices.size())))];
        const bool helps = numbers_.too_many(p, f) || numbers_.too_few(p, g);
        if (g == f || (!helps && chance_.below(8) != 0)) return 1;
        return 1 + try_chain(patch, g);
    }

    std::int64_t try_chain(int patch, int g) {
        const int f = shown_[at(patch)], before = numbers_.off();
        chain_.assign(1, patch);
        in_chain_[at(patch)] = 1;
        // Chains longer than a row or column are many steps and seldom what is needed.
        const std::size_t longest =
            chance_.below(32) == 0 ? at(model_.patches) : at((model_.columns + model_.rows) * model_.places);
        bool whole = true;
        std::int64_t looked_at = 0;
        for (std::size_t k = 0; k < chain_.size() && whole; ++k) {
            whole = chain_.size() <= longest;
            const int i = chain_[k], out = shown_[at(i)], in = out == f ? g : f;
            whole = whole && may_show(i, in) && contrasts_with_mates(i, in);
            for (const int j : puzzle_.neighbours[at(i)]) {
                ++looked_at;
                if (in_chain_[at(j)] != 0 || !model_.same(shown_[at(j)], in)) continue;
                whole = whole && (shown_[at(j)] == f || shown_[at(j)] == g);
                in_chain_[at(j)] = 1;
                chain_.push_back(j);
            }
        }
        for (const int i : chain_) in_chain_[at(i)] = 0;
        if (!whole) return looked_at;
        const auto swap = [&] {
            for (const int i : chain_) {
                const int out = shown_[at(i)], in = out == f ? g : f;
                numbers_.replace(i % model_.places, out, in);
                shown_[at(i)] = in;
            }
        };
        swap();
        const int worse = numbers_.off() - before;
        if (worse > 0 && worse > temperature_ * thresholds_.draw(chance_.bits())) swap();
        return looked_at;
    }

    bool may_show(int patch, int f) const {
        const std::vector<int>& choices = puzzle_.choices[at(patch)];
        return std::binary_search(choices.begin(), choices.end(), f);
    }

    bool contrasts_with_mates(int patch, int f) const {
        if (puzzle_.mates.empty()) return true;
        const std::vector<int>& mates = puzzle_.mates[at(patch)];
        return std::all_of(mates.begin(), mates.end(),
                           [&](int mate) { return model_.contrasts(f, shown_[at(mate)]); });
    }

    const Model& model_;
    const Puzzle& puzzle_;
    std::vector<int>& shown_;
    Chance& chance_;
    Numbers numbers_;
    Thresholds thresholds_;
    double temperature_ = 0;
    std::vector<int> free_, chain_;
    std::vector<char> in_chain_;
};

} // namespace

bool balance(const Model& model, const Puzzle& puzzle, std::vector<int>& shown, Chance& chance,
             std::int64_t steps) {
    return Balance(model, puzzle, shown, chance).run(steps);
}

void lean_towards_numbers(const Model& model, const Puzzle& puzzle, std::vector<int>& shown, Chance& chance,
                          std::int64_t steps) {
    Balance(model, puzzle, shown, chance).run_cold(0, steps);
}

} // namespace motley::placement
