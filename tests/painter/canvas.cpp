#include "painter/canvas.h"

#include <algorithm>
#include <array>
#include <cmath>
#include <thread>

#include "fault/fault.h"

namespace motley::painter {
namespace {

constexpr double crookedness = 0.016; // Inches the cloth lies off at most: flat, but laid by hand.
constexpr double ink_creep = 0.0035;  // Inches ink strays at an edge.

/// Adds one edge to an accumulation buffer whose running sum along a row is the covered share of each pixel.
class Accumulator {
public:
    Accumulator(std::vector<float>& sums, int left, int top, int width, int height)
        : sums_(sums), left_(left), top_(top), width_(width), height_(height) {
        sums_.assign(static_cast<std::size_t>(width + 2) * static_cast<std::size_t>(height), 0.0F);
    }

    void edge(Point from, Point to) {
        from = from - Point{static_cast<double>(left_), static_cast<double>(top_)};
        to = to - Point{static_cast<double>(left_), static_cast<double>(top_)};
        double sign = 1;
        if (from.y > to.y) {
            std::swap(from, to);
            sign = -1;
        }
        if (to.y <= 0 || from.y >= height_ || from.y == to.y) return;
        const double slope = (to.x - from.x) / (to.y - from.y);
        const int last = std::min(height_ - 1, static_cast<int>(std::ceil(to.y)) - 1);
        for (int row = std::max(0, static_cast<int>(std::floor(from.y))); row <= last; ++row) {
            const double upper = std::max<double>(row, from.y), lower = std::min<double>(row + 1, to.y);
            if (lower <= upper) continue;
            piece(row, from.x + slope * (upper - from.y), from.x + slope * (lower - from.y),
                  sign * (lower - upper));
        }
    }

private:
    /// The part of an edge inside one row: from x = a to x = b, `cover` of the row's height, signed.
    void piece(int row, double a, double b, double cover) {
        float* sums = sums_.data() + static_cast<std::size_t>(row) * static_cast<std::size_t>(width_ + 2);
        const double low = std::clamp(std::min(a, b), 0.0, static_cast<double>(width_));
        const double high = std::clamp(std::max(a, b), 0.0, static_cast<double>(width_));
        const double run = std::max(a, b) - std::min(a, b);
        if (high - low < 1e-9) {
            cell(sums, low, low, cover);
            return;
        }
        const double each = cover / run;
        // What is clipped off left or right still covers the row from that border on.
        if (std::min(a, b) < low) cell(sums, 0, 0, each * (low - std::min(a, b)));
        for (double x = low; x < high;) {
            const double next = std::min(high, std::floor(x) + 1);
            cell(sums, x, next, each * (next - x));
            x = next;
        }
    }

    static void cell(float* sums, double from, double to, double cover) {
        const double column = std::floor(from);
        const double beyond = (from + to) / 2 - column;
        const auto i = static_cast<std::size_t>(column);
        sums[i] += static_cast<float>(cover * (1 - beyond));
        sums[i + 1] += static_cast<float>(cover * beyond);
    }

