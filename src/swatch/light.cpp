#include "swatch/light.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <cstdint>

namespace motley::swatch {
namespace {

constexpr int grid = 72;             // Places looked at from side to side and from top to bottom.
constexpr double hue_slack = 0.06;   // Of a / L and b / L (doubled), between two places of one colour.
constexpr double calm_change = 0.02; // Of L, a or b over two pixels.
constexpr double darkest = 0.12;     // OKLab L below which a logarithm is mostly noise.
// Of the logarithm of L: two places much further apart are of two colours.
constexpr double one_colour = 0.03;
constexpr std::size_t fewest = 100; // Pairs.

using Terms = std::array<double, Light::terms>;

// Two places: how much their light would differ by each term, how much their lightness does, how far to be
// believed.
struct Pair {
    Terms change;
    double step = 0, trust = 0;
};

struct Place {
    double u = 0, v = 0, log_l = 0, a = 0, b = 0, l = 0;
    double calm = 0; // [0, 1]: 0 on an edge of the print.
};

// The largest step from a pixel to the next but one on each side. On the soft edge between two colours, which
// runs one way more often than the other in a print whose colours keep an order, neighbouring shades would
// pass for a change of light.
double change(const Cloth& cloth, int x, int y) {
    const auto at = [&](int column, int row) {
        return static_cast<std::size_t>(std::clamp(row, 0, cloth.height - 1)) *
                   static_cast<std::size_t>(cloth.width) +
               static_cast<std::size_t>(std::clamp(column, 0, cloth.width - 1));
    };
    const std::size_t here = at(x, y);
    float most = 0;
    for (const std::size_t there : {at(x - 2, y), at(x + 2, y), at(x, y - 2), at(x, y + 2)})
        for (const auto* plane : {&cloth.l, &cloth.a, &cloth.b})
            most = std::max(most, std::abs((*plane)[there] - (*plane)[here]));
    return double{most};
}

Place place(const Cloth& cloth, int x, int y) {
    const std::size_t i =
        static_cast<std::size_t>(y) * static_cast<std::size_t>(cloth.width) + static_cast<std::size_t>(x);
    const double l = cloth.shown[i] != 0 ? double{cloth.l[i]} : 0.0;
    const double safe = std::max(l, darkest);
    const double ratio = change(cloth, x, y) / calm_change;
    const double calm = 1.0 / ((1.0 + ratio * ratio) * (1.0 + ratio * ratio));
    return {(2.0 * x + 1.0) / cloth.width - 1.0,
            (2.0 * y + 1.0) / cloth.height - 1.0,
            std::log(safe),
            double{cloth.a[i]} / safe,
            double{cloth.b[i]} / safe,
            l,
            calm};
}

void add_pair(const Place& one, const Place& other, std::vector<Pair>& pairs) {
    if (one.l < darkest || other.l < darkest) return;
    const double da = (one.a - other.a) / hue_slack, db = (one.b - other.b) / hue_slack;
    const double far = da * da + db * db;
    if (far > 9.0) return;
    Pair pair;
    const Terms first = Light::powers(one.u, one.v), second = Light::powers(other.u, other.v);
    for (std::size_t t = 0; t < Light::terms; ++t) pair.change[t] = second[t] - first[t];
    pair.step = other.log_l - one.log_l;
    pair.trust = one.l * other.l * one.calm * other.calm / ((1.0 + far) * (1.0 + far));
    pairs.push_back(pair);
}

// How far apart pairs are, in steps of the grid.
struct Reach {
    int least, choices;
};
constexpr Reach next_door{1, 3}, far_off{4, 8};

// Scattered, so that no regular print can fall in step with it.
int lag_at(int column, int row, Reach reach) {
    std::uint32_t mixed =
        static_cast<std::uint32_t>(column) * 0x9E3779B1U + static_cast<std::uint32_t>(row) * 0x85EBCA77U;
    mixed = (mixed ^ (mixed >> 15)) * 0x2C1B3C6DU;
    return reach.least + static_cast<int>((mixed >> 16) % static_cast<std::uint32_t>(reach.choices));
}

// A grid of places across the cloth.
struct Places {
    int columns = 0, rows = 0;
    std::vector<Place> list;

