#pragma once
/// The order of a print, as its photo shows it: where it repeats, how its stripes run, whether it looks made
/// to be seen one way up. Units: inches.

#include <cstdint>
#include <vector>

#include "document/document.h"
#include "measure/length.h"

namespace motley::palette {

struct Print {
    enum class Stripes : std::uint8_t { none, along, across, aslant, both };

    /// From a place of the cloth to the next one that looks the same; steps of 0.0001.
    struct Step {
        double across = 0; ///< To the right.
        double down = 0;   ///< Along the cloth's length, towards the foot of the photo.
        bool operator==(const Step&) const = default;
    };

    std::vector<Step> repeat = {};   ///< None; one, across the bands of stripes; or two, the shortest there
                                     ///< are: all the repeats are their sums.
    Stripes stripes = Stripes::none; ///< Along the cloth's length, as the photo shows it; `both` for checks
                                     ///< and plaids.
    double lean = 0;      ///< Of stripes, degrees clockwise from the cloth's length, (-90, 90]; steps of 0.1.
    bool one_way = false; ///< Looks as if it had an up and a down. A suggestion; Fabric::one_way is binding.
    double sure = 0;      ///< Of the repeat, or that there is none, [0, 1]; steps of 0.01.

    bool operator==(const Print&) const = default;
};

/// To the steps of the file, no negative zero.
Print rounded(Print print);

/// The same print when the photo shows more or less cloth than was thought.
Print rescaled(Print print, measure::Length from, measure::Length to);

/// Whether two steps are level and upright within 3 degrees, the second meeting the first halfway: rows of
/// which each second one is moved by half.
struct Cell {
    double width = 0, height = 0; ///< Inches; 0 where the repeat does not lie straight to the cloth.
    bool half_drop = false;       ///< Each second row or column is moved by half.
};
Cell cell_of(const Print& print);

/// In plain words: "1/2 in checks", "stripes along, repeat 5/8 in"; empty for a print without order.
std::string in_words(const Print& print, measure::System measure);

/// As it stands in the file. `photo_width` is what the repeat was measured by: a photo that is later said to
/// show another width is read with its repeat brought to that.
document::Json write_print(const Print& print, measure::Length photo_width, measure::System measure);
Print read_print(const document::Node& node, measure::Length photo_width, measure::System measure);

} // namespace motley::palette
