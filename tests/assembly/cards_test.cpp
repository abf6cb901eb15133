#include "assembly/cards.h"

#include <catch.hpp>
#include <set>

#include "assembly/letters.h"
#include "sample.h"

using namespace motley;
using namespace motley::assembly;
using measure::Length;

namespace {

layout::Layout batch_of(const std::string& recipe, int columns, int rows, const std::string& more,
                        int fabrics, std::uint32_t seed) {
    oracle::Dice dice(seed);
    return sample::placed(sample::plan(fmt::format(R"({{"columns": {}, "rows": {}}})", columns, rows),
                                       fmt::format(R"({{"recipe": "{}", "finished": "6"{}}})", recipe, more)),
                          sample::fabrics(fabrics), dice);
}

} // namespace

TEST_CASE("cards lead to every unit of the top, which shows what they say") {
    std::uint32_t seed = 41;
    for (const char* recipe :
         {"strip-set-triangle", "four-patch", "nine-patch", "rail", "half-square-triangle-two",
          "half-square-triangle-eight", "disappearing-nine-patch"}) {
        INFO(recipe);
        const layout::Layout layout = batch_of(recipe, 7, 6, "", 5, seed++);
        const Cards cards = cards_of(layout);
        const std::vector<std::string> names = letters(layout);
        const std::size_t places = layout.assignment.patches.size() / layout.assignment.turns.size();
        std::set<int> cells;
        int units = 0, spare = 0;
        for (const MakingCard& making : cards.makings) {
            units += making.units;
            spare += making.spare;
            REQUIRE(making.units == making.makings * static_cast<int>(layout.plan.sewn.copies.size()));
            REQUIRE(static_cast<int>(making.cells.size()) == making.units - making.spare);
            REQUIRE(making.labels.size() == making.cells.size());
            // Each unit is one of the pile's different ones, whose number is its code.
            int of_kinds = 0, kinds_spare = 0;
            std::set<int> forms;
            for (const PileUnit& kind : making.kinds) {
                REQUIRE(forms.insert(kind.form).second);
                of_kinds += kind.units;
                kinds_spare += kind.spare;
                REQUIRE(static_cast<int>(kind.cells.size()) == kind.units - kind.spare);
                REQUIRE(kind.labels.size() == kind.cells.size());
                for (const int cell : kind.cells) {
                    REQUIRE(layout.assignment.form(oracle::at(cell)) == kind.form);
                    const std::string pile = std::to_string(making.number);
                    REQUIRE(cards.codes[oracle::at(cell)] ==
                            (cards.numbered ? fmt::format("{}-{}", pile, kind.number) : pile));
                }
            }
            REQUIRE(of_kinds == making.units);
            REQUIRE(kinds_spare == making.spare);
            for (const int cell : making.cells) {
                REQUIRE(cells.insert(cell).second);
                const auto form = oracle::at(layout.assignment.form(oracle::at(cell)));
                const auto& patches = layout.plan.forms()[form].patches;
                for (std::size_t p = 0; p < patches.size(); ++p) {
                    const Ingredient& from = making.ingredients[oracle::at(patches[p].input)];
                    REQUIRE(layout.assignment.patches[oracle::at(cell) * places + p] == from.fabric);
                    REQUIRE(from.letter == names[index(from.fabric)]);
                }
            }
        }
        CHECK(cells.size() == 42);
        CHECK(units - spare == 42);
    }
}

