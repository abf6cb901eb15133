#include "scene/light.h"

#include <algorithm>
#include <cmath>

#include "colour/space.h"
#include "fault/fault.h"

namespace motley::scene {

namespace {

constexpr double least_light = 1e-4;
constexpr std::array<double, 6> slacks{1.0, 0.3, 0.1, 0.06, 0.04, 0.03}; // Of the logarithms, round by round.

/// Values of the cubic B-splines over [0, 1] at a code value; four of them are not 0.
std::array<double, Light::knots> splines(double code) {
    constexpr int pieces = static_cast<int>(Light::knots) - 3;
    const double along = std::clamp(code, 0.0, 1.0) * pieces;
    const int piece = std::min(static_cast<int>(along), pieces - 1);
    const double t = along - piece, s = 1 - t;
    std::array<double, Light::knots> out{};
    const auto first = static_cast<std::size_t>(piece);
    out[first] = s * s * s / 6;
    out[first + 1] = (3 * t * t * t - 6 * t * t + 4) / 6;
    out[first + 2] = (3 * s * s * s - 6 * s * s + 4) / 6;
    out[first + 3] = t * t * t / 6;
    return out;
}

double spline_sum(const std::array<double, Light::knots>& weights, double light) {
    const auto values = splines(colour::encode(light));
    double sum = 0;
    for (std::size_t k = 0; k < weights.size(); ++k) sum += weights[k] * values[k];
    return sum;
}

/// One sighting of one channel: sum of row * unknowns = wanted.
struct Equation {
    std::size_t channel = 0;
    std::array<double, Light::terms> field{};
    std::array<double, Light::knots> tone{};
    double wanted = 0, weight = 1;
};

class Fit {
public:
    Fit(const std::vector<Known>& known, const LightTask& task) : task_(task) {
        constexpr std::array<std::size_t, 4> up_to{1, 3, 6, 10};
        used_ = up_to.at(static_cast<std::size_t>(task.degree));
        for (const Known& one : known)
            for (std::size_t c = 0; c < 3; ++c) {
                const double seen = std::max(one.seen[c], least_light);
                Equation equation;
                equation.channel = c;
                equation.field = Light::powers(one.at);
                if (task.tone) equation.tone = splines(colour::encode(seen));
                equation.wanted = std::log(seen) - std::log(one.reflectance);
                equation.weight = one.weight / (1 + 4e-4 / (seen * seen)); // Noise is more of little light.
                equations_.push_back(equation);
            }
    }

    Light run() {
        Light light;
        if (task_.start) light = *task_.start;
        for (const double slack : slacks)
            if (!task_.start || slack <= 0.1) light = round(light, slack);
        std::vector<double> off;
        for (const Equation& equation : equations_)
            if (equation.weight > 0.1) off.push_back(std::abs(miss(light, equation)));
        light.spread = off.empty() ? 1 : 1.4826 * median(off);
        if (task_.tone) light.tabulate();
        return light;
    }

private:
    double miss(const Light& light, const Equation& equation) const {
        double sum = -equation.wanted;
        for (std::size_t i = 0; i < used_; ++i)
            sum += light.field_terms[equation.channel][i] * equation.field[i];
        for (std::size_t k = 0; k < Light::knots; ++k) sum -= light.tone[k] * equation.tone[k];
        return sum;
    }

