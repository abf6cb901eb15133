#include "placement/batch.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// How often each fabric is cut for a role. Where the counts leave open which fabrics are cut once more than
/// others, those are taken at even steps from dark to light, from a start of chance: so that darks, mediums
/// and lights all come in.
/// `numbers` are [role][fabric] as chosen so far; those of `role` change, the fabrics' totals stay within
/// their counts.
void choose_numbers(const KitModel& model, int role, Chance& chance, std::vector<std::vector<int>>& numbers) {
    const std::vector<layout::Range>& ranges = model.brief.role_counts[at(role)];
    std::vector<int>& own = numbers[at(role)];
    const auto total_is_free = [&](std::size_t f) {
        int elsewhere = -own[f];
        for (const std::vector<int>& other : numbers) elsewhere += other[f];
        return model.brief.counts[f].least <= elsewhere + ranges[f].least &&
               model.brief.counts[f].most >= elsewhere + ranges[f].least + 1;
    };
    std::vector<std::size_t> open; // Cut as often as they must be, or once more.
    int more = 0;
    for (std::size_t f = 0; f < own.size(); ++f) {
        const int extra = own[f] - ranges[f].least;
        if (ranges[f].least == ranges[f].most || extra < 0 || extra > 1 || !total_is_free(f)) continue;
        open.push_back(f);
        more += extra;
    }
    if (more == 0 || more == static_cast<int>(open.size())) return;
    chance.shuffle(open); // Equal lightness in no order.
    std::stable_sort(open.begin(), open.end(), [&](std::size_t f, std::size_t g) {
        return model.light(static_cast<int>(f)) < model.light(static_cast<int>(g));
    });
    const int many = static_cast<int>(open.size());
    const int start = chance.below(many);
    for (int i = 0; i < many; ++i) {
        const bool taken = (i + 1) * more / many > i * more / many;
        const std::size_t f = open[at((i + start) % many)];
        own[f] = ranges[f].least + (taken ? 1 : 0);
    }
}

/// Input by input and making by making in an order of chance, the fabric with the most pieces first: the
/// pieces of one fabric then lie in makings that follow each other, not in one.
std::vector<int> deal(const KitModel& model, Chance& chance) {
    std::vector<int> order(model.kit.makings.size()), turn(model.kit.makings.size());
    std::iota(order.begin(), order.end(), 0);
    chance.shuffle(order);
    for (std::size_t i = 0; i < order.size(); ++i) turn[at(order[i])] = static_cast<int>(i);
    std::vector<int> fabrics(at(model.slots));
    std::vector<std::vector<int>> numbers = model.brief.shares;
    for (std::vector<int>& own : numbers) own[layout::index(model.brief.none())] = 0;
    for (int role = 0; role < static_cast<int>(model.kit.roles.size()); ++role) {
        std::vector<int> slots = model.slots_of(role);
        const auto key = [&](int slot) {
            const layout::Slot& s = model.kit.slots[at(slot)];
            return std::pair{s.input, turn[at(s.making)]};
        };
        std::sort(slots.begin(), slots.end(), [&](int i, int j) { return key(i) < key(j); });
        choose_numbers(model, role, chance, numbers);
        std::vector<int> left = numbers[at(role)];
        std::vector<int> cloth(at(model.fabrics));
        std::iota(cloth.begin(), cloth.end(), 0);
        chance.shuffle(cloth);
        std::stable_sort(cloth.begin(), cloth.end(), [&](int f, int g) { return left[at(f)] > left[at(g)]; });
        std::size_t next = 0;
        for (const int slot : slots) {
            while (next + 1 < cloth.size() && left[at(cloth[next])] == 0) ++next;
            --left[at(cloth[next])];
            fabrics[at(slot)] = cloth[next];
        }
    }
    return fabrics;
}

class Choosing {
public:
    Choosing(const KitModel& model, Chance& chance)
        : model_(model),
          chance_(chance),
          batches_(model, deal(model, chance)),
          tabu_(std::size_t{1} << 14, 0) {
        for (int slot = 0; slot < model.slots; ++slot)
            if (model.slots_of(model.role(slot)).size() > 1) movable_.push_back(slot);
    }

    std::vector<layout::FabricId> run(std::int64_t moves) {
        mend();
        if (!movable_.empty()) cool(moves);
        std::vector<layout::FabricId> out;
        for (int slot = 0; slot < model_.slots; ++slot)
            out.push_back(layout::FabricId{static_cast<std::uint16_t>(batches_.fabric(slot))});
        return out;
    }

private:
    // ---- what must hold: a tabu search on broken pairs

    void mend() {
        const std::int64_t patience = 500 + 4 * std::int64_t{model_.slots};
        std::vector<int> best = fabrics();
        std::int64_t fewest = batches_.tally().broken, helped = 0;
        for (step_ = 1; batches_.tally().broken > 0 && step_ < helped + patience; ++step_) {
            mend_one(fewest);
            if (batches_.tally().broken >= fewest) continue;
            fewest = batches_.tally().broken;
            best = fabrics();
            helped = step_;
        }
        for (int slot = 0; slot < model_.slots; ++slot) batches_.set(slot, best[at(slot)]);
    }

