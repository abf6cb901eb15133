#include "swatch/echo.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <cstddef>
#include <utility>

#include "fault/fault.h"
#include "swatch/fourier.h"

namespace motley::swatch {
namespace {

constexpr std::size_t side = Waves::side;
static_assert(Sketch::most * 8 / 5 <= static_cast<int>(side)); // Moves of three fifths do not come round.

Waves spectrum(const Sketch& sketch, const std::vector<float>& real, const std::vector<float>* imaginary) {
    Waves waves;
    const auto width = static_cast<std::size_t>(sketch.width);
    for (std::size_t y = 0; y < static_cast<std::size_t>(sketch.height); ++y)
        for (std::size_t x = 0; x < width; ++x) {
            waves.re[y * side + x] = real[y * width + x];
            if (imaginary) waves.im[y * side + x] = (*imaginary)[y * width + x];
        }
    transform(waves);
    return waves;
}

/// The sums over all moves in im, the same of the turned cloth in re. For a real picture f with spectrum F
/// they are the transforms back of |F|^2 and F^2; of f + i g with spectrum Z both together are
/// (|Z(k)|^2 + |Z(-k)|^2) / 2 and Z(k) conj Z(-k).
Waves sums(const Sketch& sketch) {
    const Waves two = spectrum(sketch, sketch.l, &sketch.a), one = spectrum(sketch, sketch.b, nullptr);
    Waves both;
    for (std::size_t y = 0; y < side; ++y)
        for (std::size_t x = 0; x < side; ++x) {
            const std::size_t k = y * side + x, minus = (side - y) % side * side + (side - x) % side;
            const float re = two.re[k], im = two.im[k], back_re = two.re[minus], back_im = two.im[minus];
            const float one_re = one.re[k], one_im = one.im[k];
            const float power = (re * re + im * im + back_re * back_re + back_im * back_im) / 2 +
                                one_re * one_re + one_im * one_im;
            const float turned_re = re * back_re + im * back_im + one_re * one_re - one_im * one_im;
            const float turned_im = im * back_re - re * back_im + 2 * one_re * one_im;
            // power + i turned, re and im exchanged.
            both.im[k] = power - turned_im;
            both.re[k] = turned_re;
        }
    transform(both);
    constexpr float share = 1.0F / (side * side);
    for (auto* plane : {&both.re, &both.im})
        for (float& value : *plane) value *= share;
    return both;
}

/// Sums of f(x)^2 over boxes.
class Energy {
public:
    explicit Energy(const Sketch& sketch) : row_(static_cast<std::size_t>(sketch.width) + 1) {
        before_.assign(row_ * (static_cast<std::size_t>(sketch.height) + 1), 0.0);
        std::size_t i = 0;
        for (std::size_t y = 1; y <= static_cast<std::size_t>(sketch.height); ++y) {
            double sum = 0;
            for (std::size_t x = 1; x < row_; ++x, ++i) {
                sum += static_cast<double>(sketch.l[i] * sketch.l[i] + sketch.a[i] * sketch.a[i] +
                                           sketch.b[i] * sketch.b[i]);
                before_[y * row_ + x] = before_[(y - 1) * row_ + x] + sum;
            }
        }
    }
    double box(int left, int top, int width, int height) const {
        return at(left + width, top + height) - at(left, top + height) - at(left + width, top) +
               at(left, top);
    }

private:
    double at(int x, int y) const {
        return before_[static_cast<std::size_t>(y) * row_ + static_cast<std::size_t>(x)];
    }
    std::size_t row_;
    std::vector<double> before_;
};

float ratio(double sum, double energy) {
    return energy > 1e-12 ? static_cast<float>(std::clamp(sum / energy, -1.0, 1.0)) : 0.0F;
}

std::size_t around(int move) {
    return static_cast<std::size_t>(move + static_cast<int>(side)) % side;
}

} // namespace

double length(const Move& move) {
    return std::sqrt(dot(move, move));
}

Echo::Echo(const Sketch& sketch) : reach_x_(sketch.width * 3 / 5), reach_y_(sketch.height * 3 / 5) {
    expects(sketch.width > 0 && sketch.height > 0 && std::max(sketch.width, sketch.height) <= Sketch::most);
    const Waves found = sums(sketch);
    const Energy energy(sketch);
    const auto row = static_cast<std::size_t>(2 * reach_x_ + 1);
    values_.resize(row * static_cast<std::size_t>(2 * reach_y_ + 1));
    for (int y = 0; y <= reach_y_; ++y)
        for (int x = -reach_x_; x <= reach_x_; ++x) {
            const int wide = sketch.width - std::abs(x), high = sketch.height - y;
            const double both =
                energy.box(std::max(0, -x), 0, wide, high) + energy.box(std::max(0, x), y, wide, high);
            const float value = ratio(2 * static_cast<double>(found.im[around(y) * side + around(x)]), both);
            const auto middle = static_cast<std::size_t>(reach_y_) * row + static_cast<std::size_t>(reach_x_);
            const auto away = static_cast<std::ptrdiff_t>(row) * y + x;
            values_[static_cast<std::size_t>(static_cast<std::ptrdiff_t>(middle) + away)] = value;
            values_[static_cast<std::size_t>(static_cast<std::ptrdiff_t>(middle) - away)] = value;
        }
    // Turned about a point near the middle: the sum of two places' coordinates is the same for all pairs.
    for (int y = sketch.height - 1 - reach_y_ / 2; y < sketch.height + reach_y_ / 2; ++y)
        for (int x = sketch.width - 1 - reach_x_ / 2; x < sketch.width + reach_x_ / 2; ++x) {
            const int left = std::max(0, x - sketch.width + 1), top = std::max(0, y - sketch.height + 1);
            const double one = energy.box(left, top, std::min(sketch.width - 1, x) - left + 1,
                                          std::min(sketch.height - 1, y) - top + 1);
            turned_ = std::max(
                turned_,
                static_cast<double>(ratio(static_cast<double>(found.re[around(y) * side + around(x)]), one)));
        }
}

bool Echo::within(Move move) const {
    return std::abs(move.x) <= reach_x_ - 2 && std::abs(move.y) <= reach_y_ - 2;
}

float Echo::at(int x, int y) const {
    return values_[static_cast<std::size_t>(y + reach_y_) * static_cast<std::size_t>(2 * reach_x_ + 1) +
                   static_cast<std::size_t>(x + reach_x_)];
}

double Echo::at(Move move) const {
    expects(within(move));
    const int x = static_cast<int>(std::floor(move.x)), y = static_cast<int>(std::floor(move.y));
    const auto cubic = [](double t) { // Catmull-Rom.
        return std::array<double, 4>{((2 - t) * t - 1) * t / 2, ((3 * t - 5) * t * t + 2) / 2,
                                     ((4 - 3 * t) * t + 1) * t / 2, (t - 1) * t * t / 2};
    };
    const std::array<double, 4> across = cubic(move.x - x), down = cubic(move.y - y);
    double sum = 0;
    for (int j = 0; j < 4; ++j)
        for (int i = 0; i < 4; ++i)
            sum += across[static_cast<std::size_t>(i)] * down[static_cast<std::size_t>(j)] *
                   static_cast<double>(at(x + i - 1, y + j - 1));
    return sum;
}

} // namespace motley::swatch
