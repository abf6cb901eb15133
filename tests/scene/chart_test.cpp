#include <array>
#include <catch.hpp>
#include <cmath>

#include "scene/staged.h"

using namespace motley;

namespace {

/// CIELAB, D50, of the classic 24-patch colour chart made since November 2014: dataset "ColorChecker24 -
/// After November 2014" of the colour-science library (BSD-3-Clause; figures only).
constexpr std::array<colour::Lab, 24> chart_d50{{
    {37.54, 14.37, 14.92},  {64.66, 19.27, 17.50},   {49.32, -3.82, -22.54}, {43.46, -12.74, 22.72},
    {54.94, 9.61, -24.79},  {70.48, -32.26, -0.37},  {62.73, 35.83, 56.50},  {39.43, 10.75, -45.17},
    {50.57, 48.64, 16.67},  {30.10, 22.54, -20.87},  {71.77, -24.13, 58.19}, {71.51, 18.24, 67.37},
    {28.37, 15.42, -49.80}, {54.38, -39.72, 32.27},  {42.43, 51.05, 28.62},  {81.80, 2.67, 80.41},
    {50.63, 51.28, -14.12}, {49.57, -29.71, -28.32}, {95.19, -1.03, 2.93},   {81.29, -0.57, 0.44},
    {66.89, -0.75, -0.06},  {50.76, -0.13, 0.14},    {35.63, -0.46, -0.48},  {20.64, 0.07, -0.46},
}};

using Three = std::array<double, 3>;
using Nine = std::array<Three, 3>;

Three times(const Nine& matrix, const Three& vector) {
    Three out{};
    for (std::size_t i = 0; i < 3; ++i)
        for (std::size_t k = 0; k < 3; ++k) out[i] += matrix[i][k] * vector[k];
    return out;
}

/// To linear sRGB. Lab to XYZ as in CIE 15; D50 to D65 by the Bradford matrix for those two whites, and XYZ
/// to sRGB (B. Lindbloom's tables, from memory).
colour::LinearRgb linear_of_d50(const colour::Lab& lab) {
    const double y = (lab.l + 16) / 116;
    const auto back = [](double t) { return t > 6.0 / 29 ? t * t * t : (t - 16.0 / 116) * 108 / 841; };
    const Three d50{0.96422 * back(y + lab.a / 500), back(y), 0.82521 * back(y - lab.b / 200)};
    const Nine bradford{{{0.9555766, -0.0230393, 0.0631636},
                         {-0.0282895, 1.0099416, 0.0210077},
                         {0.0122982, -0.0204830, 1.3299098}}};
    const Nine to_srgb{{{3.2404542, -1.5371385, -0.4985314},
                        {-0.9692660, 1.8760108, 0.0415560},
                        {0.0556434, -0.2040259, 1.0572252}}};
    const Three rgb = times(to_srgb, times(bradford, d50));
    return {rgb[0], rgb[1], rgb[2]};
}

} // namespace

TEST_CASE("a 24-patch colour chart on white paper under a warm lamp comes out as published") {
    painter::Table table;
    table.laid.push_back(
        painter::plain({scene::paper_white, scene::paper_white, scene::paper_white}, {0, 0}, 60, 60));
    std::vector<colour::LinearRgb> truth;
    for (std::size_t i = 0; i < chart_d50.size(); ++i) {
        truth.push_back(linear_of_d50(chart_d50[i]));
        colour::LinearRgb inside = truth.back();
        inside.r = std::max(inside.r, 0.0); // One patch, the cyan, lies outside sRGB, and a photo clips it.
        truth.back() = inside;
        const auto column = static_cast<double>(i % 6), row = static_cast<double>(i / 6);
        table.laid.push_back(painter::plain(inside, {(column - 2.5) * 2.2, (row - 1.5) * 2.2}, 1.7, 1.7));
    }
    painter::View view;
    view.width = 900;
    view.height = 680;
    view.pixels_per_inch = 60;
    view.tilt = 0.2;
    view.seed = 3;
    const scene::Scene scene =
        scene::look(staged::taken(table, view), "chart.jpg", {.split = true, .true_inch = 1});
    CHECK(scene.by == scene::By::paper);
    // The white patch is all but the paper's own colour, so it may go unseen; nothing may be invented.
    REQUIRE(scene.pieces.size() >= 23);
    REQUIRE(scene.pieces.size() <= 24);
    std::vector<double> off;
    for (const scene::Piece& piece : scene.pieces) {
        double nearest = 1e9;
        for (std::size_t i = 0; i < truth.size(); ++i)
            if (scene::overlap(piece.corners, staged::quad_of(table.laid[i + 1], view)) > 0.8)
                nearest = staged::difference(piece.mean, truth[i]);
        off.push_back(nearest);
    }
    std::sort(off.begin(), off.end());
    CHECK(off[off.size() / 2] < 0.6);
    CHECK(off[off.size() * 9 / 10] < 1.5);
}
