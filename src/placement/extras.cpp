#include "placement/extras.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstdint>
#include <functional>
#include <map>
#include <tuple>
#include <utility>

#include "layout/extras.h"
#include "layout/mirror.h"
#include "placement/arrange.h"
#include "placement/chance.h"
#include "placement/price.h"
#include "placement/state.h"

namespace motley::placement {

namespace {

using layout::Extra;
using layout::FabricId;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Extras that show one fabric: images of each other, patches of one piece; mostly one alone.
struct Spot {
    std::vector<int> extras;
    int pool = 0;                           ///< Spots of one pool may exchange their fabrics.
    std::vector<int> touches;               ///< Spots that it must differ from.
    std::vector<char> beside;               ///< [fabric] it touches that.
    std::vector<std::pair<int, int>> close; ///< Spots not far away, and how much it counts.
};

/// Of one border (or the cornerstones), one piece of its units and one list of fabrics: used as evenly as can
/// be.
struct Pool {
    std::vector<int> takes;
    std::vector<int> used; ///< [fabric] extras that show it.
    std::vector<int> spots;
};

class Mixing {
public:
    Mixing(const layout::Layout& top, Chance& chance)
        : extras_(layout::extras_of(top)),
          fabrics_(static_cast<int>(top.fabrics.size())),
          same_(layout::same_fabric(top.plan.rules, top.fabrics)),
          chance_(chance) {
        gather();
        find_close(top.plan);
    }

    void run(layout::Layout& top) {
        for (std::size_t s = 0; s < spots_.size(); ++s) fill(static_cast<int>(s));
        mend();
        polish();
        for (std::size_t s = 0; s < spots_.size(); ++s)
            for (const int extra : spots_[s].extras) {
                const Extra& one = extras_[at(extra)];
                auto& list = one.border < 0 ? top.cornerstones : top.borders[at(one.border)];
                if (list.size() <= at(one.number)) list.resize(at(one.number) + 1);
                list[at(one.number)] = FabricId{static_cast<std::uint16_t>(shown_[s])};
            }
    }

private:
    static constexpr int nothing = -1;

    void gather() {
        std::map<int, int> spot_of_first;
        std::vector<int> spot_of;
        std::map<std::tuple<int, int, std::vector<FabricId>>, int> pool_of;
        for (std::size_t e = 0; e < extras_.size(); ++e) {
            const Extra& one = extras_[e];
            const auto [known, fresh] =
                spot_of_first.try_emplace(one.same_as, static_cast<int>(spots_.size()));
            if (fresh) {
                const auto [pool, new_pool] =
                    pool_of.try_emplace({one.border, one.input, one.takes}, static_cast<int>(pools_.size()));
                if (new_pool) {
                    pools_.push_back({{}, std::vector<int>(at(fabrics_)), {}});
                    for (const FabricId f : one.takes)
                        pools_.back().takes.push_back(static_cast<int>(layout::index(f)));
                }
                pools_[at(pool->second)].spots.push_back(known->second);
                spots_.push_back({{}, pool->second, {}, std::vector<char>(at(fabrics_)), {}});
            }
            spot_of.push_back(known->second);
            spots_[at(known->second)].extras.push_back(static_cast<int>(e));
        }
        shown_.assign(spots_.size(), nothing);
        for (std::size_t e = 0; e < extras_.size(); ++e) {
            Spot& spot = spots_[at(spot_of[e])];
            for (const int other : extras_[e].touches)
                if (spot_of[at(other)] != spot_of[e]) spot.touches.push_back(spot_of[at(other)]);
            for (const FabricId f : extras_[e].beside)
                for (int g = 0; g < fabrics_; ++g)
                    if (same(static_cast<int>(layout::index(f)), g)) spot.beside[at(g)] = 1;
        }
        for (Spot& spot : spots_) {
            std::sort(spot.touches.begin(), spot.touches.end());
            spot.touches.erase(std::unique(spot.touches.begin(), spot.touches.end()), spot.touches.end());
        }
    }