    const Place& at(int column, int row) const {
        return list[static_cast<std::size_t>(row * columns + column)];
    }
};

Places places_of(const Cloth& cloth) {
    Places places{.columns = std::min(grid, cloth.width), .rows = std::min(grid, cloth.height), .list = {}};
    for (int row = 0; row < places.rows; ++row)
        for (int column = 0; column < places.columns; ++column)
            places.list.push_back(place(cloth, (2 * column + 1) * cloth.width / (2 * places.columns),
                                        (2 * row + 1) * cloth.height / (2 * places.rows)));
    return places;
}

std::vector<Pair> pairs_of(const Places& places, Reach reach) {
    std::vector<Pair> pairs;
    pairs.reserve(2 * places.list.size());
    for (int row = 0; row < places.rows; ++row)
        for (int column = 0; column < places.columns; ++column) {
            const int lag = lag_at(column, row, reach);
            const Place& here = places.at(column, row);
            if (column + lag < places.columns) add_pair(here, places.at(column + lag, row), pairs);
            if (row + lag < places.rows) add_pair(here, places.at(column, row + lag), pairs);
        }
    return pairs;
}

// Solves the symmetric positive definite system by Cholesky's method, in place.
Terms solve(std::array<Terms, Light::terms> m, Terms right) {
    constexpr std::size_t n = Light::terms;
    for (std::size_t j = 0; j < n; ++j)
        for (std::size_t i = j; i < n; ++i) {
            double sum = m[i][j];
            for (std::size_t k = 0; k < j; ++k) sum -= m[i][k] * m[j][k];
            m[i][j] = i == j ? std::sqrt(std::max(sum, 1e-12)) : sum / m[j][j];
        }
    for (std::size_t i = 0; i < n; ++i) {
        for (std::size_t k = 0; k < i; ++k) right[i] -= m[i][k] * right[k];
        right[i] /= m[i][i];
    }
    for (std::size_t i = n; i-- > 0;) {
        for (std::size_t k = i + 1; k < n; ++k) right[i] -= m[k][i] * right[k];
        right[i] /= m[i][i];
    }
    return right;
}

double rest(const Pair& pair, const Terms& weights) {
    double rest = pair.step;
    for (std::size_t t = 0; t < Light::terms; ++t) rest -= weights[t] * pair.change[t];
    return rest;
}

Terms fit(const std::vector<Pair>& pairs, const Terms& before, double scale) {
    std::array<Terms, Light::terms> normal{};
    Terms right{};
    for (const Pair& pair : pairs) {
        const double ratio = rest(pair, before) / scale;
        const double slack = 1.0 + ratio * ratio;
        const double weight = pair.trust / (slack * slack);
        for (std::size_t i = 0; i < Light::terms; ++i) {
            const double part = weight * pair.change[i];
            right[i] += part * pair.step;
            for (std::size_t j = 0; j <= i; ++j) normal[i][j] += part * pair.change[j];
        }
    }
    // A little pull towards even light settles what the pairs leave open.
    const double pull = 1e-5 * static_cast<double>(pairs.size());
    for (std::size_t i = 0; i < Light::terms; ++i) normal[i][i] += pull;
    return solve(normal, right);
}

} // namespace

std::array<double, Light::terms> Light::powers(double u, double v) {
    return {u, v, u * u, u * v, v * v, u * u * u, u * u * v, u * v * v, v * v * v};
}

double Light::at(double u, double v) const {
    const auto term = powers(u, v);
    double sum = 0;
    for (std::size_t t = 0; t < terms; ++t) sum += weights[t] * term[t];
    return sum;
}

Light find_light(const Cloth& cloth) {
    const Places places = places_of(cloth);
    Light light;
    // Next door the light hardly changes, so that no print can be taken for it; far off it is told from the
    // weave more exactly.
    for (const Reach reach : {next_door, far_off}) {
        const std::vector<Pair> pairs = pairs_of(places, reach);
        if (pairs.size() < fewest) break;
        for (int step = 0; step < 4; ++step) light.weights = fit(pairs, light.weights, one_colour);
    }
    return light;
}

void even_out(Cloth& cloth, const Light& light) {
    const auto width = static_cast<std::size_t>(cloth.width);
    double before = 0, after = 0;
    std::vector<float> factor(width);
    for (int y = 0; y < cloth.height; ++y) {
        const double v = (2.0 * y + 1.0) / cloth.height - 1.0;
        // Along a row the field is a cubic in u.
        const auto& w = light.weights;
        const auto c0 = static_cast<float>(v * (w[1] + v * (w[4] + v * w[8])));
        const auto c1 = static_cast<float>(w[0] + v * (w[3] + v * w[7]));
        const auto c2 = static_cast<float>(w[2] + v * w[6]), c3 = static_cast<float>(w[5]);
        for (std::size_t x = 0; x < width; ++x) {
            const float u =
                (2.0F * static_cast<float>(static_cast<int>(x)) + 1.0F) / static_cast<float>(cloth.width) -
                1.0F;
            const float q = -std::clamp(c0 + u * (c1 + u * (c2 + u * c3)), -0.7F, 0.7F);
            factor[x] =
                1.0F + q * (1.0F + q / 2 * (1.0F + q / 3 * (1.0F + q / 4 * (1.0F + q / 5)))); // exp(q)
        }
        float* const l = &cloth.l[static_cast<std::size_t>(y) * width];
        float* const a = &cloth.a[static_cast<std::size_t>(y) * width];
        float* const b = &cloth.b[static_cast<std::size_t>(y) * width];
        float row_before = 0, row_after = 0;
        for (std::size_t x = 0; x < width; ++x) {
            row_before += l[x] * l[x] * l[x];
            l[x] *= factor[x];
            a[x] *= factor[x];
            b[x] *= factor[x];
            row_after += l[x] * l[x] * l[x];
        }
        before += double{row_before};
        after += double{row_after};
    }
    // The light as a whole stays as strong as it was.
    const auto scale = static_cast<float>(after > 0 ? std::cbrt(before / after) : 1.0);
    for (auto* plane : {&cloth.l, &cloth.a, &cloth.b})
        for (float& value : *plane) value *= scale;
}

} // namespace motley::swatch
