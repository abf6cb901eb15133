#include "assembly/rows.h"

#include <catch.hpp>
#include <map>
#include <set>

#include "assembly/letters.h"
#include "sample.h"

using namespace motley;
using namespace motley::assembly;
using layout::Part;
using measure::Length;

namespace {

const Kind& kind(const Rows& rows, const Place& place) {
    return rows.kinds[oracle::at(place.kind)];
}

/// What there is of each part and fabric; units by cell.
using Tally = std::map<std::pair<Part, std::size_t>, int>;

Tally tally_of(const layout::Layout& layout) {
    Tally tally;
    for (const layout::Shape& shape : layout::top_of(layout).shapes)
        if (shape.part != Part::border) ++tally[{shape.part, index(shape.fabric)}];
    return tally;
}

bool ends(Part part) {
    return part == Part::side_triangle || part == Part::corner_triangle;
}

} // namespace

TEST_CASE("pick lists add up to the whole top, row by row and in all") {
    oracle::Dice dice(11);
    for (const sample::Case& one : sample::cases()) {
        INFO(one.setting << one.unit);
        const layout::Layout layout =
            sample::placed(sample::plan(one.setting, one.unit), sample::fabrics(7), dice);
        const Rows rows = rows_of(layout);
        Tally picked, laid;
        std::vector<int> counts(rows.kinds.size(), 0);
        for (const Row& row : rows.rows) {
            int picks = 0;
            for (const Pick& pick : row.picks) {
                picks += pick.count;
                counts[oracle::at(pick.kind)] += pick.count;
            }
            REQUIRE(picks == static_cast<int>(row.places.size()));
            for (const Place& place : row.places)
                for (const palette::FabricId fabric : kind(rows, place).fabrics)
                    ++laid[{kind(rows, place).part, index(fabric)}];
        }
        for (const Place& place : rows.last) {
            ++counts[oracle::at(place.kind)];
            ++laid[{kind(rows, place).part, index(kind(rows, place).fabrics.front())}];
        }
        for (std::size_t k = 0; k < counts.size(); ++k) {
            REQUIRE(counts[k] == rows.kinds[k].count);
            for (const palette::FabricId fabric : rows.kinds[k].fabrics)
                picked[{rows.kinds[k].part, index(fabric)}] += counts[k];
        }
        CHECK(picked == tally_of(layout));
        CHECK(laid == picked);
    }
}

TEST_CASE("every unit lies in one row, in the order of its columns, where the top has it") {
    oracle::Dice dice(12);
    for (const sample::Case& one : sample::cases()) {
        INFO(one.setting << one.unit);
        const layout::Layout layout =
            sample::placed(sample::plan(one.setting, one.unit), sample::fabrics(5), dice);
        const layout::Board board = layout.plan.board();
        const Rows rows = rows_of(layout);
        const std::vector<unit::Point> middles = layout::middles_of(layout.plan);
        const layout::Top top = layout::top_of(layout);
        std::set<int> cells;
        for (const Row& row : rows.rows) {
            int lattice_row = -1, last = -1;
            for (const Place& place : row.places) {
                if (kind(rows, place).part != Part::unit) continue;
                REQUIRE(cells.insert(place.cell).second);
                REQUIRE(place.label == board.place(place.cell));
                if (lattice_row < 0) lattice_row = place.cell / board.columns();
                REQUIRE(place.cell / board.columns() == lattice_row);
                REQUIRE(place.cell > last);
                last = place.cell;
                REQUIRE(place.turn == layout.assignment.turns[oracle::at(place.cell)]);
                const unit::Point middle = unit::centre(place.outline);
                REQUIRE(middle.x == Approx(middles[oracle::at(place.cell)].x + top.left));
                REQUIRE(middle.y == Approx(middles[oracle::at(place.cell)].y + top.top));
            }
        }
        CHECK(static_cast<int>(cells.size()) == board.units());
    }
}

TEST_CASE("rows and borders come to the whole top, to the tick") {
    oracle::Dice dice(13);
    for (const sample::Case& one : sample::cases()) {
        INFO(one.setting << one.unit);
        const layout::Layout layout =
            sample::placed(sample::plan(one.setting, one.unit), sample::fabrics(5), dice);
        const Rows rows = rows_of(layout);
        const Length both = layout.plan.seam * 2;
        Length width = rows.raw_width - both, height = rows.raw_height - both;
        if (!rows.diagonal) {
            Length sum{};
            for (const Row& row : rows.rows) {
                REQUIRE(row.raw_width == rows.raw_width);
                sum = sum + row.raw_height - both;
            }
            CHECK(sum == height);
        }
        for (const layout::Border& border : layout.plan.setting.borders) {
            width = width + border.width * 2;
            height = height + border.level_width() * 2;
        }
        const layout::Extent extent = layout::extent_of(layout.plan);
        CHECK(width == Length::inches(extent.width));
        CHECK(height == Length::inches(extent.height));
    }
}