    /// Pairs of one border, or of cornerstones, less than three and a half places apart.
    void find_close(const layout::Plan& plan) {
        std::map<int, std::vector<std::pair<double, int>>> across; // By border, from left to right.
        std::vector<int> spot_of(extras_.size());
        for (std::size_t s = 0; s < spots_.size(); ++s)
            for (const int e : spots_[s].extras) {
                spot_of[at(e)] = static_cast<int>(s);
                across[extras_[at(e)].border].emplace_back(extras_[at(e)].middle.x, e);
            }
        for (auto& [border, row] : across) {
            const double place = border >= 0
                                     ? plan.setting.borders[at(border)].width.in_inches()
                                     : plan.finished.in_inches() + plan.setting.sashing->width.in_inches();
            std::sort(row.begin(), row.end());
            for (std::size_t i = 0; i < row.size(); ++i)
                for (std::size_t j = i + 1; j < row.size(); ++j) {
                    if (row[j].first - row[i].first > 3.5 * place) break;
                    const int a = row[i].second, b = row[j].second;
                    const double away = unit::length(extras_[at(a)].middle - extras_[at(b)].middle) / place;
                    const int one = spot_of[at(a)], other = spot_of[at(b)];
                    if (away > 3.5 || one == other) continue;
                    const int weight = static_cast<int>(std::lround(1000 / std::max(0.1, away * away)));
                    spots_[at(one)].close.emplace_back(other, weight);
                    spots_[at(other)].close.emplace_back(one, weight);
                }
        }
    }

    bool same(int f, int g) const { return same_[at(f * fabrics_ + g)] != 0; }

    /// Neighbours that show the same, if the spot showed this.
    int conflicts(int s, int f) const {
        const Spot& spot = spots_[at(s)];
        int count = pools_[at(spot.pool)].takes.size() > 1 && spot.beside[at(f)] ? 1 : 0;
        for (const int other : spot.touches)
            count += shown_[at(other)] != nothing && same(f, shown_[at(other)]);
        return count;
    }

    int crowding(int s, int f) const {
        int sum = 0;
        for (const auto& [other, weight] : spots_[at(s)].close)
            if (shown_[at(other)] == f) sum += weight;
        return sum;
    }

    void show(int s, int f) {
        Pool& pool = pools_[at(spots_[at(s)].pool)];
        const int many = static_cast<int>(spots_[at(s)].extras.size());
        if (shown_[at(s)] != nothing) pool.used[at(shown_[at(s)])] -= many;
        shown_[at(s)] = f;
        pool.used[at(f)] += many;
    }

    /// Of the fabrics that clash least those used least, of these the one least crowded.
    void fill(int s) {
        const Pool& pool = pools_[at(spots_[at(s)].pool)];
        std::vector<int> best;
        std::array<int, 3> least{};
        for (const int f : pool.takes) {
            const std::array<int, 3> cost{conflicts(s, f), pool.used[at(f)], crowding(s, f)};
            if (best.empty() || cost < least) best.clear(), least = cost;
            if (cost == least) best.push_back(f);
        }
        show(s, best[at(chance_.below(static_cast<int>(best.size())))]);
    }

    /// Min-conflicts with a short memory: a spot that clashes takes the fabric that clashes least.
    void mend() {
        constexpr int steps = 20'000;
        std::vector<int> forbidden_until(spots_.size() * at(fabrics_), 0);
        std::vector<int> best_shown = shown_;
        std::size_t fewest = SIZE_MAX;
        for (int step = 1; step <= steps; ++step) {
            std::vector<int> troubled;
            for (std::size_t s = 0; s < spots_.size(); ++s)
                if (conflicts(static_cast<int>(s), shown_[s]) > 0) troubled.push_back(static_cast<int>(s));
            if (troubled.size() < fewest) fewest = troubled.size(), best_shown = shown_;
            if (troubled.empty() || step * static_cast<std::int64_t>(spots_.size()) > 4'000'000) break;
            const int s = troubled[at(chance_.below(static_cast<int>(troubled.size())))];
            const Pool& pool = pools_[at(spots_[at(s)].pool)];
            std::vector<int> choices;
            std::array<int, 3> least{};
            for (const int f : pool.takes) {
                if (f == shown_[at(s)] || forbidden_until[at(s * fabrics_ + f)] > step) continue;
                const std::array<int, 3> cost{conflicts(s, f), pool.used[at(f)], crowding(s, f)};
                if (choices.empty() || cost < least) choices.clear(), least = cost;
                if (cost == least) choices.push_back(f);
            }
            if (choices.empty()) continue;
            forbidden_until[at(s * fabrics_ + shown_[at(s)])] = step + 3 + chance_.below(7);
            show(s, choices[at(chance_.below(static_cast<int>(choices.size())))]);
        }
        for (std::size_t s = 0; s < spots_.size(); ++s) show(static_cast<int>(s), best_shown[s]);
    }

