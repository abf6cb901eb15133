#include "colour/value.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <limits>

#include "fault/fault.h"

namespace motley::colour {
namespace {

// Running sums over the distinct numbers in rising order, so that the cost of any run is one expression.
class Runs {
public:
    explicit Runs(std::span<const double> numbers) {
        std::vector<double> sorted(numbers.begin(), numbers.end());
        std::sort(sorted.begin(), sorted.end());
        // Measured from the middle: squares of large numbers would swallow small differences.
        const double middle = sorted[sorted.size() / 2];
        double weight = 0, sum = 0, squares = 0;
        for (std::size_t i = 0; i < sorted.size(); ++i) {
            const double offset = sorted[i] - middle;
            weight += 1.0;
            sum += offset;
            squares += offset * offset;
            if (i + 1 < sorted.size() && sorted[i + 1] == sorted[i]) continue;
            distinct_.push_back(sorted[i]);
            weight_.push_back(weight);
            sum_.push_back(sum);
            squares_.push_back(squares);
        }
    }

    const std::vector<double>& distinct() const { return distinct_; }

    // Sum of squared distances of the distinct numbers [begin, end), each as often as it occurs, to their
    // mean.
    double cost(std::size_t begin, std::size_t end) const {
        if (end - begin == 1) return 0.0; // Exactly, whatever the sums have lost.
        const double sum = sum_[end] - sum_[begin];
        const double weight = weight_[end] - weight_[begin];
        return std::max(0.0, squares_[end] - squares_[begin] - sum * sum / weight);
    }

private:
    std::vector<double> distinct_;
    std::vector<double> weight_ = {0.0}, sum_ = {0.0}, squares_ = {0.0}; // One longer than distinct_.
};

// The first distinct number of each class, best for the sum of squares: least[c][end] is the least cost of
// [0, end) in c + 1 classes.
std::vector<std::size_t> cut(const Runs& runs, std::size_t class_count) {
    const std::size_t size = runs.distinct().size();
    std::vector<double> least(size + 1);
    for (std::size_t end = 1; end <= size; ++end) least[end] = runs.cost(0, end);
    std::vector<std::vector<std::size_t>> start(class_count, std::vector<std::size_t>(size + 1, 0));
    for (std::size_t c = 1; c < class_count; ++c) {
        std::vector<double> better(size + 1, std::numeric_limits<double>::infinity());
        for (std::size_t end = c + 1; end <= size; ++end)
            for (std::size_t begin = end - 1; begin >= c; --begin) {
                const double last = runs.cost(begin, end);
                if (last > better[end]) break; // A longer last class only costs more.
                if (least[begin] + last < better[end]) {
                    better[end] = least[begin] + last;
                    start[c][end] = begin;
                }
            }
        least = std::move(better);
    }
    std::vector<std::size_t> starts(class_count, 0);
    std::size_t end = size;
    for (std::size_t c = class_count; c-- > 1;) starts[c] = end = start[c][end];
    return starts;
}

struct Class {
    double sum = 0, count = 0;
    double mean() const { return sum / count; }
};

std::vector<Class> tally(std::span<const double> numbers, const std::vector<int>& class_of) {
    std::vector<Class> tally;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        const auto c = static_cast<std::size_t>(class_of[i]);
        if (c >= tally.size()) tally.resize(c + 1);
        tally[c].sum += numbers[i];
        tally[c].count += 1.0;
    }
    return tally;
}

bool stand_apart(const std::vector<Class>& tally, double floor) {
    for (std::size_t c = 1; c < tally.size(); ++c)
        if (tally[c].mean() - tally[c - 1].mean() < floor) return false;
    return true;
}

Value alone(double mean) {
    if (mean >= 65.0) return Value::light;
    return mean < 40.0 ? Value::dark : Value::medium;
}

} // namespace

std::string_view name(Value value) {
    switch (value) {
        case Value::light:
            return "light";
        case Value::medium:
            return "medium";
        case Value::dark:
            return "dark";
    }
    return {};
}

std::vector<int> classes(std::span<const double> numbers, int k) {
    expects(k >= 1);
    for (const double number : numbers) expects(std::isfinite(number));
    if (numbers.empty()) return {};
    const Runs runs(numbers);
    const std::vector<double>& distinct = runs.distinct();
    const auto starts = cut(runs, std::min(static_cast<std::size_t>(k), distinct.size()));
    std::vector<int> class_of;
    class_of.reserve(numbers.size());
    for (const double number : numbers) {
        int c = 0;
        for (std::size_t next = 1; next < starts.size() && number >= distinct[starts[next]]; ++next) ++c;
        class_of.push_back(c);
    }
    return class_of;
}

std::vector<Value> values(std::span<const double> lightness, double floor) {
    expects(floor >= 0.0);
    if (lightness.empty()) return {};
    std::vector<int> class_of;
    std::vector<Class> found;
    for (int k = 3; k >= 1; --k) {
        class_of = classes(lightness, k);
        found = tally(lightness, class_of);
        if (stand_apart(found, floor)) break;
    }
    std::vector<Value> names = {alone(found.front().mean())};
    if (found.size() == 2) names = {Value::dark, Value::light};
    if (found.size() == 3) names = {Value::dark, Value::medium, Value::light};
    std::vector<Value> result;
    result.reserve(class_of.size());
    for (const int c : class_of) result.push_back(names[static_cast<std::size_t>(c)]);
    return result;
}

} // namespace motley::colour