    std::vector<float>& sums_;
    int left_, top_, width_, height_;
};

} // namespace

void each_row(int rows, const std::function<void(int)>& work) {
    const int hands = std::clamp(static_cast<int>(std::thread::hardware_concurrency()), 1, 4);
    if (rows < 64 || hands == 1) {
        for (int row = 0; row < rows; ++row) work(row);
        return;
    }
    std::vector<std::jthread> threads;
    for (int hand = 0; hand < hands; ++hand) {
        threads.emplace_back([&work, rows, hand, hands] {
            for (int row = rows * hand / hands; row < rows * (hand + 1) / hands; ++row) work(row);
        });
    }
}

double crossing_seen(double threads, double pixels_per_inch) {
    return std::clamp((pixels_per_inch / threads - 1.1) / 1.4, 0.0, 1.0);
}

Canvas::Canvas(int width, int height, double pixels_per_inch, std::uint64_t seed)
    : picture_{.width = width, .height = height, .pixels = {}},
      pixels_per_inch_(pixels_per_inch),
      seed_(seed),
      lie_across_(mixed(seed, 1), width / pixels_per_inch, height / pixels_per_inch, 2.2, 2),
      lie_along_(mixed(seed, 2), width / pixels_per_inch, height / pixels_per_inch, 2.2, 2) {
    expects(width > 0 && height > 0 && pixels_per_inch > 0);
    picture_.pixels.resize(static_cast<std::size_t>(width) * static_cast<std::size_t>(height) * 3);
}

void Canvas::flood(colour::LinearRgb colour) {
    for (std::size_t k = 0; k < picture_.pixels.size(); k += 3) {
        picture_.pixels[k] = static_cast<float>(colour.r);
        picture_.pixels[k + 1] = static_cast<float>(colour.g);
        picture_.pixels[k + 2] = static_cast<float>(colour.b);
    }
}

Point Canvas::settled(Point point) const {
    const Point lie{lie_across_.at(point.x, point.y), lie_along_.at(point.x, point.y)};
    const Point creep{noise(mixed(seed_, 3), point.x * 28, point.y * 28),
                      noise(mixed(seed_, 4), point.x * 28, point.y * 28)};
    return point + lie * crookedness + creep * ink_creep;
}

void Canvas::fill(const Outline& outline, const Ink& ink) {
    const double reach = crookedness + ink_creep;
    double left = 1e9, right = -1e9, top = 1e9, bottom = -1e9;
    for (const Point& point : outline) {
        left = std::min(left, point.x);
        right = std::max(right, point.x);
        top = std::min(top, point.y);
        bottom = std::max(bottom, point.y);
    }
    const auto pixel = [&](double inches) { return static_cast<int>(std::floor(inches * pixels_per_inch_)); };
    const int x0 = std::max(0, pixel(left - reach)), x1 = std::min(picture_.width, pixel(right + reach) + 1);
    const int y0 = std::max(0, pixel(top - reach)), y1 = std::min(picture_.height, pixel(bottom + reach) + 1);
    if (x0 >= x1 || y0 >= y1) return;

    Accumulator accumulator(coverage_, x0, y0, x1 - x0, y1 - y0);
    Point from = settled(outline.back()) * pixels_per_inch_;
    for (const Point& point : outline) {
        const Point to = settled(point) * pixels_per_inch_;
        accumulator.edge(from, to);
        from = to;
    }
    for (int y = y0; y < y1; ++y) {
        const float* sums =
            coverage_.data() + static_cast<std::size_t>(y - y0) * static_cast<std::size_t>(x1 - x0 + 2);
        float* pixels = picture_.pixels.data() +
                        3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture_.width) +
                             static_cast<std::size_t>(x0));
        float running = 0;
        for (int x = x0; x < x1; ++x, ++sums, pixels += 3) {
            running += *sums;
            const double covered = std::min(1.0F, std::abs(running)) * ink.strength;
            if (covered < 1e-4) continue;
            colour::LinearRgb dye = ink.colour;
            if (ink.reach > 0) {
                const Point here{(x + 0.5) / pixels_per_inch_, (y + 0.5) / pixels_per_inch_};
                const double t = std::min(1.0, length(here - ink.heart) / ink.reach), s = t * t * (3 - 2 * t);
                dye = {std::lerp(dye.r, ink.edge.r, s), std::lerp(dye.g, ink.edge.g, s),
                       std::lerp(dye.b, ink.edge.b, s)};
            }
            pixels[0] += static_cast<float>(covered * (dye.r - pixels[0]));
            pixels[1] += static_cast<float>(covered * (dye.g - pixels[1]));
            pixels[2] += static_cast<float>(covered * (dye.b - pixels[2]));
        }
    }
}

void Canvas::shade(const std::function<colour::LinearRgb(double, double)>& colour) {
    const auto columns = static_cast<std::size_t>(picture_.width);
    each_row(picture_.height, [&](int row) {
        std::vector<float> across(columns), along(columns);
        const double y = (row + 0.5) / pixels_per_inch_, step = 1 / pixels_per_inch_;
        lie_across_.row(y, step / 2, step, across);
        lie_along_.row(y, step / 2, step, along);
        float* pixels = picture_.pixels.data() + 3 * static_cast<std::size_t>(row) * columns;
        for (std::size_t k = 0; k < columns; ++k, pixels += 3) {
            const double x = (static_cast<double>(k) + 0.5) * step;
            const colour::LinearRgb light = colour(x - crookedness * across[k], y - crookedness * along[k]);
            pixels[0] = static_cast<float>(light.r);
            pixels[1] = static_cast<float>(light.g);
            pixels[2] = static_cast<float>(light.b);
        }
    });
}

void Canvas::mottle(double broad, double fine, colour::LinearRgb ground, double thin) {
    const Field large(mixed(seed_, 5), width(), height(), 1.1, 3),
        small(mixed(seed_, 6), width(), height(), 0.07, 2);
    const auto columns = static_cast<std::size_t>(picture_.width);
    const auto much = static_cast<float>(broad), little = static_cast<float>(fine),
               sparse = static_cast<float>(thin);
    const std::array<float, 3> cloth{static_cast<float>(ground.r), static_cast<float>(ground.g),
                                     static_cast<float>(ground.b)};
    each_row(picture_.height, [&](int row) {
        std::vector<float> blotch(columns), fleck(columns);
        const double y = (row + 0.5) / pixels_per_inch_, step = 1 / pixels_per_inch_;
        large.row(y, step / 2, step, blotch);
        small.row(y, step / 2, step, fleck);
        float* pixels = picture_.pixels.data() + 3 * static_cast<std::size_t>(row) * columns;
        for (std::size_t k = 0; k < columns; ++k, pixels += 3) {
            const float light = 1 + much * blotch[k] + little * fleck[k];
            const float bare = sparse * std::max(0.0F, std::abs(fleck[k] - 0.4F * blotch[k]) - 0.12F);
            for (std::size_t c = 0; c < 3; ++c)
                pixels[c] = light * (pixels[c] + bare * (cloth[c] - pixels[c]));
        }
    });
}

} // namespace motley::painter