    /// Evens out, and exchanges what stands too close; clashes no more.
    void polish() {
        constexpr int most = 200'000;
        const int tries = std::min(most, 200 * static_cast<int>(spots_.size()));
        for (int i = 0; i < tries; ++i) {
            const Pool& pool = pools_[at(chance_.below(static_cast<int>(pools_.size())))];
            if (pool.takes.size() < 2 || pool.spots.size() < 2) continue;
            const int s = pool.spots[at(chance_.below(static_cast<int>(pool.spots.size())))];
            if (i % 2 == 0) {
                const int f = pool.takes[at(chance_.below(static_cast<int>(pool.takes.size())))];
                const int gap = pool.used[at(shown_[at(s)])] - pool.used[at(f)];
                if (gap > static_cast<int>(spots_[at(s)].extras.size()) &&
                    conflicts(s, f) <= conflicts(s, shown_[at(s)]))
                    show(s, f);
                continue;
            }
            exchange(s, pool.spots[at(chance_.below(static_cast<int>(pool.spots.size())))]);
        }
    }

    void exchange(int s, int other) {
        const int f = shown_[at(s)], g = shown_[at(other)];
        if (f == g || spots_[at(s)].extras.size() != spots_[at(other)].extras.size()) return;
        const auto cost = [&] {
            return std::pair(conflicts(s, shown_[at(s)]) + conflicts(other, shown_[at(other)]),
                             crowding(s, shown_[at(s)]) + crowding(other, shown_[at(other)]));
        };
        const auto before = cost();
        show(s, g), show(other, f);
        if (cost() > before) show(s, f), show(other, g);
    }