    Light round(const Light& before, double slack) const {
        const bool first = slack == slacks.front() && !task_.start;
        const std::size_t tones = task_.tone ? Light::knots : 0, n = 3 * used_ + tones;
        std::vector<double> matrix(n * n, 0.0), right(n, 0.0), row(n);
        double total = 0;
        for (const Equation& equation : equations_) {
            const double miss_of = first ? 0 : miss(before, equation);
            const double off = miss_of / slack * (miss_of > 0 ? 1.6 : 1.0); // Above 0: darker than the fit.
            const double weight = equation.weight / ((1 + off * off) * (1 + off * off));
            std::fill(row.begin(), row.end(), 0.0);
            for (std::size_t i = 0; i < used_; ++i) row[equation.channel * used_ + i] = equation.field[i];
            for (std::size_t k = 0; k < tones; ++k) row[3 * used_ + k] = -equation.tone[k];
            add(matrix, right, row, equation.wanted, weight);
            total += weight;
        }
        for (std::size_t c = 0; c < 3; ++c) // A touch towards flat light where nothing is known.
            for (std::size_t i = 1; i < used_; ++i) {
                const std::size_t at = c * used_ + i;
                matrix[at * n + at] += total * (i >= 6 ? 1e-4 : 1e-5);
            }
        if (tones > 0) add_smoothness(matrix, right, n, total);
        Light light;
        const auto found = solved(std::move(matrix), std::move(right));
        if (!found) return before;
        for (std::size_t c = 0; c < 3; ++c)
            for (std::size_t i = 0; i < used_; ++i) light.field_terms[c][i] = (*found)[c * used_ + i];
        for (std::size_t k = 0; k < tones; ++k) light.tone[k] = (*found)[3 * used_ + k];
        return light;
    }

    /// The spline bends as little as it can, and is 0 on the whole: what it would add to all is the light's.
    void add_smoothness(std::vector<double>& matrix, std::vector<double>& right, std::size_t n,
                        double total) const {
        std::vector<double> row(n);
        for (std::size_t k = 0; k + 2 < Light::knots; ++k) {
            std::fill(row.begin(), row.end(), 0.0);
            row[3 * used_ + k] = row[3 * used_ + k + 2] = 1;
            row[3 * used_ + k + 1] = -2;
            add(matrix, right, row, 0, total * 2e-4);
        }
        std::fill(row.begin(), row.end(), 0.0);
        for (std::size_t k = 0; k < Light::knots; ++k) row[3 * used_ + k] = 1;
        add(matrix, right, row, 0, total * 1e-3);
    }

    static void add(std::vector<double>& matrix, std::vector<double>& right, const std::vector<double>& row,
                    double wanted, double weight) {
        const std::size_t n = row.size();
        for (std::size_t a = 0; a < n; ++a) {
            if (row[a] == 0) continue;
            for (std::size_t b = 0; b < n; ++b) matrix[a * n + b] += weight * row[a] * row[b];
            right[a] += weight * row[a] * wanted;
        }
    }

    LightTask task_;
    std::size_t used_ = Light::terms;
    std::vector<Equation> equations_;
};

} // namespace

std::array<double, Light::terms> Light::powers(const Point& at) {
    const double u = at.x, v = at.y;
    return {1, u, v, u * u, u * v, v * v, u * u * u, u * u * v, u * v * v, v * v * v};
}

Rgb Light::field(const Point& at) const {
    const auto values = powers(at);
    Rgb out{};
    for (std::size_t c = 0; c < 3; ++c) {
        double sum = 0;
        for (std::size_t i = 0; i < terms; ++i) sum += field_terms[c][i] * values[i];
        out[c] = std::exp(std::clamp(sum, -12.0, 12.0));
    }
    return out;
}

void Light::tabulate() {
    constexpr int steps = 1024; // Over the roots: the spline is far smoother than that.
    gain_.clear();
    for (int i = 0; i <= steps + 1; ++i) {
        const double root = static_cast<double>(i) / steps;
        gain_.push_back(std::exp(spline_sum(tone, root * root)));
    }
}

double Light::straightened(double seen) const {
    if (gain_.empty()) return seen;
    const double last = static_cast<double>(gain_.size()) - 2;
    const double place = std::clamp(std::sqrt(std::max(seen, 0.0)), 0.0, 1.0) * last;
    const auto i = static_cast<std::size_t>(place);
    return seen * (gain_[i] + (gain_[i + 1] - gain_[i]) * (place - static_cast<double>(i)));
}

Rgb Light::reflectance(const Rgb& seen, const Point& at) const {
    const Rgb light = field(at);
    return {straightened(seen[0]) / light[0], straightened(seen[1]) / light[1],
            straightened(seen[2]) / light[2]};
}

Light find_light(const std::vector<Known>& known, const LightTask& task) {
    expects(known.size() >= 10);
    return Fit(known, task).run();
}

} // namespace motley::scene
