#include "layout/board.h"

#include <catch.hpp>
#include <cmath>
#include <set>

#include "layout/top.h"
#include "oracle/tops.h"
#include "sample.h"

using namespace motley;
using namespace motley::layout;

namespace {

Plan plan_of(const std::string& setting) {
    return sample::plan({{"/setting", setting}, {"/unit/finished", R"("6")"}});
}

const std::vector<std::string> settings{
    R"({"columns": 5, "rows": 4})",
    R"({"columns": 5, "rows": 4, "alternate": "f1"})",
    R"({"columns": 4, "rows": 5, "arrangement": "on-point"})",
    R"({"columns": 4, "rows": 5, "arrangement": "on-point", "alternate": "f1"})",
    R"({"columns": 3, "rows": 3, "arrangement": "on-point", "sashing": {"width": "1", "fabric": "f0"}})",
    R"({"columns": 1, "rows": 4, "arrangement": "on-point"})",
    R"({"columns": 5, "rows": 4, "arrangement": "brick"})",
    R"({"columns": 3, "rows": 4, "sashing": {"width": "2", "fabric": "f0"}})",
};

} // namespace

TEST_CASE("every listed cell lies once on the lattice and is found again") {
    for (const std::string& setting : settings) {
        INFO(setting);
        const Board board = plan_of(setting).board();
        std::set<int> seen;
        for (int r = 0; r < board.list_rows(); ++r)
            for (int c = 0; c < board.list_columns(r); ++c) {
                const int cell = board.cell(r, c);
                if (cell < 0) continue;
                CHECK(seen.insert(cell).second);
                CHECK(board.present(cell));
                CHECK(board.row(cell) == r);
                CHECK(board.column(cell) == c);
            }
        CHECK(static_cast<int>(seen.size()) == board.units());
        int present = 0;
        for (int cell = 0; cell < board.cells(); ++cell) present += board.present(cell);
        CHECK(present == board.units());
    }
}

TEST_CASE("steps on the lattice are the steps on the top") {
    for (const std::string& setting : settings) {
        INFO(setting);
        const Plan plan = plan_of(setting);
        const Board board = plan.board();
        const auto middles = middles_of(plan);
        for (int a = 0; a < board.cells(); ++a)
            for (int b = 0; b < board.cells(); ++b) {
                if (!board.present(a) || !board.present(b)) continue;
                const int row = a / board.columns();
                const unit::Point step = board.step(board.parity(row), b / board.columns() - row,
                                                    b % board.columns() - a % board.columns());
                CHECK(unit::length(step) * 6 ==
                      Approx(unit::length(middles[oracle::at(b)] - middles[oracle::at(a)])).margin(1e-9));
            }
    }
}

TEST_CASE("units touch on the lattice as their outlines do on the top") {
    // Two units touch along an edge where their middles are a side apart along the side (bricks: or half a
    // side aside), at a corner where they are a diagonal apart.
    for (const std::string& setting : settings) {
        INFO(setting);
        const Plan plan = plan_of(setting);
        if (plan.setting.sashing) continue;
        const Board board = plan.board();
        const Contacts contacts(oracle::forms_of("plain-square"), board);
        const auto middles = middles_of(plan);
        for (int a = 0; a < board.cells(); ++a)
            for (int b = 0; b < board.cells(); ++b) {
                if (a == b || !board.present(a) || !board.present(b)) continue;
                const int row = a / board.columns();
                const Contact found = contacts.between(board.parity(row), b / board.columns() - row,
                                                       b % board.columns() - a % board.columns(), 0, 0, 0, 0);
                const double apart = unit::length(middles[oracle::at(b)] - middles[oracle::at(a)]) / 6;
                const bool edge = apart < 1.2, corner = std::abs(apart - std::sqrt(2.0)) < 1e-6;
                CHECK(found == (edge ? Contact::edge : corner ? Contact::corner : Contact::none));
            }
    }
}

TEST_CASE("rows of a setting on point and of bricks are one shorter every second time") {
    const Board point = plan_of(settings[2]).board(), bricks = plan_of(settings[6]).board();
    CHECK(point.list_rows() == 9);
    CHECK(point.list_columns(0) == 4);
    CHECK(point.list_columns(1) == 3);
    CHECK(point.units() == 5 * 4 + 4 * 3);
    CHECK(bricks.list_rows() == 4);
    CHECK(bricks.list_columns(1) == 4);
    CHECK(bricks.units() == 5 + 4 + 5 + 4);
    CHECK(plan_of(settings[3]).board().units() == 20);
    CHECK(plan_of(settings[1]).board().units() == 10);
}
