#include "painter/table.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

#include "painter/canvas.h"

namespace motley::painter {

namespace {

constexpr double two_pi = 6.283185307179586;

using Light = std::array<double, 3>;

Light light_of(colour::LinearRgb colour) {
    return {colour.r, colour.g, colour.b};
}

Light look_up(const photo::LinearImage& picture, double u, double v) {
    const double x = std::clamp(u * picture.width - 0.5, 0.0, picture.width - 1.0);
    const double y = std::clamp(v * picture.height - 0.5, 0.0, picture.height - 1.0);
    const int left = static_cast<int>(x), top = static_cast<int>(y);
    const int right = std::min(left + 1, picture.width - 1), low = std::min(top + 1, picture.height - 1);
    Light out{};
    for (std::size_t c = 0; c < 3; ++c) {
        const auto at = [&](int column, int row) {
            return static_cast<double>(
                picture.pixels[3 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(picture.width) +
                                    static_cast<std::size_t>(column)) +
                               c]);
        };
        const double above = at(left, top) + (at(right, top) - at(left, top)) * (x - left);
        const double below = at(left, low) + (at(right, low) - at(left, low)) * (x - left);
        out[c] = above + (below - above) * (y - top);
    }
    return out;
}

Spot turned(const Spot& step, double by) {
    return {step.x * std::cos(by) - step.y * std::sin(by), step.x * std::sin(by) + step.y * std::cos(by)};
}

Spot through(const std::array<double, 9>& m, const Spot& at) {
    const double w = m[6] * at.x + m[7] * at.y + m[8];
    return {(m[0] * at.x + m[1] * at.y + m[2]) / w, (m[3] * at.x + m[4] * at.y + m[5]) / w};
}

/// What is left of the light close beside a thing that has some thickness.
double beside(const Laid& laid, const Spot& step, const Spot& from_lamp) {
    const double beyond_x = std::max(0.0, std::abs(step.x) - laid.width / 2);
    const double beyond_y = std::max(0.0, std::abs(step.y) - laid.height / 2);
    const double beyond = std::sqrt(beyond_x * beyond_x + beyond_y * beyond_y) / laid.thickness;
    if (beyond > 8) return 1;
    const Spot out_of =
        turned({beyond_x * (step.x < 0 ? -1 : 1), beyond_y * (step.y < 0 ? -1 : 1)}, laid.turn);
    const double far = std::hypot(out_of.x, out_of.y), lamp = std::hypot(from_lamp.x, from_lamp.y);
    const double away = far * lamp > 0 ? (out_of.x * from_lamp.x + out_of.y * from_lamp.y) / (far * lamp) : 0;
    return 1 - (0.10 + 0.15 * std::max(0.0, away)) * std::exp(-beyond);
}

/// Light given back by the table and all that lies on it, without lamp and shadows.
Light colour_at(const Table& table, const Spot& at, const Spot& from_lamp) {
    double left = 1;
    for (auto laid = table.laid.rbegin(); laid != table.laid.rend(); ++laid) { // The topmost first.
        const Spot step = turned({at.x - laid->middle.x, at.y - laid->middle.y}, -laid->turn);
        const double u = step.x / laid->width + 0.5, v = step.y / laid->height + 0.5;
        if (u >= 0 && u < 1 && v >= 0 && v < 1) {
            Light out = look_up(laid->picture, u, v);
            for (double& channel : out) channel *= left;
            return out;
        }
        if (laid->thickness > 0) left *= beside(*laid, step, from_lamp);
    }
    const double streak = noise(77, at.x * 0.7, at.y * 9) + 0.5 * noise(78, at.x * 2, at.y * 31);
    Light out = light_of(table.wood);
    for (double& channel : out) channel *= left * std::max(0.2, 1 + table.grain * streak);
    return out;
}

double shade_at(const Table& table, const Spot& at) {
    double light = 1;
    for (const Shadow& shadow : table.shadows) {
        const double deep = (at.x - shadow.at.x) * std::cos(shadow.direction) +
                            (at.y - shadow.at.y) * std::sin(shadow.direction);
        const auto smooth = [&](double along) {
            const double t = std::clamp(along / shadow.soft + 0.5, 0.0, 1.0);
            return t * t * (3 - 2 * t);
        };
        light *= 1 - shadow.depth * smooth(deep) * smooth(shadow.width - deep);
    }
    return light;
}

double lamp_at(const Lamp& lamp, const Spot& at) {
    const double x = at.x - lamp.over.x, y = at.y - lamp.over.y;
    const double slant = lamp.height / std::sqrt(x * x + y * y + lamp.height * lamp.height);
    return slant * slant * slant;
}

void blur(photo::LinearImage& picture, double radius) {
    if (radius <= 0) return;
    const int reach = static_cast<int>(std::ceil(3 * radius));
    std::vector<double> weights;
    double sum = 0;
    for (int i = -reach; i <= reach; ++i)
        sum += weights.emplace_back(std::exp(-i * i / (2 * radius * radius)));
    const photo::LinearImage before = picture;
    photo::LinearImage across = picture;
    const auto pass = [&](const photo::LinearImage& from, photo::LinearImage& to, bool down) {
        each_row(picture.height, [&](int y) {
            for (int x = 0; x < picture.width; ++x)
                for (std::size_t c = 0; c < 3; ++c) {
                    double light = 0;
                    for (int i = -reach; i <= reach; ++i) {
                        const int column = std::clamp(down ? x : x + i, 0, picture.width - 1);
                        const int row = std::clamp(down ? y + i : y, 0, picture.height - 1);
                        light +=
                            weights[static_cast<std::size_t>(i + reach)] / sum *
                            static_cast<double>(from.pixels[3 * (static_cast<std::size_t>(row) *
                                                                     static_cast<std::size_t>(picture.width) +
                                                                 static_cast<std::size_t>(column)) +
                                                            c]);
                    }
                    to.pixels[3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width) +
                                   static_cast<std::size_t>(x)) +
                              c] = static_cast<float>(light);
                }
        });
    };
    pass(before, across, false);
    pass(across, picture, true);
}

