#pragma once
/// What a plan says about cloth, finishing and other sizes: all that is not the top itself. What `plan.json`
/// says under "cloth", "finish", "sizes" and "handout".

#include <optional>
#include <string>
#include <vector>

#include "document/document.h"
#include "layout/complaints.h"
#include "measure/length.h"

namespace motley::layout {

/// How cloth is bought.
struct Cloth {
    measure::Length ends;        ///< Cut off once to square the end of what is bought; nothing when not said.
    measure::Length slack;       ///< Bought beyond what the cutting plan needs; nothing when not said.
    measure::Length step;        ///< What the shop cuts in: 1/8 yd, or 10 cm.
    double shrinkage = 0;        ///< Of cloth that is washed first, percent in both directions, [0, 20].
    std::optional<double> price; ///< Of a yard, or a metre where the plan is metric.
    std::string currency;        ///< As printed before a price: "$ ", "EUR "; may be empty.
};

struct Backing {
    std::string fabric;       ///< Of the palette; empty: not chosen yet.
    measure::Length width;    ///< Usable, of its cloth; as the plan's when not said.
    measure::Length overhang; ///< On each side of the top: 4 in (10 cm), common practice, no source.
    measure::Length seam;     ///< 1/2 in (12 mm), common practice, no source.
};

struct Binding {
    std::string fabric;    ///< Of the palette; empty: not chosen yet.
    measure::Length width; ///< Cut, double fold: 2 1/2 in (65 mm), common practice, no source.
};

struct Finish {
    Backing backing;
    Binding binding;
    measure::Length batting_overhang; ///< On each side: as the backing's.
    std::string label;                ///< Text for the quilt's label; may be empty.
};

/// Another size of the same quilt. With a mattress, the quilt hangs down by `drop` left, right and at the
/// foot; else it is meant to come to `finished`.
struct OtherSize {
    std::string name;
    measure::Length width, length; ///< Of the mattress, or of the quilt.
    measure::Length drop;
    bool mattress = false;
    bool infant = false; ///< A caution goes with it.

    measure::Length wanted_width() const { return mattress ? width + drop * 2 : width; }
    measure::Length wanted_length() const { return mattress ? length + drop : length; }
};

enum class Paper : std::uint8_t { letter, a4 };

struct Page {
    Paper paper = Paper::letter; ///< A4 where the plan is metric and nothing is said.
    bool large_print = false;
};

struct MakingUp {
    Cloth cloth;
    Finish finish;
    std::vector<OtherSize> sizes; ///< Crib, lap, twin, full, queen and king when nothing is said.
    Page page;
};

/// crib, lap, twin, full, queen, king. The crib's is the inside of a full-size crib, 28 x 52 3/8 in (16 CFR
/// 1219); mattresses, drops (10 in) and the lap quilt (50 x 65 in) are common practice, no source.
std::vector<OtherSize> usual_sizes();

/// Reads the four sections of a plan, whose usable width is known; complaints name key by key what is wrong.
MakingUp read_making_up(const document::Node& plan, measure::System system, measure::Length usable_width,
                        Complaints& complaints);

} // namespace motley::layout
