// The most valuable guillotine cut of one sheet, against optima of the literature.

#include "cutting/guillotine.h"

#include <catch.hpp>

using namespace motley::cutting;

namespace {

struct Anchor {
    const char* name;
    int width, height;
    std::int64_t optimum;
    std::vector<GuillotinePiece> pieces;
};

std::int64_t worth(const std::vector<GuillotinePiece>& pieces, const std::vector<int>& counts) {
    std::int64_t sum = 0;
    for (std::size_t p = 0; p < pieces.size(); ++p) sum += pieces[p].value * counts[p];
    return sum;
}

/// Pieces that are worth their area.
std::vector<GuillotinePiece> by_area(const std::vector<std::pair<int, int>>& sizes) {
    std::vector<GuillotinePiece> pieces;
    for (const auto& [width, height] : sizes)
        pieces.push_back({width, height, std::int64_t{width} * height, 0});
    return pieces;
}

} // namespace

// Figures of gcut1 to gcut6: J. E. Beasley, Algorithms for unconstrained two-dimensional guillotine cutting,
// Journal of the Operational Research Society 36 (1985), from the OR-Library's files; optima for copies
// without limit from the same. Those of cgcut1 to cgcut3: N. Christofides and C. Whitlock, An algorithm for
// two-dimensional cutting problems, Operations Research 25 (1977).
TEST_CASE("one sheet, copies without limit: the OR-Library's optima") {
    const std::vector<Anchor> anchors{
        {"gcut1", 250, 250, 56460,
         by_area({{167, 184},
                  {114, 118},
                  {167, 152},
                  {83, 140},
                  {70, 86},
                  {143, 166},
                  {120, 160},
                  {66, 148},
                  {87, 141},
                  {69, 165}})},
        {"gcut2", 250, 250, 60536,
         by_area({{120, 133}, {135, 186}, {86, 75},  {103, 73},  {66, 85},   {135, 97}, {91, 175},
                  {131, 176}, {71, 176},  {153, 72}, {87, 148},  {168, 107}, {118, 90}, {140, 109},
                  {132, 159}, {152, 93},  {135, 68}, {121, 158}, {68, 94},   {155, 76}})},
        {"gcut3", 250, 250, 61036,
         by_area({{66, 80},   {164, 107}, {64, 184},  {121, 86},  {163, 135}, {85, 98},
                  {81, 102},  {103, 186}, {152, 106}, {176, 139}, {111, 118}, {69, 169},
                  {146, 133}, {112, 112}, {133, 160}, {63, 129},  {163, 152}, {110, 155},
                  {96, 136},  {92, 142},  {84, 143},  {119, 133}, {71, 71},   {146, 84},
                  {93, 86},   {89, 86},   {101, 146}, {172, 73},  {73, 169},  {99, 99}})},
        {"gcut4", 250, 250, 61698,
         by_area({{139, 103}, {166, 99},  {88, 74},   {174, 139}, {128, 109}, {175, 179}, {62, 82},
                  {178, 87},  {121, 77},  {125, 97},  {73, 84},   {69, 97},   {122, 159}, {66, 69},
                  {111, 118}, {165, 86},  {71, 83},   {163, 162}, {67, 132},  {121, 152}, {68, 150},
                  {138, 124}, {141, 105}, {183, 122}, {171, 63},  {101, 64},  {103, 95},  {110, 107},
                  {184, 158}, {85, 97},   {86, 92},   {127, 155}, {92, 147},  {106, 97},  {177, 108},
                  {164, 150}, {68, 84},   {62, 151},  {123, 134}, {158, 178}, {70, 140},  {173, 117},
                  {147, 136}, {141, 145}, {84, 164},  {144, 141}, {92, 103},  {156, 98},  {160, 111},
                  {127, 131}})},
        {"gcut5", 500, 500, 246000,
         by_area({{198, 205},
                  {179, 155},
                  {364, 236},
                  {272, 147},
                  {352, 145},
                  {343, 245},
                  {132, 174},
                  {164, 250},
                  {282, 356},
                  {342, 151}})},
        {"gcut6", 500, 500, 238998,
         by_area({{313, 305}, {292, 222}, {330, 253}, {212, 256}, {132, 189}, {149, 296}, {294, 137},
                  {225, 345}, {345, 220}, {337, 177}, {189, 300}, {234, 321}, {335, 272}, {354, 244},
                  {149, 169}, {355, 165}, {260, 220}, {210, 241}, {194, 372}, {287, 134}})},
    };
    for (const Anchor& anchor : anchors) {
        const GuillotineCut cut = guillotine_cut(anchor.width, anchor.height, anchor.pieces);
        INFO(anchor.name);
        CHECK(cut.value == anchor.optimum);
        CHECK(cut.proved());
        CHECK(worth(anchor.pieces, cut.counts) == cut.value);
    }
}

