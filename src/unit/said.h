#pragma once
/// How lengths and things on the table are called in instructions. Private to this folder.

#include <array>
#include <string>

#include "measure/length.h"

namespace motley::unit {

/// Says lengths in one measure. Units: inches.
class Said {
public:
    explicit Said(measure::System measure) : measure_(measure) {}

    std::string operator()(double inches) const;
    std::string operator()(double width, double height) const; ///< "6 1/2 in x 3 1/2 in"; one unit for both.
    std::array<std::string, 2> sides(double width, double height) const;
    std::string set(double inches) const; ///< A seam allowance: as it was given.
    /// What a blade cuts: never less than it takes, where the ruler has no such mark.
    std::string cut(double inches) const;

private:
    measure::System measure_;
};

/// A thing by its name: "sky.2" is said "sky 2", "quarters.2" "quarter 2".
std::string said_name(std::string thing);

} // namespace motley::unit
