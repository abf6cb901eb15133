#include "placement/arrange.h"

#include <algorithm>
#include <cmath>

#include "layout/score.h"
#include "placement/cooling.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Shares of the wishes' whole weight.
constexpr double twins_share = 0.1, stripes_share = 0.05;

constexpr int link_bits = 14;

/// Mean of the pulls over all pairs of cells that hold a unit.
double mean_pull(const Wall& wall) {
    double sum = 0, pairs = 0;
    const int n = static_cast<int>(wall.places.size());
    // A few hundred cells tell it well enough, and stand for what a shuffle gives.
    const int stride = std::max(1, n / 400);
    for (int i = 0; i < n; i += stride)
        for (const int b : wall.places)
            if (wall.places[at(i)] != b) {
                sum += std::ldexp(wall.pull(wall.places[at(i)], b), -Wall::pull_bits);
                pairs += 1;
            }
    return pairs > 0 ? sum / pairs : 0;
}

double expected_twins(const Units& units) {
    const double n = static_cast<double>(units.wall.places.size()), all = units.count();
    double pairs = 0;
    for (const std::vector<int>& group : units.groups())
        pairs += 0.5 * static_cast<double>(group.size()) * static_cast<double>(group.size() - 1);
    if (all < 2) return 0;
    return pairs * n * (n - 1) / (all * (all - 1)) * mean_pull(units.wall);
}

/// Pairs side by side whose stripes run one way.
double expected_stripes(const Units& units, const Hung& hung) {
    const Wall& wall = units.wall;
    double beside = 0;
    std::vector<double> ways;
    for (const int cell : wall.places) {
        for (const Wall::Neighbour near : wall.around(cell)) beside += 0.5 * wall.beside(near.way);
        const int way = wall.stripes(units.pose(hung.units[at(cell)], hung.turns[at(cell)]));
        if (way < 0) continue;
        if (way >= static_cast<int>(ways.size())) ways.resize(at(way + 1));
        ways[at(way)] += 1.0 / static_cast<double>(wall.places.size());
    }
    double alike = 0;
    for (const double share : ways) alike += share * share;
    return beside * alike;
}

/// What spread and colour come to in the score, [cost of 1 / d^2].
struct LinkWeights {
    double spread = 0, colour = 0, twins = 0, stripes = 0;
};

void set_links(Prices& prices, const Units& units, const LinkWeights& weights,
               const std::vector<double>& like) {
    const bool linked = weights.spread > 0 || weights.colour > 0;
    const double most =
        linked ? std::max(weights.spread, weights.colour) : std::max(weights.twins, weights.stripes);
    const auto whole = [&](double weight, int bits) {
        constexpr double widest = 1 << 12; // Times the heaviest link.
        const double share = most > 0 ? std::min(weight / most, widest) : 0;
        return static_cast<std::int64_t>(std::floor(std::ldexp(share, bits) + 0.5));
    };
    prices.same = static_cast<std::int32_t>(whole(weights.spread, link_bits));
    prices.twins = static_cast<std::int32_t>(whole(weights.twins, link_bits));
    prices.stripes = whole(weights.stripes, link_bits + Wall::pull_bits);
    prices.link = std::ldexp(most, -link_bits - Wall::pull_bits);
    prices.links.clear();
    for (const double alike : like)
        prices.links.push_back(static_cast<std::int32_t>(whole(weights.colour * alike, link_bits)));
    for (int f = 0; f < units.fabrics; ++f)
        if (!units.exempt(f)) prices.links[at(f * units.fabrics + f)] = prices.same;
    prices.asks_nothing = false;
}

/// How far the sum of links goes from shuffle to shuffle (standard deviation). A sum over pairs of cells
/// changes by one exchange with a mean square of 8 / n times its variance (the walk of random transpositions
/// has the eigenvalue 1 - 4 / n there).
double wavering(const Units& units, const LinkWeights& weights, const std::vector<double>& like, Hung hung,
                Chance& chance) {
    const std::vector<int>& places = units.wall.places;
    for (std::size_t i = places.size(); i > 1; --i)
        std::swap(hung.units[at(places[i - 1])],
                  hung.units[at(places[at(chance.below(static_cast<int>(i)))])]);
    Prices prices;
    set_links(prices, units, weights, like);
    const Hanging hanging(units, prices, std::move(hung), true);
    const int n = static_cast<int>(places.size());
    constexpr int samples = 400;
    double sum = 0;
    for (int k = 0; k < samples; ++k) {
        const int a = places[at(chance.below(n))], b = places[at(chance.below(n))];
        if (a == b) continue;
        const double step = prices.link * static_cast<double>(hanging.gain(hanging.exchange(a, b)).links);
        sum += step * step / samples;
    }
    return std::sqrt(sum * n / 8);
}

/// Of two wishes of equal weight, one that shuffles hardly change (most of `colour` can lie inside the units)
/// would be given up for little of the other. So a wish counts for more the less it wavers.
double lift(double weight, double waver) {
    constexpr double usual = 0.1, most = 8;
    return weight > 0 && waver > 0 ? std::clamp(usual * weight / waver, 1.0, most) : 1.0;
}

} // namespace