photo::Raster developed(const photo::LinearImage& picture, const View& view) {
    photo::Raster out{picture.width, picture.height, 3, std::vector<std::uint8_t>(picture.pixels.size())};
    each_row(picture.height, [&](int y) {
        Chance chance(mixed(view.seed, static_cast<std::uint64_t>(y) + 1));
        const std::size_t row = 3 * static_cast<std::size_t>(y) * static_cast<std::size_t>(picture.width);
        for (std::size_t i = row; i < row + 3 * static_cast<std::size_t>(picture.width); ++i) {
            const double light = static_cast<double>(picture.pixels[i]);
            const double grainy =
                light + chance.around(0, 2 * view.noise * std::sqrt(std::max(light, 0.0) + 0.01));
            double code = colour::encode(std::clamp(grainy, 0.0, 1.0));
            code -= view.contrast * std::sin(two_pi * code) / two_pi;
            out.pixels[i] = static_cast<std::uint8_t>(std::lround(255 * std::clamp(code, 0.0, 1.0)));
        }
    });
    return out;
}

} // namespace

Laid plain(colour::LinearRgb colour, Spot middle, double width, double height) {
    Laid laid;
    laid.picture = {
        1, 1, {static_cast<float>(colour.r), static_cast<float>(colour.g), static_cast<float>(colour.b)}};
    laid.middle = middle;
    laid.width = width;
    laid.height = height;
    return laid;
}

std::array<Spot, 4> corners(const Laid& laid) {
    std::array<Spot, 4> out;
    const std::array<Spot, 4> signs{{{-0.5, -0.5}, {0.5, -0.5}, {0.5, 0.5}, {-0.5, 0.5}}};
    for (std::size_t i = 0; i < 4; ++i) {
        const Spot step = turned({signs[i].x * laid.width, signs[i].y * laid.height}, laid.turn);
        out[i] = {laid.middle.x + step.x, laid.middle.y + step.y};
    }
    return out;
}