TEST_CASE("one sheet, copies limited: the optima of Christofides and Whitlock") {
    const std::vector<Anchor> anchors{
        {"cgcut1",
         15,
         10,
         244,
         {{8, 4, 66, 2},
          {3, 7, 35, 1},
          {8, 2, 24, 3},
          {3, 4, 17, 5},
          {3, 3, 11, 2},
          {3, 2, 8, 2},
          {2, 1, 2, 1}}},
        {"cgcut2",
         40,
         70,
         2892,
         {{21, 22, 582, 1},
          {31, 13, 403, 1},
          {9, 35, 315, 3},
          {9, 24, 216, 3},
          {30, 7, 210, 2},
          {11, 13, 143, 3},
          {10, 14, 140, 1},
          {14, 8, 110, 3},
          {12, 8, 94, 3},
          {13, 7, 90, 3}}},
        {"cgcut3", 40, 70, 1860, {{31, 43, 500, 4}, {30, 41, 480, 2}, {29, 39, 460, 4}, {28, 38, 440, 4},
                                  {27, 37, 420, 3}, {26, 36, 410, 4}, {25, 35, 400, 3}, {24, 34, 380, 4},
                                  {33, 23, 360, 4}, {22, 32, 340, 3}, {31, 21, 320, 3}, {29, 18, 300, 3},
                                  {17, 27, 280, 2}, {15, 24, 240, 2}, {16, 25, 260, 4}, {15, 24, 240, 1},
                                  {23, 14, 220, 4}, {21, 12, 180, 3}, {19, 11, 160, 4}, {9, 17, 140, 1}}},
    };
    for (const Anchor& anchor : anchors) {
        const GuillotineCut cut = guillotine_cut(anchor.width, anchor.height, anchor.pieces);
        INFO(anchor.name);
        CHECK(cut.value == anchor.optimum);
        CHECK(cut.proved());
        CHECK(worth(anchor.pieces, cut.counts) == cut.value);
        for (std::size_t p = 0; p < anchor.pieces.size(); ++p) CHECK(cut.counts[p] <= anchor.pieces[p].most);
    }
}

TEST_CASE("squares from a fat quarter of 18 x 22 in: rows times columns") {
    // By hand: floor(18 / side) * floor(22 / side), in quarter inches.
    for (const auto& [quarters, squares] :
         std::vector<std::pair<int, int>>{{10, 56}, {12, 42}, {16, 20}, {20, 12}, {24, 9}}) {
        const GuillotineCut cut = guillotine_cut(72, 88, {{quarters, quarters, 1, 0}});
        CHECK(cut.value == squares);
        CHECK(cut.counts == std::vector<int>{squares});
    }
}

TEST_CASE("a limit that stops early still tells a true bound") {
    const std::vector<GuillotinePiece> pieces{{8, 4, 66, 2}, {3, 7, 35, 1}, {8, 2, 24, 3}, {3, 4, 17, 5},
                                              {3, 3, 11, 2}, {3, 2, 8, 2},  {2, 1, 2, 1}};
    const GuillotineCut cut = guillotine_cut(15, 10, pieces, 3);
    CHECK(cut.value <= 244);
    CHECK(cut.bound >= 244);
    CHECK_FALSE(cut.proved());
}
