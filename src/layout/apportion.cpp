#include "layout/apportion.h"

#include <algorithm>
#include <limits>

#include "fault/fault.h"

namespace motley::layout {

namespace {

using Cost = std::int64_t;

constexpr Cost never = std::numeric_limits<Cost>::max() / 4;
constexpr Cost reward = Cost{1} << 56; // For each unit of a lower bound: above any sum of the costs below.
constexpr Cost role_weight =
    Cost{1} << 20; // Above what moving one patch can change in the squares of two totals.

/// The least of many costs that change one at a time (a tournament: every node holds the winner of its two
/// below).
class Lowest {
public:
    explicit Lowest(std::size_t many) : many_(many), costs_(many, never), winner_(2 * many) {
        expects(many > 0);
        for (std::size_t i = 0; i < many; ++i) winner_[many + i] = i;
        for (std::size_t node = many - 1; node > 0; --node) play(node);
    }
    void set(std::size_t i, Cost cost) {
        costs_[i] = cost;
        for (std::size_t node = (many_ + i) / 2; node > 0; node /= 2) play(node);
    }
    std::size_t where() const { return winner_[1]; }
    Cost cost() const { return costs_[where()]; }

private:
    void play(std::size_t node) {
        const std::size_t a = winner_[2 * node], b = winner_[2 * node + 1];
        winner_[node] = costs_[b] < costs_[a] || (costs_[b] == costs_[a] && b < a) ? b : a;
    }

    std::size_t many_;
    std::vector<Cost> costs_;
    std::vector<std::size_t> winner_;
};

/// A flow from roles through fabrics to one sink, grown by one patch at a time along the cheapest path
/// (successive shortest paths, Ford & Fulkerson 1962; convex costs keep it exact). Paths between roles are
/// short, so only roles are nodes of the search.
class Flow {
public:
    explicit Flow(const Bounds& bounds)
        : bounds_(bounds),
          roles_(bounds.roles.size()),
          fabrics_(bounds.totals.size()),
          table_(roles_, std::vector<int>(fabrics_, 0)),
          totals_(fabrics_, 0),
          trades_(roles_ * roles_, Lowest(fabrics_)),
          settles_(roles_, Lowest(fabrics_)) {
        for (std::size_t f = 0; f < fabrics_; ++f) price(f);
    }

    Table run() {
        for (std::size_t role = 0; role < roles_; ++role)
            for (int patch = 0; patch < bounds_.places[role]; ++patch) push(role);
        return std::move(table_);
    }

private:
    /// What the next patch of a bounded amount costs: squares grow by 2 n + 1.
    static Cost next(int n, Range range, Cost weight) {
        if (n >= range.most) return never;
        return weight * (2 * Cost{n} + 1) - (n < range.least ? reward : 0);
    }
    Cost add(std::size_t role, std::size_t f) const {
        return next(table_[role][f], bounds_.roles[role][f], role_weight);
    }
    Cost take(std::size_t role, std::size_t f) const {
        if (table_[role][f] == 0) return never;
        return -next(table_[role][f] - 1, bounds_.roles[role][f], role_weight);
    }
    static Cost sum(Cost a, Cost b) { return a >= never || b >= never ? never : a + b; }

    /// For a role to put a patch on a fabric that `other` gives up.
    Lowest& trade(std::size_t role, std::size_t other) { return trades_[role * roles_ + other]; }

    /// Works out anew what a fabric costs every role.
    void price(std::size_t f) {
        const Cost grow = next(totals_[f], bounds_.totals[f], 1);
        for (std::size_t role = 0; role < roles_; ++role) {
            settles_[role].set(f, sum(add(role, f), grow));
            for (std::size_t other = 0; other < roles_; ++other)
                if (other != role) trade(role, other).set(f, sum(add(role, f), take(other, f)));
        }
    }

    void push(std::size_t source) {
        std::vector<Cost> distance(roles_, never);
        std::vector<std::size_t> before(roles_, source);
        distance[source] = 0;
        find_trades(source, distance, before);
        Cost best = never;
        std::size_t last = source;
        for (std::size_t role = 0; role < roles_; ++role)
            if (const Cost total = sum(distance[role], settles_[role].cost()); total < best)
                best = total, last = role;
        expects(best < never);
        const std::size_t settled = settles_[last].where();
        std::vector<std::size_t> touched{settled};
        ++totals_[settled];
        ++table_[last][settled];
        for (; last != source; last = before[last]) {
            const std::size_t f = trade(before[last], last).where();
            --table_[last][f];
            ++table_[before[last]][f];
            touched.push_back(f);
        }
        for (const std::size_t f : touched) price(f);
    }

