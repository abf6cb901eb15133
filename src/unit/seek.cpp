#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "document/document.h"
#include "fault/fault.h"
#include "unit/run.h"

namespace motley::unit {

namespace {

constexpr double close_enough = 1e-11; ///< Inches.
constexpr double nudge = 1.0 / 64;     ///< For the slopes; any will do where they are constant.
constexpr int most_rounds = 12;

/// Solves a x = b by elimination with the largest pivot; false when there is no single answer.
bool solve(std::vector<std::vector<double>> a, std::vector<double> b, std::vector<double>& x) {
    const std::size_t n = b.size();
    for (std::size_t column = 0; column < n; ++column) {
        std::size_t pivot = column;
        for (std::size_t row = column + 1; row < n; ++row)
            if (std::abs(a[row][column]) > std::abs(a[pivot][column])) pivot = row;
        if (std::abs(a[pivot][column]) < 1e-6) return false;
        std::swap(a[pivot], a[column]);
        std::swap(b[pivot], b[column]);
        for (std::size_t row = column + 1; row < n; ++row) {
            const double times = a[row][column] / a[column][column];
            for (std::size_t k = column; k < n; ++k) a[row][k] -= times * a[column][k];
            b[row] -= times * b[column];
        }
    }
    x.assign(n, 0);
    for (std::size_t row = n; row-- > 0;) {
        double rest = b[row];
        for (std::size_t k = row + 1; k < n; ++k) rest -= a[row][k] * x[k];
        x[row] = rest / a[row][row];
    }
    return true;
}

} // namespace

void seek(const Recipe& recipe, const Order& order, Values& values) {
    std::vector<std::string> sought;
    std::vector<double> sizes;
    for (const Unknown& unknown : recipe.unknowns)
        if (!values.has(unknown.name)) {
            sought.push_back(unknown.name);
            sizes.push_back(values.of(unknown.guess));
        }
    if (sought.empty()) return;

    // Measured less wished, in the order of `sought`; a wish that no step came to counts as not there.
    const auto shortfalls = [&](const std::vector<double>& tried) {
        for (std::size_t i = 0; i < sought.size(); ++i) values.set(sought[i], tried[i]);
        const Run ran = run(recipe, order, values, values, true);
        std::vector<double> found;
        for (const std::string& name : sought) {
            const auto shortfall = std::find_if(ran.shortfalls.begin(), ran.shortfalls.end(),
                                                [&](const Shortfall& s) { return s.finds == name; });
            if (shortfall == ran.shortfalls.end())
                throw Fault(
                    Cause::input, "recipe " + recipe.id,
                    "no step that is done says what " + document::in_quotes(name) + " must bring about",
                    "choose its size, or let a step wish for a measurement that finds it");
            found.push_back(shortfall->by);
        }
        return found;
    };
    for (int round = 0; round < most_rounds; ++round) {
        const std::vector<double> now = shortfalls(sizes);
        const double worst = std::abs(*std::max_element(
            now.begin(), now.end(), [](double a, double b) { return std::abs(a) < std::abs(b); }));
        if (worst < close_enough) return;
        const std::size_t n = sought.size();
        std::vector<std::vector<double>> slopes(n, std::vector<double>(n));
        for (std::size_t k = 0; k < n; ++k) {
            std::vector<double> tried = sizes;
            tried[k] += nudge;
            const std::vector<double> then = shortfalls(tried);
            for (std::size_t i = 0; i < n; ++i) slopes[i][k] = (then[i] - now[i]) / nudge;
        }
        std::vector<double> change;
        if (!solve(slopes, now, change)) break;
        for (std::size_t k = 0; k < n; ++k) sizes[k] -= change[k];
        if (std::any_of(sizes.begin(), sizes.end(),
                        [](double s) { return !(s > 0 && s <= measure::longest.in_inches()); }))
            break;
    }
    throw Fault(Cause::input, "recipe " + recipe.id,
                fmt::format("no size of {} makes a unit that finishes at {} with seams of {}",
                            document::listed(sought), print_set(order.finished, order.measure),
                            print_set(order.seam, order.measure)),
                "ask for another finished size, or choose other measures");
}

} // namespace motley::unit