    std::vector<Extra> extras_;
    int fabrics_;
    std::vector<char> same_;
    Chance& chance_;
    std::vector<Spot> spots_;
    std::vector<Pool> pools_;
    std::vector<int> shown_; ///< [spot]
};

} // namespace

void mix_extras(layout::Layout& top) {
    const layout::Setting& setting = top.plan.setting;
    top.cornerstones.clear();
    top.borders.clear();
    const bool pieced = std::any_of(setting.borders.begin(), setting.borders.end(),
                                    [](const layout::Border& border) { return border.pieced; });
    if (pieced) top.borders.resize(setting.borders.size());
    if (!pieced && (!setting.sashing || setting.sashing->cornerstones.empty())) return;
    constexpr std::uint64_t stream = 1'000'000; // No restart has this number.
    Chance chance(top.seed, stream);
    Mixing(top, chance).run(top);
}

namespace {

/// The same for units sewn in batches: whole units of one form change places.
void keep_units_off(layout::Layout& top, const layout::Brief& brief,
                    const std::map<int, FabricId>& border_of) {
    const Wall wall(brief);
    const Units units(wall, top.assignment.slots);
    const Prices nothing;
    Hanging hanging(units, nothing, {top.assignment.units, top.assignment.turns}, false);
    const int places = brief.patches_per_unit();
    const auto clashes = [&](int cell, int unit) {
        const std::vector<int>& slots = wall.kit.units[at(unit)].slots;
        for (std::size_t p = 0; p < slots.size(); ++p) {
            const auto found = border_of.find(cell * places + static_cast<int>(p));
            if (found != border_of.end() &&
                units.same(static_cast<int>(layout::index(units.slots[at(slots[p])])),
                           static_cast<int>(layout::index(found->second))))
                return true;
        }
        return false;
    };
    for (const int a : wall.places) {
        if (!clashes(a, hanging.unit(a))) continue;
        for (const int b : wall.places) {
            const int u = hanging.unit(a), v = hanging.unit(b);
            if (units.form(u) != units.form(v) || clashes(a, v) || clashes(b, u)) continue;
            const Hanging::Change change = hanging.exchange(a, b);
            const Hanging::Breaks breaks = hanging.breaks(change);
            if (breaks.rules > 0 || breaks.twins > 0) continue;
            hanging.make(change);
            break;
        }
    }
    top.assignment = spell_out(units, hanging.hung());
}

using Orbit = std::vector<int>;

/// Where no single exchange helps: a tabu walk that may break rules on its way. True when it came to a top
/// without a clash and without a broken rule.
bool walk_off(State& state, const std::vector<std::vector<const Orbit*>>& groups,
              const std::function<bool(const Orbit&)>& clashes, std::uint64_t seed) {
    constexpr std::uint64_t stream = 1'000'001; // No restart has this number.
    constexpr int steps = 2'000, looks = 150;
    Chance chance(seed, stream);
    std::map<std::pair<const Orbit*, int>, int>
        barred; // Until which step an orbit may not show a fabric again.
    const auto exchange = [&](const Orbit& a, const Orbit& b) {
        for (std::size_t k = 0; k < a.size(); ++k) state.exchange(a[k], b[k]);
    };
    for (int step = 1; step <= steps; ++step) {
        std::vector<std::pair<const std::vector<const Orbit*>*, const Orbit*>> troubled;
        for (const auto& group : groups)
            for (const Orbit* one : group)
                if (clashes(*one) ||
                    std::any_of(one->begin(), one->end(), [&](int patch) { return state.in_trouble(patch); }))
                    troubled.emplace_back(&group, one);
        if (troubled.empty()) return state.tally().broken == 0;
        const auto& [group, a] = troubled[at(chance.below(static_cast<int>(troubled.size())))];
        const int n = static_cast<int>(group->size()), from = chance.below(n);
        const Orbit* best = nullptr;
        std::int64_t least = 0;
        for (int k = 0; k < std::min(n, looks); ++k) {
            const Orbit* b = (*group)[at((from + k) % n)];
            const int f = state.fabric(a->front()), g = state.fabric(b->front());
            if (f == g) continue;
            const std::int64_t before = state.tally().broken + 2 * (clashes(*a) + clashes(*b));
            exchange(*a, *b);
            const std::int64_t change = state.tally().broken + 2 * (clashes(*a) + clashes(*b)) - before;
            exchange(*a, *b);
            const bool tabu = barred[{a, g}] > step || barred[{b, f}] > step;
            if (!tabu && (!best || change < least)) best = b, least = change;
        }
        if (!best) continue;
        barred[{a, state.fabric(a->front())}] = step + 5 + chance.below(10);
        barred[{best, state.fabric(best->front())}] = step + 5 + chance.below(10);
        exchange(*a, *best);
    }
    return false;
}

} // namespace

void keep_off_borders(layout::Layout& top, const layout::Brief& brief) {
    const auto edge = layout::patches_at_borders(top);
    if (edge.empty()) return;
    const std::vector<char> same = layout::same_fabric(brief);
    const std::map<int, FabricId> border_of(edge.begin(), edge.end());
    if (brief.kit) return keep_units_off(top, brief, border_of);
    const Model model(brief);
    Price price(model, top.assignment);
    State state(model, top.assignment, price.watch());
    price.set_base(state.base());
    const auto clashes = [&](const std::vector<int>& orbit) {
        return std::any_of(orbit.begin(), orbit.end(), [&](int patch) {
            const auto found = border_of.find(patch);
            return found != border_of.end() &&
                   same[at(state.fabric(patch)) * brief.names.size() + layout::index(found->second)] != 0;
        });
    };
    const layout::Orbits orbits = layout::orbits(brief, brief.symmetry);
    std::map<std::vector<int>, std::vector<const std::vector<int>*>> alike; // By places in their units.
    for (const auto& orbit : orbits.patches) {
        std::vector<int> places;
        for (const int patch : orbit) places.push_back(patch % model.places);
        if (std::all_of(orbit.begin(), orbit.end(),
                        [&](int patch) { return brief.pinned[at(patch)] == layout::no_fabric; }))
            alike[places].push_back(&orbit);
    }
    const auto exchange = [&](const std::vector<int>& a, const std::vector<int>& b) {
        for (std::size_t k = 0; k < a.size(); ++k) state.exchange(a[k], b[k]);
    };
    const std::int64_t broken = state.tally().broken;
    for (const auto& [places, group] : alike)
        for (const auto* one : group) {
            if (!clashes(*one)) continue;
            const std::vector<int>* best = nullptr;
            double least = 0;
            for (const auto* other : group) {
                if (state.fabric(one->front()) == state.fabric(other->front()) || clashes(*other)) continue;
                const Tally before = state.tally();
                exchange(*one, *other);
                const double cost = price.of(before, state.tally() - before);
                if (state.tally().broken <= broken && !clashes(*one) && !clashes(*other) &&
                    (!best || cost < least))
                    best = other, least = cost;
                exchange(*one, *other);
            }
            if (best) exchange(*one, *best);
        }
    top.assignment = state.assignment();
    std::vector<std::vector<const std::vector<int>*>> groups;
    bool left = false;
    for (auto& [places, group] : alike) {
        left =
            left || std::any_of(group.begin(), group.end(), [&](const auto* one) { return clashes(*one); });
        groups.push_back(std::move(group));
    }
    if (left && broken == 0 && walk_off(state, groups, clashes, top.seed))
        top.assignment = state.assignment();
}

} // namespace motley::placement