TEST_CASE("diagonal rows on point begin and end with triangles") {
    // Derived by hand for 4 by 5: diagonals of the 20 outer and 12 inner units from the upper right corner:
    // 1, 3, 5, 7, 7, 5, 3, 1; all ends are side triangles but two, where the row runs into a corner.
    oracle::Dice dice(14);
    const layout::Layout layout = sample::placed(
        sample::plan(R"({"columns": 4, "rows": 5, "arrangement": "on-point"})"), sample::fabrics(5), dice);
    const Rows rows = rows_of(layout);
    REQUIRE(rows.diagonal);
    std::vector<std::size_t> lengths;
    int corners = 0;
    for (const Row& row : rows.rows) {
        lengths.push_back(row.places.size() - 2);
        for (std::size_t i = 0; i < row.places.size(); ++i) {
            const bool end = i == 0 || i + 1 == row.places.size();
            REQUIRE(ends(kind(rows, row.places[i]).part) == end);
            corners += kind(rows, row.places[i]).part == Part::corner_triangle;
        }
        REQUIRE(row.raw_width ==
                layout.plan.finished * static_cast<std::int64_t>(lengths.back()) + layout.plan.seam * 2);
    }
    CHECK(lengths == std::vector<std::size_t>{1, 3, 5, 7, 7, 5, 3, 1});
    CHECK(corners == 2);
    CHECK(rows.last.size() == 2);
    CHECK(rows.rows.front().name == "Diagonal row 1");
    // Its one unit lies in the upper right corner.
    CHECK(rows.rows.front().places[1].label == "row 1, column 4");
}

TEST_CASE("with sashing, rows of strips lie between rows of units") {
    // Derived: 4 by 3 with sashing all round: 3 rows of 4 units and 5 strips, 4 of 4 strips and 5
    // cornerstones; 4 * 6 + 5 in and the allowances make 29 1/2 in.
    oracle::Dice dice(15);
    const layout::Layout layout = sample::placed(
        sample::plan(
            R"({"columns": 4, "rows": 3, "sashing": {"width": "1", "fabric": "f0", "around": true,
                "cornerstone": "f1"}})"),
        sample::fabrics(5), dice);
    const Rows rows = rows_of(layout);
    REQUIRE(rows.rows.size() == 7);
    for (std::size_t r = 0; r < rows.rows.size(); ++r) {
        CHECK(rows.rows[r].sashing == (r % 2 == 0));
        CHECK(rows.rows[r].places.size() == 9);
        CHECK(rows.rows[r].raw_width == Length::inches(29.5));
        CHECK(rows.rows[r].raw_height == Length::inches(r % 2 == 0 ? 1.5 : 6.5));
    }
    CHECK(rows.rows[0].name == "Sashing row 1");
    CHECK(rows.rows[1].name == "Row 1");
    CHECK(rows.rows[6].name == "Sashing row 4");
}

TEST_CASE("letters are short, all different, and run from dark to light") {
    oracle::Dice dice(16);
    layout::Layout layout =
        sample::placed(sample::plan(R"({"columns": 20, "rows": 20})"), sample::fabrics(60), dice);
    std::vector<std::string> names = letters(layout);
    CHECK(names[0] == "A");
    CHECK(names[8] == "J"); // I is left out.
    CHECK(names[13] == "P");
    CHECK(names[23] == "Z");
    CHECK(names[24] == "A2");
    CHECK(names[48] == "A3");
    CHECK(std::set<std::string>(names.begin(), names.end()).size() == names.size());
    // Shown ones come first, whatever else the palette holds.
    for (palette::FabricId& patch : layout.assignment.patches) patch = oracle::id(41 + dice.below(2));
    layout.assignment.patches[0] = oracle::id(41);
    layout.assignment.patches[1] = oracle::id(42);
    names = letters(layout);
    CHECK(names[41] == "A");
    CHECK(names[42] == "B");
    CHECK(names[0] == "C");
    CHECK(names[59] == "M3");
}
