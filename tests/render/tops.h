#pragma once
/// Tops and cloth made up for the tests of `render`.

#include <algorithm>
#include <cmath>
#include <cstdint>
#include <string>
#include <vector>

#include "render/cloth.h"
#include "render/render.h"
#include "unit/sewn.h"

namespace motley::render::made_up {

inline measure::Length inches(double inches) {
    return measure::Length::inches(inches);
}

inline palette::Fabric fabric(std::string id, colour::LinearRgb light) {
    palette::Fabric made;
    made.id = std::move(id);
    palette::FabricColour colour;
    colour.srgb = colour::srgb(light);
    colour.lab = colour::lab(light);
    made.colour = colour;
    return made;
}

/// A top of any setting, its units as the recipe makes them; forms take turns. Of the units' fabrics the
/// inputs of unit c get numbers c * 3, c * 3 + 1, ... in turn; unit c is turned c quarter turns when
/// `turning`.
inline layout::Layout top(const layout::Setting& setting, const std::string& recipe,
                          std::vector<palette::Fabric> fabrics, double finished = 6, bool turning = false) {
    layout::Layout layout;
    layout.plan.setting = setting;
    layout.plan.columns = setting.columns;
    layout.plan.rows = setting.rows;
    layout.plan.recipe = recipe;
    layout.plan.finished = inches(finished);
    unit::Order order;
    order.finished = inches(finished);
    layout.plan.sewn = unit::sew(*unit::find_recipe(recipe), order);
    layout.plan.name = "A top made up for a test";
    layout.seed = 7;
    layout.fabrics = std::move(fabrics);
    const layout::Board board = layout.plan.board();
    const std::vector<unit::Form>& forms = layout.plan.forms();
    std::size_t places = 0;
    for (const unit::Form& form : forms) places = std::max(places, form.patches.size());
    const auto none = static_cast<palette::FabricId>(layout.fabrics.size());
    for (int cell = 0, unit = 0; cell < board.cells(); ++cell) {
        const std::size_t form = static_cast<std::size_t>(unit) % forms.size();
        layout.assignment.forms.push_back(static_cast<std::uint8_t>(form));
        layout.assignment.turns.push_back(static_cast<std::uint8_t>(turning ? unit % 4 : 0));
        for (std::size_t p = 0; p < places; ++p) {
            const bool there = board.present(cell) && p < forms[form].patches.size();
            const std::size_t input = there ? static_cast<std::size_t>(forms[form].patches[p].input) : 0;
            const std::size_t fabric = (static_cast<std::size_t>(unit) * 3 + input) % layout.fabrics.size();
            layout.assignment.patches.push_back(there ? static_cast<palette::FabricId>(fabric) : none);
        }
        unit += board.present(cell) ? 1 : 0;
    }
    return layout;
}

/// A straight one with nothing between the units, fabrics going round its patches in order.
inline layout::Layout top(int columns, int rows, const std::string& recipe,
                          std::vector<palette::Fabric> fabrics, double finished = 6, bool turning = false) {
    layout::Setting setting;
    setting.columns = columns;
    setting.rows = rows;
    layout::Layout made = top(setting, recipe, std::move(fabrics), finished, turning);
    for (std::size_t i = 0; i < made.assignment.patches.size(); ++i)
        made.assignment.patches[i] = static_cast<palette::FabricId>(i % made.fabrics.size());
    return made;
}

/// One of every kind of setting and several kinds of units, in five fabrics "a" to "e".
inline std::vector<layout::Layout> all_kinds(const std::vector<palette::Fabric>& five) {
    layout::Setting plain;
    plain.columns = 5;
    plain.rows = 6;
    layout::Setting on_point = plain, sashed = plain, both = plain, brick = plain, alternate = plain;
    on_point.arrangement = both.arrangement = layout::Arrangement::on_point;
    on_point.edge = both.edge = "a";
    on_point.borders = {{inches(1.5), {"b"}, false, layout::Corners::squares, "c"},
                        {inches(4.25), {"d"}, false, layout::Corners::mitred, ""}};
    sashed.sashing = layout::Sashing{inches(1.25), "e", {"a"}, true};
    sashed.borders = {{inches(3), {"b"}, false, layout::Corners::butted, ""},
                      {inches(2), {"c", "d", "e"}, true, layout::Corners::butted, ""}};
    both.sashing = layout::Sashing{inches(1), "b", {"d"}, false};
    brick.arrangement = layout::Arrangement::brick;
    brick.edge = "c";
    alternate.columns = alternate.rows = 5;
    alternate.alternate = "e";
    return {top(plain, "strip-set-triangle", five),   top(plain, "log-cabin", five, 7, true),
            top(on_point, "plain-square", five),      top(both, "nine-patch", five),
            top(sashed, "snowball", five, 5),         top(brick, "half-square-triangle", five, 4.5),
            top(alternate, "flying-geese-flip", five)};
}

/// A picture from a function of x and y in inches that gives a share of `ink` over `ground`.
template <class Print>
Cloth photo_of(double wide, double high, int width, colour::LinearRgb ground, colour::LinearRgb ink,
               const Print& print) {
    const double ppi = width / wide;
    Cloth cloth{blank(width, static_cast<int>(high * ppi)),
                {static_cast<std::int64_t>(wide * measure::Length::per_inch)}};
    for (int y = 0; y < cloth.picture.height; ++y)
        for (int x = 0; x < width; ++x) {
            double share = 0; // Four by four places to a pixel.
            for (int s = 0; s < 16; ++s)
                share += print((x + (s % 4 + 0.5) / 4) / ppi, (y + (s / 4 + 0.5) / 4) / ppi) / 16;
            float* at = pixel(cloth.picture, x, y);
            at[0] = static_cast<float>(ground.r + share * (ink.r - ground.r));
            at[1] = static_cast<float>(ground.g + share * (ink.g - ground.g));
            at[2] = static_cast<float>(ground.b + share * (ink.b - ground.b));
        }
    return cloth;
}

/// Woven checks, `repeat` inches from one dark stripe to the next.
inline Cloth gingham(double wide, double high, double repeat, int width = 800) {
    const auto stripe = [repeat](double at) {
        return at / repeat - std::floor(at / repeat) < 0.5 ? 0.5 : 0.0;
    };
    return photo_of(wide, high, width, {0.9, 0.88, 0.85}, {0.5, 0.04, 0.05},
                    [&](double x, double y) { return stripe(x) + stripe(y); });
}

/// Chance by place, [0, 1).
inline double chance(int x, int y) {
    auto bits = static_cast<std::uint32_t>(x) * 2654435761u ^ static_cast<std::uint32_t>(y) * 2246822519u;
    bits = (bits ^ (bits >> 15)) * 2654435761u;
    bits = (bits ^ (bits >> 13)) * 3266489917u;
    return (bits >> 8) / 16777216.0;
}

/// Tossed corner shapes, all standing upright, each in a place and of a size of its own: nothing about them
/// is symmetric.
inline Cloth corners(double wide, double high, colour::LinearRgb ground, colour::LinearRgb ink,
                     int width = 900) {
    constexpr double pitch = 0.5;
    return photo_of(wide, high, width, ground, ink, [](double x, double y) {
        const int i = static_cast<int>(x / pitch), k = static_cast<int>(y / pitch);
        const double size = pitch * (0.45 + 0.3 * chance(i, k));
        const double u = (x / pitch - i) * pitch - 0.2 * pitch * chance(i + 91, k),
                     v = (y / pitch - k) * pitch - 0.2 * pitch * chance(i, k + 57);
        const bool stem = u > 0 && u < 0.28 * size && v > 0 && v < size;
        const bool arm = u > 0 && u < 0.7 * size && v > 0 && v < 0.25 * size;
        return stem || arm ? 1.0 : 0.0;
    });
}

/// The linear light of part of a raster.
inline photo::LinearImage light_of(const photo::Raster& raster, int left, int top, int width, int height) {
    photo::LinearImage image = blank(width, height);
    for (int y = 0; y < height; ++y)
        for (int x = 0; x < width; ++x)
            for (int c = 0; c < 3; ++c) {
                const auto at = (static_cast<std::size_t>(top + y) * static_cast<std::size_t>(raster.width) +
                                 static_cast<std::size_t>(left + x)) *
                                    3 +
                                static_cast<std::size_t>(c);
                pixel(image, x, y)[c] = static_cast<float>(colour::decode(raster.pixels[at] / 255.0));
            }
    return image;
}

/// Mean squared difference of two pictures, the second read from (left, top) on.
inline double apart(const photo::LinearImage& one, const photo::LinearImage& other, int left = 0,
                    int top = 0) {
    double sum = 0;
    for (int y = 0; y < one.height; ++y)
        for (int x = 0; x < one.width * 3; ++x) {
            const double step = static_cast<double>(pixel(one, 0, y)[x]) -
                                static_cast<double>(pixel(other, left, top + y)[x]);
            sum += step * step;
        }
    return sum / (3.0 * one.width * one.height);
}

/// The least of `apart` over every place of `other`.
inline double nearest(const photo::LinearImage& one, const photo::LinearImage& other) {
    double least = 1e9;
    for (int y = 0; y + one.height <= other.height; ++y)
        for (int x = 0; x + one.width <= other.width; ++x) least = std::min(least, apart(one, other, x, y));
    return least;
}

inline photo::LinearImage mirrored(const photo::LinearImage& image) {
    photo::LinearImage flipped = blank(image.width, image.height);
    for (int y = 0; y < image.height; ++y)
        for (int x = 0; x < image.width; ++x)
            std::copy_n(pixel(image, x, y), 3, pixel(flipped, image.width - 1 - x, y));
    return flipped;
}

/// A square picture after `turn` quarter turns clockwise, by the definition of a rotation and not by the code
/// under test.
inline photo::LinearImage rotated(const photo::LinearImage& image, int turn) {
    photo::LinearImage now = image;
    for (int t = 0; t < turn; ++t) {
        photo::LinearImage next = blank(now.height, now.width);
        for (int y = 0; y < now.height; ++y)
            for (int x = 0; x < now.width; ++x)
                std::copy_n(pixel(now, x, y), 3, pixel(next, now.height - 1 - y, x));
        now = std::move(next);
    }
    return now;
}

} // namespace motley::render::made_up