    std::vector<int> fabrics() const {
        std::vector<int> out;
        for (int slot = 0; slot < model_.slots; ++slot) out.push_back(batches_.fabric(slot));
        return out;
    }

    std::int64_t& tabu(int slot, int f) {
        return tabu_[(at(slot) * at(model_.fabrics) + at(f)) * 0x9E3779B97F4A7C15ULL >> 50];
    }

    /// The exchange, or the replacement that the counts leave room for, that helps a slot in trouble most.
    void mend_one(std::int64_t fewest) {
        std::vector<int> troubled;
        for (int slot = 0; slot < model_.slots; ++slot)
            if (batches_.in_trouble(slot)) troubled.push_back(slot);
        const int i = troubled[at(chance_.below(static_cast<int>(troubled.size())))];
        const int f = batches_.fabric(i);
        std::int64_t least = INT64_MAX;
        int ties = 0, partner = -1, fabric = -1;
        const auto offer = [&](int j, int g, bool barred) {
            const std::int64_t now = batches_.tally().broken;
            if (barred && now >= fewest) return;
            if (now > least) return;
            ties = now < least ? 1 : ties + 1;
            least = now;
            if (chance_.below(ties) == 0) partner = j, fabric = g;
        };
        const std::vector<int>& others = model_.slots_of(model_.role(i));
        const int n = static_cast<int>(others.size());
        constexpr int most = 300;
        for (int k = 0, from = chance_.below(n); k < std::min(n, most); ++k) {
            const int j = others[at((from + k) % n)], g = batches_.fabric(j);
            if (g == f) continue;
            const bool barred = tabu(i, g) > step_ || tabu(j, f) > step_;
            batches_.exchange(i, j);
            offer(j, g, barred);
            batches_.exchange(i, j);
        }
        for (int g = 0; g < model_.fabrics; ++g) {
            if (!may_replace(i, g)) continue;
            const bool barred = tabu(i, g) > step_;
            batches_.set(i, g);
            offer(-1, g, barred);
            batches_.set(i, f);
        }
        if (fabric < 0) return;
        const std::int64_t until =
            step_ + 5 + static_cast<std::int64_t>(troubled.size()) / 2 + chance_.below(10);
        tabu(i, f) = until;
        if (partner < 0) return batches_.set(i, fabric);
        tabu(partner, fabric) = until;
        batches_.exchange(i, partner);
    }

    bool may_replace(int slot, int g) const {
        const int f = batches_.fabric(slot), role = model_.role(slot);
        if (f == g || at(g) == layout::index(model_.brief.none())) return false;
        const auto& ranges = model_.brief.role_counts[at(role)];
        const auto& totals = model_.brief.counts;
        return batches_.uses(role, f) > ranges[at(f)].least && batches_.uses(role, g) < ranges[at(g)].most &&
               batches_.uses(f) > totals[at(f)].least && batches_.uses(g) < totals[at(g)].most;
    }

    // ---- what is wished for: simulated annealing

    std::pair<int, int> pick() {
        const int i = movable_[at(chance_.below(static_cast<int>(movable_.size())))];
        const std::vector<int>& others = model_.slots_of(model_.role(i));
        return {i, others[at(chance_.below(static_cast<int>(others.size())))]};
    }

    double typical_worsening() {
        double sum = 0;
        int found = 0;
        for (int k = 0; k < 1000 && found < 200; ++k) {
            const auto [i, j] = pick();
            const BatchTally before = batches_.tally();
            batches_.exchange(i, j);
            const std::int64_t step = batches_.tally().cost - before.cost;
            if (batches_.tally().broken <= before.broken && step > 0)
                sum += static_cast<double>(step), ++found;
            batches_.exchange(i, j);
        }
        return found > 0 ? sum / found : 0;
    }

    void cool(std::int64_t moves) {
        constexpr std::int64_t for_each = 1500, fewest = 20'000, most = 600'000;
        if (moves <= 0) moves = std::clamp(for_each * std::int64_t{model_.slots}, fewest, most);
        constexpr double hottest = 0.5, coldest = 0.003; // Of a typical worsening.
        const double hot = hottest * typical_worsening();
        double temperature = hot;
        for (std::int64_t k = 0; k < moves; ++k) {
            if (k % 64 == 0)
                temperature = hot * std::exp(static_cast<double>(k) / static_cast<double>(moves) *
                                             std::log(coldest / hottest));
            const auto [i, j] = pick();
            if (batches_.fabric(i) == batches_.fabric(j)) continue;
            const BatchTally before = batches_.tally();
            batches_.exchange(i, j);
            const BatchTally& after = batches_.tally();
            const std::int64_t step = after.cost - before.cost;
            const bool taken =
                after.broken < before.broken ||
                (after.broken == before.broken &&
                 (step <= 0 || static_cast<double>(step) < temperature * thresholds_.draw(chance_.bits())));
            if (!taken) batches_.exchange(i, j);
        }
    }

    const KitModel& model_;
    Chance& chance_;
    Batches batches_;
    Thresholds thresholds_;
    std::vector<int> movable_;
    std::vector<std::int64_t> tabu_;
    std::int64_t step_ = 0;
};

} // namespace

std::vector<layout::FabricId> choose_batches(const KitModel& model, Chance& chance, std::int64_t moves) {
    return Choosing(model, chance).run(moves);
}

} // namespace motley::placement