Prices prices_of(const Units& units, const Hung& hung, Chance& chance) {
    const Wall& wall = units.wall;
    const layout::Brief& brief = wall.brief;
    const layout::Wishes& wishes = brief.wishes;
    Prices prices;
    prices.in_window = brief.board.window_units();
    prices.units = brief.board.units();
    const double weights = wishes.spread + wishes.colour + wishes.value;
    if (weights <= 0 || wall.places.size() < 2) return prices;
    const layout::Sums sums = layout::sums(brief, spell_out(units, hung));
    const auto per = [](double weight, double expected) {
        return expected > 1e-12 ? weight / expected : 0.0;
    };
    const std::vector<double> like = layout::likeness(brief);
    LinkWeights links{per(wishes.spread / weights, sums.spread.expected),
                      per(wishes.colour / weights, sums.colour.expected), 0, 0};
    const double spread_wavers = wavering(units, {links.spread, 0, 0, 0}, like, hung, chance);
    const double colour_wavers = wavering(units, {0, links.colour, 0, 0}, like, hung, chance);
    links.spread *= lift(wishes.spread / weights, spread_wavers);
    links.colour *= lift(wishes.colour / weights, colour_wavers);
    links.twins = per(twins_share, expected_twins(units));
    links.stripes = per(stripes_share, expected_stripes(units, hung));
    set_links(prices, units, links, like);
    prices.windows = wall.light_map.windows;
    const double light = LightMap::steps * LightMap::steps;
    const double squares = brief.aim.empty() ? light * prices.in_window * prices.in_window * prices.windows
                                             : light * prices.units;
    prices.square = squares > 0 ? per(wishes.value / weights, sums.value.expected * squares) : 0;
    return prices;
}

namespace {

/// Window sums are taken from `base`; the score takes them from the mean of the top as it is, which spare
/// units can move: sum (s - d)^2 = sum s^2 - 2 d sum s + windows d^2 for s less base, d the mean's distance
/// to it.
double light_cost(const Prices& prices, const LightTally& all, double base) {
    double squares = static_cast<double>(all.squares);
    if (prices.windows > 0) {
        const double off = prices.in_window * static_cast<double>(all.light) / prices.units - base;
        squares += off * (prices.windows * off - 2 * static_cast<double>(all.windows));
    }
    return prices.square * squares;
}

double step_cost(const Prices& prices, const LightTally& now, const HangingTally& gain, double base) {
    double squares = static_cast<double>(gain.light.squares);
    if (prices.windows > 0) {
        const double per_light = prices.in_window / prices.units;
        const double off = per_light * static_cast<double>(now.light) - base;
        const double then = per_light * static_cast<double>(now.light + gain.light.light) - base;
        squares +=
            then * (prices.windows * then - 2 * static_cast<double>(now.windows + gain.light.windows)) -
            off * (prices.windows * off - 2 * static_cast<double>(now.windows));
    }
    return prices.link * static_cast<double>(gain.links) + prices.square * squares;
}

class Rearranging {
public:
    Rearranging(const Units& units, const Prices& prices, const Hung& start, Chance& chance,
                const AnnealEffort& effort)
        : units_(units),
          wall_(units.wall),
          prices_(prices),
          hanging_(units, prices, start, true),
          chance_(chance),
          effort_(effort) {
        for (int unit = 0; unit < units.count(); ++unit)
            if (hanging_.cell_of(unit) < 0) spare_.push_back(unit);
        for (const int cell : wall_.places)
            if (wall_.turn(cell) < 0) turnable_.push_back(cell);
    }

    Arranged run() {
        if (!prices_.asks_nothing && wall_.places.size() > 1) {
            cool();
            descend();
        }
        return {hanging_.hung(), hanging_.tally(), moves_};
    }

private:
    double cost(const Hanging::Change& change) const {
        return step_cost(prices_, hanging_.tally().light, hanging_.gain(change), hanging_.base());
    }
    bool allowed(const Hanging::Change& change) const {
        const Hanging::Breaks broken = hanging_.breaks(change);
        return broken.rules < 0 || (broken.rules == 0 && broken.twins <= 0);
    }

    // Mean worsening of sampled exchanges, the scale of temperatures.
    double typical_worsening() {
        double sum = 0;
        int found = 0;
        for (int k = 0; k < 4000 && found < 400; ++k) {
            const auto [a, b] = pick_pair();
            if (b < 0 || !allowed(hanging_.exchange(a, b))) continue;
            const double step = cost(hanging_.exchange(a, b));
            if (step > 0) sum += step, ++found;
        }
        return found > 0 ? sum / found : 0;
    }

    void cool() {
        const double scale = typical_worsening();
        if (scale <= 0) return;
        const Cooling cooling(effort_, scale * hottest, scale * coldest);
        while (const std::optional<double> temperature = cooling.after(moves_)) {
            temperature_ = *temperature;
            for (int k = 0; k < batch; ++k) step();
            moves_ += batch;
            if (effort_.tried) effort_.tried(batch);
        }
    }

