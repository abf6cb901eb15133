#include "cutting/fabric_cuts.h"

#include <catch.hpp>
#include <functional>
#include <map>

#include "cutting/buying.h"
#include "layout/top.h"
#include "plans.h"

using namespace motley;
using cutting::Need;
using cutting::Use;
using measure::Length;
using plans::inches;

namespace {

cutting::Cutting cut(const layout::Layout& top) {
    return cutting::cutting_for(top, top.plan.usable_width);
}

cutting::BuyingList buy(const layout::Layout& top, const cutting::Cutting& cutting) {
    const layout::Extent extent = layout::extent_of(top.plan);
    const auto finishing =
        cutting::finishing_for(Length::inches(extent.width), Length::inches(extent.height),
                               top.plan.making_up.finish, top.plan.making_up.cloth, top.plan.usable_width);
    return cutting::buying_for(top, cutting, finishing);
}

void every_piece(const std::vector<cutting::Strip>& strips,
                 const std::function<void(const cutting::LaidPiece&)>& see) {
    for (const cutting::Strip& strip : strips)
        for (const cutting::Segment& segment : strip.segments)
            for (const cutting::LaidPiece& piece : segment.pieces) see(piece);
}

const cutting::FabricCuts& of(const cutting::Cutting& cutting, int fabric) {
    for (const cutting::FabricCuts& cuts : cutting.fabrics)
        if (palette::index(cuts.fabric) == static_cast<std::size_t>(fabric)) return cuts;
    FAIL("the fabric is not cut");
    throw 0; // Not reached.
}

const cutting::BuyLine& line(const cutting::BuyingList& list, const std::string& what) {
    for (const cutting::BuyLine& one : list.lines)
        if (one.what == what) return one;
    FAIL("there is no line " << what);
    throw 0; // Not reached.
}

const std::string lone_background =
    R"("unit": {"recipe": "strip-set-triangle", "finished": "6", "choices": {"square": "10"},
                "roles": {"ground": ["f0"]}})";

} // namespace

TEST_CASE("every piece that is taken off is laid, as often as it is cut, stock and bought cloth together") {
    const std::vector<std::string> texts{
        R"("setting": {"columns": 9, "rows": 8})",
        R"("setting": {"columns": 6, "rows": 5}, "unit": {"recipe": "half-square-triangle", "finished": "5"})",
        R"("setting": {"columns": 8, "rows": 9, "borders": [{"width": "4", "fabric": "f0"}]})",
        R"("setting": {"columns": 4, "rows": 5, "arrangement": "on-point", "edge": "f1",
           "sashing": {"width": "1", "fabric": "f0", "cornerstone": ["f2", "f3"]}})",
        R"("setting": {"columns": 4, "rows": 3}, "unit": {"recipe": "log-cabin", "finished": "9"})",
        R"("setting": {"columns": 10, "rows": 12}, )" + lone_background,
    };
    for (const std::string& text : texts)
        for (const bool stocked : {false, true}) {
            CAPTURE(text, stocked);
            layout::Layout top = plans::top(text, 11);
            if (stocked)
                for (palette::Fabric& fabric : top.fabrics)
                    fabric.stock = {{palette::StockPiece::Piece::fat_quarter, inches(22), inches(18), 1},
                                    {palette::StockPiece::Piece::strip, inches(2.5), inches(42), 1}};
            const cutting::Cutting cutting = cut(top);
            for (const cutting::FabricCuts& cuts : cutting.fabrics) {
                std::map<int, int> laid;
                int all = 0;
                const auto see = [&](const cutting::LaidPiece& piece) { ++laid[piece.piece], ++all; };
                for (const cutting::SheetCuts& sheet : cuts.plan.sheets) every_piece(sheet.strips, see);
                CHECK(all == cuts.from_stock);
                if (!stocked) CHECK(all == 0);
                every_piece(cuts.plan.strips, see);
                CHECK(all == cuts.from_stock + cuts.bought);
                for (std::size_t p = 0; p < cuts.list.pieces.size(); ++p)
                    CHECK(laid[static_cast<int>(p)] == cuts.list.pieces[p].count);
                std::map<int, int> asked; // By need, those cut singly.
                for (std::size_t p = 0; p < cuts.list.pieces.size(); ++p)
                    asked[cuts.need_of[p]] += cuts.list.pieces[p].count;
                for (const int n : cuts.needs) {
                    const Need& need = cutting.take_off.needs[static_cast<std::size_t>(n)];
                    if (!need.joined) CHECK(asked[n] == need.count);
                    CHECK(need.count * need.cut_into == need.used + need.spare());
                }
                CHECK(cuts.buy >= cuts.plan.length);
                CHECK(cuts.spare == cuts.buy - cuts.plan.length);
                CHECK(cuts.plan.bound <= cuts.plan.length);
            }
        }
}

