#pragma once
/// What to buy: per fabric, in the shop's step, with what changes on narrower cloth; backing, batting and
/// binding; precut alternatives under generic names; prices.

#include <optional>
#include <string>
#include <vector>

#include "cutting/fabric_cuts.h"
#include "cutting/finishing.h"

namespace motley::cutting {

struct BuyLine {
    std::string id;         ///< Of the fabric; empty for what has not been chosen: "backing", "binding".
    std::string what;       ///< For people: the fabric's name, "backing", "binding".
    measure::Length width;  ///< Usable.
    measure::Length length; ///< That the cutting takes.
    measure::Length buy;
    measure::Length spare;                     ///< Bought beyond `length`, after shrinkage.
    bool proved = false;                       ///< Nobody could buy less.
    bool from_stock = false;                   ///< Part or all of it is on hand.
    std::optional<measure::Length> narrow_buy; ///< On cloth that much narrower; empty: not possible there.
    std::optional<double> price;               ///< In all.
};

/// Small cuts of many fabrics, sold together.
struct Precut {
    std::string name;  ///< "stack of 42 ten-inch squares"
    std::string piece; ///< What is cut from it: "patch square, 6 1/2 in".
    int each = 0;      ///< Pieces from one cut.
    int wanted = 0;    ///< Pieces.
    int cuts = 0;      ///< Of those strips or squares.
    int packs = 0;     ///< Rolls or stacks that hold so many.
};

struct BuyingList {
    std::vector<BuyLine> lines;
    std::vector<Precut> precuts;
    measure::Length usable_width, narrow_width; ///< 2 in (5 cm) less.
    measure::Length batting_width, batting_height;
    measure::Length total;      ///< Of cloth, without batting.
    std::optional<double> cost; ///< Where every line has a price.
};

BuyingList buying_for(const layout::Layout& layout, const Cutting& cutting, const FinishingPlan& finishing);

/// `buying.csv`.
std::string buying_csv(const layout::Layout& layout, const BuyingList& list);

/// "2 1/4 yd", "1.5 m": a length of cloth as shops sell it.
std::string print_cloth(measure::Length length, measure::System system);

} // namespace motley::cutting