    /// No heat left: as many changes as it takes for a whole pass to bring nothing, within reason.
    void descend() {
        temperature_ = 0;
        const std::size_t n = wall_.places.size();
        if (n > most_for_descent) return;
        for (bool better = true; better && !effort_.stop.stop_requested();) {
            better = false;
            for (std::size_t i = 0; i < n; ++i)
                for (std::size_t j = i + 1; j < n; ++j)
                    better = try_exchange(wall_.places[i], wall_.places[j]) || better;
            for (const int cell : turnable_)
                for (int t = 0; t < 4; ++t) better = try_turn(cell, t) || better;
            for (const int cell : wall_.places)
                for (std::size_t k = 0; k < spare_.size(); ++k) better = try_replace(cell, k) || better;
        }
    }

    void step() {
        const std::uint32_t kind = chance_.bits() % 16;
        if (!turnable_.empty() && kind < 2) {
            const int cell = turnable_[at(chance_.below(static_cast<int>(turnable_.size())))];
            try_turn(cell, (hanging_.turn(cell) + 1 + chance_.below(3)) % 4);
        } else if (!spare_.empty() && kind == 2) {
            const int cell = wall_.places[at(chance_.below(static_cast<int>(wall_.places.size())))];
            try_replace(cell, at(chance_.below(static_cast<int>(spare_.size()))));
        } else {
            const auto [a, b] = pick_pair();
            if (b >= 0) try_exchange(a, b);
        }
    }

    /// Two cells, or a cell and -1. Near ones are asked about more often than chance would have it: a short
    /// step changes little, so it is taken when it has become too cold for long ones.
    std::pair<int, int> pick_pair() {
        const int n = static_cast<int>(wall_.places.size());
        const int a = wall_.places[at(chance_.below(n))];
        if (chance_.bits() % 2 == 0) {
            const int r = a / wall_.columns + chance_.below(2 * near_reach + 1) - near_reach;
            const int c = a % wall_.columns + chance_.below(2 * near_reach + 1) - near_reach;
            if (r < 0 || r >= wall_.rows || c < 0 || c >= wall_.columns) return {a, -1};
            const int b = r * wall_.columns + c;
            return {a, b != a && hanging_.unit(b) >= 0 ? b : -1};
        }
        const int b = wall_.places[at(chance_.below(n))];
        return {a, b == a ? -1 : b};
    }

    bool taken(double step) {
        if (step <= 0) return true;
        return temperature_ > 0 && step < temperature_ * thresholds_.draw(chance_.bits());
    }

    /// True when the change was made and made things better.
    bool attempt(const Hanging::Change& change) {
        if (!allowed(change)) return false;
        const double step = cost(change);
        if (!taken(step)) return false;
        // Without heat, sideways steps would go on for ever.
        if (temperature_ <= 0 && step >= -1e-15) return false;
        hanging_.make(change);
        return step < 0;
    }

    bool try_exchange(int a, int b) {
        if (units_.identical(hanging_.unit(a), hanging_.unit(b)) &&
            units_.twins(hanging_.unit(a)) == units_.twins(hanging_.unit(b)))
            return false;
        return attempt(hanging_.exchange(a, b));
    }

    bool try_turn(int cell, int to) {
        return to != hanging_.turn(cell) && attempt(hanging_.turning(cell, to));
    }

    bool try_replace(int cell, std::size_t spare) {
        const int u = hanging_.unit(cell);
        const Hanging::Change change = hanging_.replace(cell, spare_[spare]);
        const bool better = attempt(change);
        if (hanging_.unit(cell) == change.unit_a) spare_[spare] = u;
        return better;
    }

    static constexpr int batch = 256;
    static constexpr int near_reach = 3;
    static constexpr std::size_t most_for_descent = 300;
    static constexpr double hottest = 0.2, coldest = 0.0003;

    const Units& units_;
    const Wall& wall_;
    const Prices& prices_;
    Hanging hanging_;
    Chance& chance_;
    const AnnealEffort& effort_;
    Thresholds thresholds_;
    std::vector<int> spare_, turnable_;
    double temperature_ = 0;
    std::int64_t moves_ = 0;
};

} // namespace

double cost_of(const Prices& prices, const Hanging& hanging) {
    return prices.link * static_cast<double>(hanging.tally().links) +
           light_cost(prices, hanging.tally().light, hanging.base());
}

Arranged rearrange(const Units& units, const Prices& prices, const Hung& start, Chance& chance,
                   const AnnealEffort& effort) {
    return Rearranging(units, prices, start, chance, effort).run();
}

layout::Assignment spell_out(const Units& units, const Hung& hung) {
    layout::Assignment out;
    out.units = hung.units;
    out.turns = hung.turns;
    out.slots = units.slots;
    layout::spell_out(units.wall.kit, units.wall.brief.patches_per_unit(), units.wall.brief.none(), out);
    return out;
}

} // namespace motley::placement