TEST_CASE("the worked example's ground: 30 squares of 10 in are 80 in, 2 1/4 yd with 1 in to spare") {
    // Derived: four squares across 42 in, eight strips of 10 in; at 39 1/2 in three across, ten strips, 100
    // in, 2 7/8 yd.
    const auto ground = [](double wide) {
        const layout::Layout top = plans::top(
            fmt::format(R"("setting": {{"columns": 10, "rows": 12}}, "cloth": {{"usable_width": {}}}, {})",
                        wide, lone_background),
            11);
        return of(cut(top), 0);
    };
    CHECK(ground(42).plan.length == inches(80));
    CHECK(ground(42).buy == inches(81));
    CHECK(ground(42).spare == inches(1));
    CHECK(ground(42).plan.proved);
    CHECK(ground(39.5).plan.length == inches(100));
    CHECK(ground(39.5).buy == inches(36 * 2.875));
}

TEST_CASE("borders longer than the cloth is wide are joined, or cut along it where that buys no more") {
    // 60 x 72 in inside, 5 in wide: sides 72 1/2 in, top and bottom 70 1/2 in: 286 in of strips 5 1/2 in
    // wide. Joined with 1/4 in seams each strip but the first adds 41 1/2 in: 7 strips, 38 1/2 in. Along the
    // cloth four strips side by side: 72 1/2 in.
    const std::string text =
        R"("setting": {"columns": 10, "rows": 12, "borders": [{"width": "5", "fabric": "f0"}]})";
    const cutting::Cutting cutting = cut(plans::top(
        text + R"(, "unit": {"roles": {"patch": ["f1", "f2", "f3", "f4", "f5", "f6", "f7", "f8", "f9"]}})",
        10));
    const cutting::FabricCuts& border = of(cutting, 0);
    REQUIRE_FALSE(border.joined.empty());
    CHECK_FALSE(border.joined.front().along);
    CHECK(border.joined.front().strips == 7);
    CHECK(border.joined.front().length == inches(286));
    CHECK(border.plan.length == inches(38.5));
    // 42 in square, 10 in wide with corner squares: four strips of 42 1/2 in, 10 1/2 in wide. Joined they
    // take five strips, 52 1/2 in; along the cloth they lie side by side on its 42 in: 42 1/2 in.
    const cutting::Cutting square = cut(plans::top(
        R"("setting": {"columns": 7, "rows": 7, "borders": [{"width": "10", "fabric": "f0", "corner": "f1"}]},
           "unit": {"roles": {"patch": ["f1", "f2", "f3", "f4", "f5", "f6", "f7", "f8", "f9"]}})",
        10));
    for (const cutting::Joined& joined : of(square, 0).joined) CHECK(joined.along);
    CHECK(of(square, 0).plan.length == inches(42.5));
}

TEST_CASE("one number changes, and the lists change with it") {
    const auto total = [](const std::string& more) {
        layout::Layout top = plans::top(R"("setting": {"columns": 9, "rows": 8})" + more, 12);
        const cutting::Cutting cutting = cut(top);
        const cutting::BuyingList list = buy(top, cutting);
        return std::tuple{cutting::cutting_csv(top, cutting), cutting::buying_csv(top, list), list.total};
    };
    const auto plain = total("");
    for (const char* more : {R"(, "seam": "3/8")", R"(, "unit": {"finished": "7"})",
                             R"(, "cloth": {"usable_width": "30"})", R"(, "counts": {"f3": 12})"}) {
        CAPTURE(more);
        const auto other = total(more);
        CHECK(std::get<1>(other) != std::get<1>(plain));
        if (std::string(more).find("cloth") == std::string::npos)
            CHECK(std::get<0>(other) != std::get<0>(plain));
    }
    CHECK(std::get<2>(total(R"(, "cloth": {"slack": "4"})")) > std::get<2>(plain));
    CHECK(std::get<2>(total(R"(, "cloth": {"shrinkage": 8})")) > std::get<2>(plain));
    CHECK(std::get<2>(total(R"(, "cloth": {"ends": "1"})")) >= std::get<2>(plain));
    CHECK(std::get<2>(total(R"(, "cloth": {"step": "1/2 yd"})")) > std::get<2>(plain));
}

