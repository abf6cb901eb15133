#include "placement/exhaust_prices.h"

#include <algorithm>

#include "layout/score.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

double over(double found, double expected) {
    return expected > 1e-12 ? found / expected : 0; // layout/score.h: undefined counts nothing.
}

double mean(const std::vector<double>& all) {
    double sum = 0;
    for (const double x : all) sum += x / static_cast<double>(all.size());
    return sum;
}

double variance(const std::vector<double>& all) {
    const double m = mean(all);
    double sum = 0;
    for (const double x : all) sum += (x - m) * (x - m) / static_cast<double>(all.size());
    return sum;
}

} // namespace

Prices::Prices(const Model& model, const std::vector<int>& turns,
               const std::vector<std::vector<int>>& numbers)
    : model_(model), turns_(turns), numbers_(numbers) {
    const layout::Wishes& wishes = model.brief.wishes;
    const double weights = wishes.spread + wishes.colour + wishes.value;
    measure();
    spread_.weight.assign(at(model.fabrics * model.fabrics), 0);
    for (int f = 0; f < model.fabrics; ++f)
        spread_.weight[at(f * model.fabrics + f)] = model.exempt(f) ? 0 : 1;
    spread_.reach_squared = 1e9;
    spread_.wish = wishes.spread / weights;
    colour_.weight = layout::likeness(model.brief);
    colour_.reach_squared = 9 + 1e-9; // layout/score.h: d <= 3.
    colour_.wish = wishes.colour / weights;
    count_on(spread_);
    count_on(colour_);
    double value = 0;
    if (model.has_aim()) {
        value_wish_ = wishes.value / weights;
        aim_mean_ = mean(model.brief.aim);
        aim_variance_ = variance(model.brief.aim);
        // Units vary most when the lightest of all places lie together.
        std::vector<double> units(at(model.cells));
        for (int p = 0; p < model.places; ++p) {
            std::vector<double> lights;
            for (int f = 0; f < model.fabrics; ++f)
                lights.insert(lights.end(), at(numbers[at(p)][at(f)]), light(p, f));
            std::sort(lights.begin(), lights.end());
            for (std::size_t k = 0; k < lights.size(); ++k) units[k] += lights[k];
        }
        value = value_wish_ * ratio_off(units) / model.cells;
    }
    list_pairs(over(spread_.wish, greatest(spread_)), over(colour_.wish, greatest(colour_)), value);
}

void Prices::measure() {
    for (int i = 0; i < model_.patches; ++i)
        for (int j = 0; j < model_.patches; ++j) {
            const int a = i / model_.places, b = j / model_.places;
            d2_.push_back(model_.contacts.distance_squared(
                model_.brief.board.parity(a / model_.columns), b / model_.columns - a / model_.columns,
                b % model_.columns - a % model_.columns, i % model_.places, turns_[at(a)], j % model_.places,
                turns_[at(b)]));
        }
}

/// A shuffle brings each two units to each two cells equally often. What two places of one unit show takes
/// away from the pairs of different units, and adds what lies inside.
void Prices::count_on(Sum& sum) const {
    const int places = model_.places, cells = model_.cells, fabrics = model_.fabrics;
    if (cells < 2) return;
    std::vector<double> per_pair(
        at(places * places)); // [p][q] 1/d^2 over ordered pairs of units, on average.
    for (int i = 0; i < model_.patches; ++i)
        for (int j = 0; j < model_.patches; ++j)
            if (const double d2 = d2_[at(i * model_.patches + j)];
                i / places != j / places && d2 <= sum.reach_squared)
                per_pair[at(i % places * places + j % places)] += 0.5 / d2 / (cells * (cells - 1.0));
    for (int p = 0; p < places; ++p)
        for (int q = 0; q < places; ++q)
            for (int f = 0; f < fabrics; ++f)
                for (int g = 0; g < fabrics; ++g) {
                    const double pairs =
                        numbers_[at(p)][at(f)] * (numbers_[at(q)][at(g)] - (p == q && f == g ? 1.0 : 0.0));
                    sum.settled += per_pair[at(p * places + q)] * sum.weight[at(f * fabrics + g)] * pairs;
                }
    for (int cell = 0; cell < cells; ++cell)
        for (int p = 0; p < places; ++p)
            for (int q = 0; q < places; ++q) {
                const double d2 = d2_[at((cell * places + p) * model_.patches + cell * places + q)];
                const double inside = d2 > 0 && d2 <= sum.reach_squared ? 1 / d2 : 0;
                sum.share.push_back(inside - per_pair[at(p * places + q)] - per_pair[at(q * places + p)]);
            }
}

