#include "cutting/stock.h"

#include <fmt/format.h>

#include <catch.hpp>
#include <cmath>

using namespace motley;
using measure::Length;
using palette::StockPiece;

namespace {

Length inches(double n) {
    return Length{std::llround(n * Length::per_inch)};
}
StockPiece piece(double width, double length, int count = 1) {
    return {StockPiece::Piece::yardage, inches(width), inches(length), count};
}

layout::Plan plan(const std::string& recipe, int columns, int rows, double finished,
                  const std::string& more = {}) {
    const std::string text = fmt::format(
        R"({{"palette": "p", "setting": {{"columns": {}, "rows": {}}}, "unit": {{"recipe": "{}", "finished": "{}"}}{}}})",
        columns, rows, recipe, finished, more);
    const document::Json json = document::parse(text, "plan.json");
    return layout::read_plan(document::Node(json, "plan.json"));
}

} // namespace

TEST_CASE("a fat quarter gives what a hand count gives") {
    // Derived, floor x floor of 18 x 22 in: 7 x 8, 6 x 7, 4 x 5, 3 x 4, 3 x 3.
    const std::vector<StockPiece> fat_quarter{piece(22, 18)};
    for (const auto& [side, squares] : {std::pair{2.5, 56}, {3.0, 42}, {4.0, 20}, {5.0, 12}, {6.0, 9}}) {
        CHECK(cutting::stock_yield(fat_quarter, {inches(side), inches(side), 1}) == squares);
        CHECK(cutting::stock_yield(fat_quarter, {inches(side), inches(side), 2}) == 2 * squares);
    }
}

TEST_CASE("stock adds up piece by piece, and strips too narrow give nothing") {
    CHECK(cutting::stock_yield({}, {inches(5), inches(5), 1}) == 0);
    CHECK(cutting::stock_yield({piece(2.5, 42, 10)}, {inches(2.5), inches(2.5), 1}) ==
          160); // 16 to a strip of 42 in
    CHECK(cutting::stock_yield({piece(2.5, 42, 10)}, {inches(2.625), inches(2.625), 1}) == 0);
    CHECK(cutting::stock_yield({piece(2.5, 42, 2), piece(10, 10, 3)}, {inches(5), inches(5), 1}) == 12);
    CHECK(cutting::stock_yield({piece(3, 5, 0)}, {inches(3), inches(3), 1}) == 0);
    // Three halves of a square do not make a square: pieces are not joined.
    CHECK(cutting::stock_yield({piece(3, 5, 3)}, {inches(6), inches(6), 1}) == 0);
    CHECK(cutting::stock_yield({piece(39'000, 39'000, 1'000'000)}, {inches(0.5), inches(0.5), 2}) ==
          2147483647);
}

TEST_CASE("squares are cut to the next eighth of an inch or five millimetres") {
    const auto side = [](const std::string& recipe, const std::string& more, double finished) {
        const cutting::CutPiece piece = cutting::piece_of(plan(recipe, 2, 2, finished, more), 0);
        CHECK(piece.width == piece.length);
        return piece.width;
    };
    const std::string metric = R"(, "measure": "metric", "seam": "7.5 mm")";
    CHECK(side("plain-square", "", 6) == inches(6.5));
    // Common practice, no source: finished + 7/8 in for half-square triangles two at a time.
    CHECK(side("half-square-triangle", "", 6) == inches(6.875));
    // Derived: 150 + 2 x 7.5 mm; 150 + 7.5 (2 + sqrt 2) = 175.607 mm.
    CHECK(side("plain-square", metric, 15).ticks == 165 * 320);
    CHECK(side("half-square-triangle", metric, 15).ticks == 180 * 320);
}

TEST_CASE("the stock of every fabric is counted with the plan's unit") {
    palette::Fabric rich, poor;
    rich.stock = {piece(22, 18)};
    poor.stock = {piece(2.5, 42)};
    // 4 in finished half-square triangles: 4 7/8 in squares, 4 x 3 of them, two patches each.
    CHECK(cutting::stock_yields({rich, poor}, plan("half-square-triangle", 3, 3, 4)) ==
          std::vector<int>{24, 0});
    // 2 in finished squares: 2 1/2 in.
    CHECK(cutting::stock_yields({rich, poor}, plan("plain-square", 3, 3, 2)) == std::vector<int>{56, 16});
}