TEST_CASE("stock is used before anything is bought, and what is short is bought") {
    layout::Layout top = plans::top(R"("setting": {"columns": 6, "rows": 6})", 4); // Nine squares of each.
    using Piece = palette::StockPiece::Piece;
    top.fabrics[0].stock = {{Piece::fat_quarter, inches(22), inches(18), 1}}; // 18 x 22: 2 x 3 of 6 1/2 in.
    top.fabrics[1].stock = {{Piece::square, inches(7), inches(7), 9}};
    top.fabrics[2].stock = {{Piece::strip, inches(2.5), inches(42), 40}}; // Too narrow for anything.
    const cutting::Cutting cutting = cut(top);
    CHECK(of(cutting, 0).from_stock == 6);
    CHECK(of(cutting, 0).bought == 3);
    CHECK(of(cutting, 0).buy == inches(9));
    CHECK(of(cutting, 1).from_stock == 9);
    CHECK(of(cutting, 1).buy == Length{});
    CHECK(of(cutting, 2).from_stock == 0);
    CHECK(of(cutting, 2).by_stock);
    CHECK(of(cutting, 3).bought == 9); // Six across 42 in: two strips, 13 in, 3/8 yd.
    CHECK(of(cutting, 3).buy == inches(13.5));
}

TEST_CASE("a one-way print is never laid turned") {
    layout::Layout top = plans::top(
        R"("setting": {"columns": 5, "rows": 5, "sashing": {"width": "2", "fabric": "f0"}},
           "unit": {"roles": {"patch": ["f1", "f2", "f3", "f4"]}})",
        5);
    const auto turned = [&] {
        int count = 0;
        every_piece(of(cut(top), 0).plan.strips,
                    [&](const cutting::LaidPiece& piece) { count += piece.turned; });
        return count;
    };
    top.fabrics[0].one_way = true;
    CHECK(turned() == 0);
    for (const cutting::CutListPiece& piece : of(cut(top), 0).list.pieces) CHECK_FALSE(piece.turn);
}

TEST_CASE("the buying list: prices, narrower cloth, precuts, binding and backing") {
    const layout::Layout top = plans::top(
        R"("setting": {"columns": 10, "rows": 12}, "cloth": {"price": 12, "currency": "$"},
           "finish": {"binding": {"fabric": "f2"}}, )" +
            lone_background,
        11);
    const cutting::Cutting cutting = cut(top);
    const cutting::BuyingList list = buy(top, cutting);
    CHECK(list.narrow_width == inches(40));
    const cutting::BuyLine& ground = line(list, "f0");
    CHECK(ground.buy == inches(81));
    REQUIRE(ground.narrow_buy); // Four squares of 10 in fit across 40 in, exactly.
    CHECK(*ground.narrow_buy == inches(81));
    REQUIRE(ground.price);
    CHECK(*ground.price == Approx(2.25 * 12));
    CHECK(line(list, "backing").buy == inches(36 * 3.875)); // As in the backing's own test: 60 x 72 in.
    for (const cutting::BuyLine& one : list.lines) CHECK(one.what != "binding"); // Among f2's pieces.
    bool bound = false;
    for (const Need& need : cutting.take_off.needs)
        if (need.use == Use::binding) {
            bound = true;
            CHECK(palette::index(need.fabric) == 2);
            CHECK(need.count == 7); // 60 x 72 in at 42 in.
        }
    CHECK(bound);
    bool roll = false, stack = false;
    for (const cutting::Precut& precut : list.precuts) {
        if (precut.name.starts_with("roll of 40 strips")) {
            roll = true;
            CHECK(precut.cuts == 40);
            CHECK(precut.packs == 1);
        }
        if (precut.name.starts_with("stack of 42 ten-inch squares")) {
            stack = true;
            CHECK(precut.cuts == 30);
            CHECK(precut.packs == 1);
        }
    }
    CHECK(roll);
    CHECK(stack);
    REQUIRE(list.cost);
    CHECK(*list.cost == Approx(list.total.in_inches() / 36 * 12));
}

TEST_CASE("lists open in a spreadsheet: a name that looks like a formula does not become one") {
    layout::Layout top = plans::top(R"("setting": {"columns": 2, "rows": 2})", 4);
    top.fabrics[0].id = "=2+3";
    top.fabrics[1].id = "linen, white";
    const cutting::Cutting cutting = cut(top);
    for (const std::string& text :
         {cutting::cutting_csv(top, cutting), cutting::buying_csv(top, buy(top, cutting))}) {
        CHECK(text.find("\n'=2+3,") != std::string::npos);
        CHECK(text.find("\n\"linen, white\",") != std::string::npos);
        const std::size_t commas = static_cast<std::size_t>(
            std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(text.find('\n')), ','));
        CHECK(commas >= 9);
    }
}