Eye::Eye(const View& view) {
    cx_ = view.width / 2.0;
    cy_ = view.height / 2.0;
    reach_ = std::hypot(cx_, cy_);
    bulge_ = view.bulge;
    const double focal = view.focal * std::max(view.width, view.height);
    const double away = focal / view.pixels_per_inch;
    // The camera's three directions: right, down, forward; it stands `from` the middle and looks down at it.
    const double c = std::cos(view.from), s = std::sin(view.from), ct = std::cos(view.tilt),
                 st = std::sin(view.tilt);
    const std::array<double, 3> forward{-c * st, -s * st, -ct};
    const std::array<double, 3> level{s, -c, 0};
    const std::array<double, 3> low{c * ct, s * ct, -st}; // At right angles to both.
    const double cr = std::cos(view.roll), sr = std::sin(view.roll);
    std::array<double, 3> right{}, down{};
    for (std::size_t i = 0; i < 3; ++i) {
        right[i] = level[i] * cr + low[i] * sr;
        down[i] = low[i] * cr - level[i] * sr;
    }
    const double ox = -view.looks_at.x, oy = -view.looks_at.y;
    // A place (x, y, 0) from the camera: (right . d, down . d, away + forward . d), d = place - looks_at.
    std::array<std::array<double, 3>, 3> rows;
    for (std::size_t i = 0; i < 2; ++i) {
        const auto& axis = i == 0 ? right : down;
        rows[i] = {axis[0], axis[1], axis[0] * ox + axis[1] * oy};
    }
    rows[2] = {forward[0], forward[1], forward[0] * ox + forward[1] * oy + away};
    for (std::size_t k = 0; k < 3; ++k) {
        to_pixels_[k] = focal * rows[0][k] + cx_ * rows[2][k];
        to_pixels_[3 + k] = focal * rows[1][k] + cy_ * rows[2][k];
        to_pixels_[6 + k] = rows[2][k];
    }
    const auto& m = to_pixels_;
    const auto minor = [&](std::size_t a, std::size_t b, std::size_t d, std::size_t e) {
        return m[a] * m[e] - m[b] * m[d];
    };
    to_inches_ = {minor(4, 5, 7, 8),  -minor(1, 2, 7, 8), minor(1, 2, 4, 5),
                  -minor(3, 5, 6, 8), minor(0, 2, 6, 8),  -minor(0, 2, 3, 5),
                  minor(3, 4, 6, 7),  -minor(0, 1, 6, 7), minor(0, 1, 3, 4)};
}

Spot Eye::bulged(const Spot& pixels) const {
    const double x = pixels.x - cx_, y = pixels.y - cy_;
    const double swell = 1 + bulge_ * (x * x + y * y) / (reach_ * reach_);
    return {cx_ + x * swell, cy_ + y * swell};
}

Spot Eye::seen(const Spot& inches) const {
    return bulged(through(to_pixels_, inches));
}

Spot Eye::inches(const Spot& pixels) const {
    Spot flat = pixels;
    for (int round = 0; round < 8 && bulge_ != 0; ++round) {
        const Spot there = bulged(flat);
        flat = {flat.x + pixels.x - there.x, flat.y + pixels.y - there.y};
    }
    return through(to_inches_, flat);
}

Photo photograph(const Table& table, const View& view) {
    const Eye eye(view);
    photo::LinearImage picture{view.width, view.height, {}};
    picture.pixels.resize(3 * static_cast<std::size_t>(view.width) * static_cast<std::size_t>(view.height));
    double strongest = 0;
    for (const double x : {0.02, 0.25, 0.5, 0.75, 0.98})
        for (const double y : {0.02, 0.25, 0.5, 0.75, 0.98})
            strongest =
                std::max(strongest, lamp_at(view.lamp, eye.inches({x * view.width, y * view.height})));
    const Light lamp = light_of(view.lamp.colour);
    const double scale = view.exposure / strongest / std::max({lamp[0], lamp[1], lamp[2]});
    each_row(view.height, [&](int y) {
        float* pixel =
            picture.pixels.data() + 3 * static_cast<std::size_t>(y) * static_cast<std::size_t>(view.width);
        for (int x = 0; x < view.width; ++x, pixel += 3)
            for (const double dx : {0.25, 0.75})
                for (const double dy : {0.25, 0.75}) {
                    const Spot at = eye.inches({x + dx, y + dy});
                    const Light colour =
                        colour_at(table, at, {at.x - view.lamp.over.x, at.y - view.lamp.over.y});
                    const double light = scale * lamp_at(view.lamp, at) * shade_at(table, at) / 4;
                    for (std::size_t c = 0; c < 3; ++c)
                        pixel[c] += static_cast<float>(colour[c] * lamp[c] * light);
                }
    });
    blur(picture, view.blur);
    return {developed(picture, view), Gamut::srgb};
}

} // namespace motley::painter
