#include <algorithm>
#include <cmath>

#include "painter/demo.h"
#include "painter/outline.h"

namespace motley::painter {
namespace {

/// A colour inside sRGB: the chroma gives way until it fits.
colour::Srgb fitting(double lightness, double hue, double chroma) {
    for (; chroma > 0; chroma -= 2) {
        const colour::LinearRgb light =
            colour::linear(colour::Lab{lightness, chroma * std::cos(hue), chroma * std::sin(hue)});
        const auto [low, high] = std::minmax({light.r, light.g, light.b});
        if (low >= 0 && high <= 0.92) return colour::srgb(light);
    }
    return colour::srgb(colour::linear(colour::Lab{lightness, 0, 0}));
}

std::vector<Band> random_bands(Chance& chance, int inks) {
    std::vector<Band> bands;
    double left = 1;
    while (left > 0.05) {
        const double width = std::min(left, chance.between(0.04, 0.28));
        bands.push_back({bands.size() % 2 == 0 ? -1 : chance.below(inks), width});
        left -= width;
    }
    return bands;
}

Print random_print(Chance& chance, int kind) {
    switch (kind) {
        case 0:
            return Solid{.crossed = chance.odds(0.5)};
        case 1:
            return ToneOnTone{.figure = static_cast<ToneOnTone::Figure>(chance.below(4))};
        case 2:
            return Dots{.order = static_cast<Dots::Order>(chance.below(2)),
                        .diameter = chance.between(0.2, 0.5),
                        .haloed = chance.odds(0.3)};
        case 3:
            return Floral{.habit = static_cast<Floral::Habit>(chance.below(3)),
                          .bloom = static_cast<Floral::Bloom>(chance.below(5))};
        case 4:
            return Gingham{};
        case 5:
            return Plaid{.bands = random_bands(chance, 3)};
        case 6:
            return Stripe{
                .bands = random_bands(chance, 3), .woven = chance.odds(0.6), .across = chance.odds(0.3)};
        case 7:
            return Houndstooth{};
        case 8:
            return Leaves{.habit = static_cast<Leaves::Habit>(chance.below(4))};
        case 9: {
            const auto figure = static_cast<Novelty::Figure>(chance.below(12));
            return Novelty{.figures = {figure}};
        }
        case 10:
            return Paisley{};
        default:
            return Geometric{.figure = static_cast<Geometric::Figure>(chance.below(8))};
    }
}

/// Motifs of a floral or a paisley are larger than a dot's.
double random_scale(Chance& chance, const Print& print) {
    if (std::holds_alternative<Floral>(print) || std::holds_alternative<Paisley>(print))
        return chance.between(0.9, 2.8);
    if (std::holds_alternative<Novelty>(print) || std::holds_alternative<Leaves>(print))
        return chance.between(0.8, 1.6);
    return chance.between(0.4, 1.3);
}

} // namespace

std::vector<Design> invented_designs(std::uint64_t seed, int count) {
    constexpr int kinds = 12;
    std::vector<Design> designs;
    for (int k = 0; k < count; ++k) {
        Chance chance(mixed(seed, static_cast<std::uint64_t>(k)));
        Design design;
        design.seed = chance.next();
        design.print = random_print(chance, k % kinds);
        design.scale = random_scale(chance, design.print);
        const int value = chance.below(3); // Light, medium, dark.
        const double lightness = value == 0   ? chance.between(82, 94)
                                 : value == 1 ? chance.between(50, 74)
                                              : chance.between(18, 38);
        const double hue = chance.between(0, 2 * pi);
        design.ground = fitting(lightness, hue, value == 0 ? chance.between(3, 18) : chance.between(15, 55));
        for (int ink = 0; ink < 4; ++ink) {
            const double away = value == 2 ? chance.between(20, 50) : -chance.between(15, 40);
            const double turn = ink == 3 ? 2.1 : chance.around(0, 1.6);
            design.inks.push_back(
                fitting(std::clamp(lightness + away, 12.0, 94.0), hue + turn, chance.between(20, 60)));
        }
        if (std::holds_alternative<ToneOnTone>(design.print)) design.inks.clear();
        design.relief = chance.between(0.8, 1.4);
        designs.push_back(std::move(design));
    }
    return designs;
}

std::string file_name(const Sample& sample) {
    return sample.id + (sample.file == Sample::File::heic ? ".heic" : ".jpg");
}

std::vector<std::byte> photo_of(const Sample& sample, int width) {
    Camera camera = phone(sample.design.seed);
    if (sample.file == Sample::File::jpeg_p3) camera.gamut = Gamut::display_p3;
    const Photo photo = photograph(paint(sample.design, width, width / sample.inches), camera);
    return sample.file == Sample::File::heic ? encode_heic(photo) : encode_jpeg(photo);
}

} // namespace motley::painter