    /// Bellman and Ford over the roles.
    void find_trades(std::size_t source, std::vector<Cost>& distance, std::vector<std::size_t>& before) {
        bool changed = true;
        for (std::size_t round = 1; round < roles_ && changed; ++round) {
            changed = false;
            for (std::size_t a = 0; a < roles_; ++a)
                for (std::size_t b = 0; b < roles_; ++b) {
                    if (a == b || b == source) continue;
                    const Cost cost = sum(distance[a], trade(a, b).cost());
                    if (cost >= distance[b]) continue;
                    distance[b] = cost;
                    before[b] = a;
                    changed = true;
                }
        }
    }

    const Bounds& bounds_;
    std::size_t roles_, fabrics_;
    Table table_;
    std::vector<int> totals_;
    std::vector<Lowest> trades_;  ///< [role * roles + other]
    std::vector<Lowest> settles_; ///< By role: for it to put a patch on a fabric that may still grow.
};

/// Sums of a fabric's role bounds inside and outside a set of roles.
struct Split {
    std::int64_t least_in = 0, most_in = 0, least_out = 0, most_out = 0;
};

Split split(const Bounds& bounds, std::size_t fabric, unsigned set) {
    Split sums;
    for (std::size_t role = 0; role < bounds.roles.size(); ++role) {
        const Range& range = bounds.roles[role][fabric];
        const bool in = (set >> role & 1U) != 0;
        (in ? sums.least_in : sums.least_out) += range.least;
        (in ? sums.most_in : sums.most_out) += range.most;
    }
    return sums;
}

Misfit look_at(const Bounds& bounds, unsigned set) {
    Misfit found;
    for (std::size_t role = 0; role < bounds.roles.size(); ++role) {
        found.roles.push_back((set >> role & 1U) != 0);
        if (found.roles.back()) found.patches += bounds.places[role];
    }
    for (std::size_t f = 0; f < bounds.totals.size(); ++f) {
        const Split sums = split(bounds, f, set);
        found.forced += std::max(sums.least_in, bounds.totals[f].least - sums.most_out);
        found.allowed += std::min(sums.most_in, bounds.totals[f].most - sums.least_out);
    }
    return found;
}

} // namespace

std::vector<Misfit> misfits(const Bounds& bounds) {
    const std::size_t roles = bounds.roles.size();
    expects(roles >= 1 && roles <= 16);
    std::vector<Misfit> all;
    for (std::size_t f = 0; f < bounds.totals.size(); ++f) {
        const Split sums = split(bounds, f, 0);
        const Range total = bounds.totals[f];
        bool clash = total.least > sums.most_out || total.most < sums.least_out || total.least > total.most;
        for (std::size_t role = 0; role < roles; ++role)
            clash = clash || bounds.roles[role][f].least > bounds.roles[role][f].most;
        if (clash)
            all.push_back({std::vector<char>(roles, 0), std::min<std::int64_t>(total.most, sums.most_out),
                           std::max<std::int64_t>(total.least, sums.least_out), sums.most_out,
                           static_cast<int>(f)});
    }
    for (unsigned set = (1U << roles) - 1; set > 0; --set) {
        const Misfit found = look_at(bounds, set);
        if (found.forced > found.patches || found.allowed < found.patches)
            all.insert(set == (1U << roles) - 1 ? all.begin() : all.end(), found);
    }
    return all;
}

Table apportion(const Bounds& bounds) {
    const Table table = Flow(bounds).run();
    for (std::size_t f = 0; f < bounds.totals.size(); ++f) {
        int total = 0;
        for (std::size_t role = 0; role < table.size(); ++role) {
            expects(table[role][f] >= bounds.roles[role][f].least);
            total += table[role][f];
        }
        expects(total >= bounds.totals[f].least);
    }
    return table;
}

Bounds tightened(Bounds bounds) {
    for (std::size_t pass = 0; pass < 2 * bounds.roles.size() + 2; ++pass) {
        const Bounds before = bounds;
        for (std::size_t role = 0; role < bounds.roles.size(); ++role) {
            std::int64_t least = 0, most = 0;
            for (const Range& range : before.roles[role]) least += range.least, most += range.most;
            for (std::size_t f = 0; f < bounds.totals.size(); ++f) {
                const Range old = before.roles[role][f];
                const Split sums = split(before, f, 1U << role);
                const std::int64_t low =
                    std::max({std::int64_t{old.least}, bounds.places[role] - (most - old.most),
                              before.totals[f].least - sums.most_out});
                const std::int64_t high =
                    std::min({std::int64_t{old.most}, bounds.places[role] - (least - old.least),
                              before.totals[f].most - sums.least_out});
                bounds.roles[role][f] = {static_cast<int>(low), static_cast<int>(high)};
            }
        }
        for (std::size_t f = 0; f < bounds.totals.size(); ++f) {
            const Split sums = split(bounds, f, 0);
            Range& total = bounds.totals[f];
            total.least = static_cast<int>(std::max<std::int64_t>(total.least, sums.least_out));
            total.most = static_cast<int>(std::min<std::int64_t>(total.most, sums.most_out));
        }
        if (bounds.roles == before.roles && bounds.totals == before.totals) break;
    }
    return bounds;
}

} // namespace motley::layout