TEST_CASE("sets give all sections that the makings take") {
    std::uint32_t seed = 51;
    for (const char* recipe : {"strip-set-triangle", "four-patch", "nine-patch", "rail"}) {
        INFO(recipe);
        const layout::Layout layout = batch_of(recipe, 9, 8, "", 4, seed++);
        const Cards cards = cards_of(layout);
        int wanted = 0, given = 0;
        for (const MakingCard& making : cards.makings)
            for (const unit::StripSetYield& set : layout.plan.sewn.sets)
                wanted += making.makings * set.sections;
        for (const SetCard& set : cards.sets) {
            given += set.sections;
            const int per_set = static_cast<int>(set.strip_length.ticks / set.section.ticks);
            REQUIRE(set.sections + set.spare == set.sets * per_set);
            REQUIRE_FALSE(set.makings.empty());
            // Its strips are what its makings take, in this order.
            for (const int making : set.makings)
                for (const Ingredient& strip : set.strips) {
                    const auto& all = cards.makings[oracle::at(making)].ingredients;
                    REQUIRE(std::any_of(all.begin(), all.end(), [&](const Ingredient& one) {
                        return one.name == strip.name && one.fabric == strip.fabric;
                    }));
                }
        }
        CHECK(given == wanted);
    }
}

TEST_CASE("the strip-set triangles of the checks take as many sets as they should") {
    // checks.md: 120 units of five strips of 2 1/2 in, squares of 10 in: at 42 in 8 sets for 30 squares (32,
    // 2 to spare), at 39 1/2 in 10 sets. The five strips make a set of 10 1/2 in.
    const auto sets_at = [](const std::string& width) {
        const layout::Layout layout =
            batch_of("strip-set-triangle", 10, 12, fmt::format(R"(, "usable_width": "{}")", width), 5, 61);
        const Cards cards = cards_of(layout);
        int sets = 0, sections = 0;
        for (const SetCard& set : cards.sets) {
            sets += set.sets;
            sections += set.sections;
            CHECK(set.raw_width == Length::inches(10.5));
            CHECK(set.section == Length::inches(10));
            CHECK(set.strips.size() == 5);
            CHECK(set.strips.front().width == Length::inches(2.5));
        }
        CHECK(sections == 30);
        return sets;
    };
    CHECK(sets_at("42") == 8);
    CHECK(sets_at("39 1/2") == 10);
}

TEST_CASE("a card reads as one sews") {
    layout::Layout layout = batch_of("strip-set-triangle", 2, 2, "", 3, 71);
    for (std::size_t s = 0; s < layout.assignment.slots.size(); ++s)
        layout.assignment.slots[s] =
            oracle::id(s + 1 == layout.assignment.slots.size() ? 2 : static_cast<int>(s % 2));
    const layout::Kit kit = layout::make_kit(layout.plan.sewn, 4, layout.plan.usable_width);
    std::size_t places = layout.assignment.patches.size() / layout.assignment.turns.size();
    layout::spell_out(kit, static_cast<int>(places), oracle::id(3), layout.assignment);
    const Cards cards = cards_of(layout);
    REQUIRE(cards.sets.size() == 1);
    const std::vector<std::string>& lines = cards.sets.front().lines;
    REQUIRE(lines.size() == 6);
    CHECK(lines[0] ==
          "Sew one set of strips A (2 1/2 in), B (2 1/2 in), A (2 1/2 in), B (2 1/2 in) and A "
          "(2 1/2 in), in this order, long sides together.");
    CHECK(lines[3] == "It should measure 10 1/2 in across the strips.");
    CHECK(lines[4] == "Cut 1 section of 10 in x 10 1/2 in; cloth for 3 more is left.");
    CHECK(lines[5] ==
          "Sew one of strip set 1 and ground C: 4 units. Unit 1 goes to: row 1, column 1. Unit 2 goes to: "
          "row 1, column 2. Unit 3 goes to: row 2, column 2. Unit 4 goes to: row 2, column 1.");
    CHECK(cards.codes == std::vector<std::string>{"1-1", "1-2", "1-4", "1-3"});
}

TEST_CASE("tops that are not sewn in batches have no cards") {
    oracle::Dice dice(81);
    const layout::Layout layout =
        sample::placed(sample::plan(R"({"columns": 3, "rows": 3})"), sample::fabrics(3), dice);
    CHECK(cards_of(layout).sets.empty());
    CHECK(cards_of(layout).makings.empty());
}
