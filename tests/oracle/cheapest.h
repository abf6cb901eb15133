#pragma once
/// The least cost of all fillings of a tiny board, by going through every one of them: pairs from a table,
/// expectations from `Ratios`, once for each different collection of units.

#include <algorithm>
#include <map>
#include <optional>

#include "oracle/fillings.h"
#include "oracle/ratios.h"

namespace oracle {

class Cheapest {
public:
    explicit Cheapest(const Brief& brief) : brief_(brief), places_(brief.patches_per_unit()) {}

    /// Empty when there are more than so many fillings. 1e300 when there is none.
    std::optional<double> cost(long most_fillings) {
        left_ = most_fillings;
        Brief turned = brief_;
        turn(turned, 0);
        if (left_ < 0) return std::nullopt;
        return best_;
    }

private:
    void turn(Brief& turned, int cell) {
        if (left_ < 0) return;
        if (cell == brief_.cells()) return fill(turned);
        const int said = brief_.turns[at(cell)];
        for (int t = 0; t < (said < 0 && places_ > 1 ? 4 : 1); ++t) {
            turned.turns[at(cell)] = said < 0 ? t : said;
            turn(turned, cell + 1);
        }
    }

    void fill(const Brief& turned) {
        list_pairs(turned);
        expected_.clear();
        Fillings(turned).visit([&](const std::vector<int>& shown) {
            if (--left_ < 0) return false;
            best_ = std::min(best_, cost_of(turned, shown));
            return true;
        });
    }

    void list_pairs(const Brief& turned) {
        pairs_.clear();
        for (int i = 0; i < turned.patches(); ++i)
            for (int j = 0; j < i; ++j) {
                const int a = i / places_, b = j / places_;
                const Centre one = centre(places_, i % places_, turned.turns[at(a)]),
                             other = centre(places_, j % places_, turned.turns[at(b)]);
                const double dx = other.x + b % turned.columns - one.x - a % turned.columns;
                const double dy = other.y + b / turned.columns - one.y - a / turned.columns;
                pairs_.push_back({i, j, dx * dx + dy * dy});
            }
        like_.assign(brief_.names.size(), std::vector<double>(brief_.names.size()));
        for (std::size_t f = 0; f < like_.size(); ++f)
            for (std::size_t g = 0; g < like_.size(); ++g) {
                const double difference = motley::colour::ciede2000(brief_.labs[f], brief_.labs[g]) / 20;
                like_[f][g] = std::exp(-difference * difference);
            }
    }

    struct Expected {
        double spread, colour, off_aim;
    };

    /// What a shuffle gives hangs on the units alone, not on where they lie.
    const Expected& expected(const Brief& turned, const std::vector<int>& shown) {
        std::vector<std::vector<int>> units;
        for (int cell = 0; cell < turned.cells(); ++cell)
            units.emplace_back(shown.begin() + cell * places_, shown.begin() + (cell + 1) * places_);
        std::sort(units.begin(), units.end());
        const auto [found, fresh] = expected_.try_emplace(units);
        if (!fresh) return found->second;
        const Assignment top = as_assignment(turned, shown);
        const Ratios ratios(turned, top);
        double off = 0;
        for (const double aim : turned.aim)
            for (const std::vector<int>& unit : units) off += std::pow(light(unit) - aim, 2);
        found->second = {ratios.expected(Ratios::Wish::spread), ratios.expected(Ratios::Wish::colour),
                         off / turned.cells() / turned.cells()};
        return found->second;
    }

    double light(const std::vector<int>& unit) const {
        double sum = 0;
        for (const int f : unit) sum += brief_.labs[at(f)].l / places_; // Patches of equal area.
        return sum;
    }

    double cost_of(const Brief& turned, const std::vector<int>& shown) {
        double spread = 0, colour = 0, off = 0;
        for (const Pair& pair : pairs_) {
            const int f = shown[at(pair.i)], g = shown[at(pair.j)];
            if (brief_.exempt[at(f)] || brief_.exempt[at(g)]) continue;
            if (f == g)
                spread += 1 / pair.d2;
            else if (pair.d2 <= 9 + 1e-9)
                colour += like_[at(f)][at(g)] / pair.d2;
        }
        for (int cell = 0; cell < turned.cells() && !turned.aim.empty(); ++cell)
            off += std::pow(light({shown.begin() + cell * places_, shown.begin() + (cell + 1) * places_}) -
                                turned.aim[at(cell)],
                            2) /
                   turned.cells();
        const Expected& mean = expected(turned, shown);
        const auto ratio = [](double found, double out_of) { return out_of > 1e-12 ? found / out_of : 0; };
        const motley::layout::Wishes& w = brief_.wishes;
        return (w.spread * ratio(spread, mean.spread) + w.colour * ratio(colour, mean.colour) +
                (turned.aim.empty() ? 0 : w.value * ratio(off, mean.off_aim))) /
               (w.spread + w.colour + w.value);
    }

    struct Pair {
        int i, j;
        double d2;
    };

    const Brief& brief_;
    int places_;
    long left_ = 0;
    double best_ = 1e300;
    std::vector<Pair> pairs_;
    std::vector<std::vector<double>> like_;
    std::map<std::vector<std::vector<int>>, Expected> expected_;
};

} // namespace oracle
