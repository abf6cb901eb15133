#include <cmath>

#include "palette/palette.h"

namespace motley::palette {

namespace {

// Division, not multiplication by 0.0001: it gives the double nearest to the decimal, which is what a reader
// of the file gets.
double in_steps(double number) {
    return std::round(number * 1e4) / 1e4 + 0.0;
}

} // namespace

FabricColour rounded(FabricColour colour) {
    colour.lab = {in_steps(colour.lab.l), in_steps(colour.lab.a), in_steps(colour.lab.b)};
    for (Accent& accent : colour.accents) accent.share = in_steps(accent.share);
    colour.busy = in_steps(colour.busy);
    if (colour.print) colour.print = rounded(std::move(*colour.print));
    if (colour.reading) {
        colour.reading->confidence = std::round(colour.reading->confidence * 100) / 100 + 0.0;
        colour.reading->pixels_per_inch = std::round(colour.reading->pixels_per_inch * 100) / 100 + 0.0;
    }
    return colour;
}

FabricColour typed_colour(colour::Srgb srgb) {
    FabricColour colour;
    colour.srgb = srgb;
    colour.lab = colour::lab(colour::linear(srgb));
    return rounded(std::move(colour));
}

FabricColour typed_colour(colour::Lab lab) {
    FabricColour colour;
    colour.lab = lab;
    colour = rounded(std::move(colour));
    colour.srgb = colour::srgb(colour::linear(colour.lab));
    return colour;
}

} // namespace motley::palette
