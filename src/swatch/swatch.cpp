#include "swatch/swatch.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <optional>
#include <utility>

#include "colour/difference.h"
#include "colour/value.h"
#include "fault/fault.h"
#include "swatch/cloth.h"
#include "swatch/dyes.h"
#include "swatch/light.h"
#include "swatch/print.h"
#include "swatch/tally.h"

namespace motley::swatch {
namespace {

constexpr double half_busy = 12.0; // The spread, in CIEDE2000, of a print that is half as busy as can be.

double rounded(double number) {
    return std::round(number * 1e4) / 1e4 + 0.0;
}

// Whole ten-thousandths; what rounding leaves over goes to the largest.
std::vector<palette::Accent> as_accents(const std::vector<Dye>& dyes) {
    std::vector<palette::Accent> accents;
    long left = 10'000;
    std::vector<long> parts;
    for (const Dye& dye : dyes) {
        parts.push_back(std::lround(dye.share * 1e4));
        left -= parts.back();
    }
    if (!parts.empty()) parts.front() += left;
    for (std::size_t d = 0; d < dyes.size(); ++d) {
        accents.push_back({colour::srgb(light_of(dyes[d].tone)), static_cast<double>(parts[d]) / 1e4});
    }
    return accents;
}

// The picture made ready for looking at: empty when it is.
Cloth readied(const photo::LinearImage& picture, std::optional<colour::LinearRgb> blank) {
    expects(picture.pixels.size() ==
            3 * static_cast<std::size_t>(picture.width) * static_cast<std::size_t>(picture.height));
    if (picture.pixels.empty()) return {};
    Cloth cloth = reduced(picture, blank);
    calm(cloth);
    even_out(cloth, find_light(cloth));
    return cloth;
}

std::vector<palette::Accent> accents_of(const Cloth& cloth) {
    if (cloth.l.empty()) return {};
    return as_accents(find_dyes(tally(cloth)));
}

} // namespace

palette::FabricColour measure(const photo::Reading& reading, std::string photo_hash,
                              measure::Length photo_width) {
    palette::FabricColour colour;
    colour.srgb = colour::srgb(reading.mean);
    const colour::Lab lab = colour::lab(reading.mean);
    colour.lab = {rounded(lab.l), rounded(lab.a), rounded(lab.b)};
    colour.from = palette::FabricColour::From::photo;
    // Transparent areas of the picture carry the mean, which need not be a colour of the cloth.
    Cloth cloth;
    if (reading.opaque < 1.0) {
        cloth = readied(reading.picture, reading.mean);
        colour.accents = accents_of(cloth);
    }
    if (colour.accents.empty()) {
        cloth = readied(reading.picture, std::nullopt);
        colour.accents = accents_of(cloth);
    }
    colour.print = print_of(cloth, photo_width);
    colour.busy = rounded(busy(colour.accents));
    colour.photo_hash = std::move(photo_hash);
    return colour;
}

std::vector<palette::Accent> accents(const photo::LinearImage& picture) {
    return accents_of(readied(picture, std::nullopt));
}

double busy(std::span<const palette::Accent> accents) {
    double square = 0;
    for (const palette::Accent& one : accents)
        for (const palette::Accent& other : accents) {
            const double difference = colour::ciede2000(colour::lab(colour::linear(one.srgb)),
                                                        colour::lab(colour::linear(other.srgb)));
            square += 0.5 * one.share * other.share * difference * difference;
        }
    const double spread = std::sqrt(square);
    return spread / (spread + half_busy);
}

void set_values(std::vector<palette::Fabric>& fabrics) {
    std::vector<double> lightness;
    for (const palette::Fabric& fabric : fabrics)
        if (fabric.colour) lightness.push_back(fabric.colour->lab.l);
    const std::vector<colour::Value> found = colour::values(lightness);
    std::size_t next = 0;
    for (palette::Fabric& fabric : fabrics)
        if (fabric.colour) {
            const colour::Value measured = found[next++];
            fabric.colour->value = fabric.value_said.value_or(measured);
        }
}

} // namespace motley::swatch