double Prices::greatest(const Sum& sum) const {
    double expected = sum.settled;
    const int places = model_.places, fabrics = model_.fabrics;
    for (int cell = 0; cell < model_.cells && model_.cells > 1; ++cell)
        for (int p = 0; p < places; ++p)
            for (int q = p + 1; q < places; ++q) {
                double most = -1e300;
                for (int f = 0; f < fabrics; ++f)
                    for (int g = 0; g < fabrics; ++g)
                        if (numbers_[at(p)][at(f)] > 0 && numbers_[at(q)][at(g)] > 0)
                            most = std::max(most, sum.weight[at(f * fabrics + g)] *
                                                      sum.share[at((cell * places + p) * places + q)]);
                expected += most;
            }
    return expected;
}

double Prices::ratio(const Sum& sum, const std::vector<int>& shown) const {
    double found = 0, expected = sum.settled;
    const int places = model_.places, fabrics = model_.fabrics;
    if (model_.cells < 2) return 0;
    for (int i = 0; i < model_.patches; ++i)
        for (int j = i + 1; j < model_.patches; ++j) {
            const double d2 = d2_[at(i * model_.patches + j)];
            const double weight = sum.weight[at(shown[at(i)] * fabrics + shown[at(j)])];
            if (d2 > 0 && d2 <= sum.reach_squared) found += weight / d2;
            if (i / places == j / places) expected += weight * sum.share[at(i * places + j % places)];
        }
    return sum.wish * over(found, expected);
}

/// One over the expectation (layout/score.h): variances of units and aim, and the square between their means.
double Prices::ratio_off(const std::vector<double>& units) const {
    const double step = mean(units) - aim_mean_;
    return over(1, variance(units) + aim_variance_ + step * step);
}

double Prices::whole(const std::vector<int>& shown) const {
    double cost = ratio(spread_, shown) + ratio(colour_, shown);
    if (value_wish_ <= 0) return cost;
    std::vector<double> units(at(model_.cells));
    for (int i = 0; i < model_.patches; ++i) units[at(i / model_.places)] += light(i, shown[at(i)]);
    double off = 0;
    for (int cell = 0; cell < model_.cells; ++cell)
        off += (units[at(cell)] - model_.brief.aim[at(cell)]) *
               (units[at(cell)] - model_.brief.aim[at(cell)]) / model_.cells;
    return cost + value_wish_ * off * ratio_off(units);
}

double Prices::light(int patch, int f) const {
    return model_.brief.forms.front().patches[at(patch % model_.places)].area * model_.brief.labs[at(f)].l;
}

void Prices::list_pairs(double spread, double colour, double value) {
    const int patches = model_.patches, fabrics = model_.fabrics;
    closest_use_ = spread / std::max(1.0, *std::max_element(d2_.begin(), d2_.end()));
    for (int i = 0; i < patches; ++i)
        for (int f = 0; f < fabrics; ++f) {
            // (a + b - aim)^2 = a (a - 2 aim) + b (b - 2 aim) + 2ab + aim^2, the last once for each unit.
            const double aim = value > 0 ? model_.brief.aim[at(i / model_.places)] : 0;
            alone_.push_back(value * (light(i, f) * (light(i, f) - 2 * aim) + aim * aim / model_.places));
            for (int j = 0; j < patches; ++j)
                for (int g = 0; g < fabrics; ++g) {
                    const double d2 = d2_[at(i * patches + j)];
                    double sum = 0;
                    if (d2 > 0) sum += spread * spread_.weight[at(f * fabrics + g)] / d2;
                    if (d2 > 0 && d2 <= colour_.reach_squared)
                        sum += colour * colour_.weight[at(f * fabrics + g)] / d2;
                    if (i / model_.places == j / model_.places) sum += 2 * value * light(i, f) * light(j, g);
                    pair_.push_back(sum);
                }
        }
}

} // namespace motley::placement
