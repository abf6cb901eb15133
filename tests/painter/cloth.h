#pragma once
/// Invented fabrics: a design in a few words, painted as cloth at any resolution.
/// In: a Design. Out: linear light, sRGB primaries, with the yarns seen where the pixels are fine enough.
/// Words: the *ground* is the colour under a print, an *ink* a colour laid on it, the *scale* how far one
/// motif is from the next. Units: inches. The same design shows the same cloth at any size and resolution.
/// Threads: pure; painting uses several threads by itself.

#include <cstdint>
#include <variant>
#include <vector>

#include "colour/space.h"
#include "photo/photo.h"

namespace motley::painter {

/// Plain cloth; with a crossing colour (ink 0) the weft differs from the warp, as in a chambray.
struct Solid {
    bool crossed = false;
};

/// A quiet print in shades of one colour; the inks are the other shades.
struct ToneOnTone {
    enum class Figure : std::uint8_t { scrolls, marbled, brushed, sprigs };
    Figure figure = Figure::marbled;
};

struct Dots {
    enum class Order : std::uint8_t { half_drop, tossed };
    Order order = Order::half_drop;
    double diameter = 0.4; ///< As a share of the scale, (0, 1].
    bool haloed = false;   ///< Each dot in a ring of the next ink.
};

/// Flowers; ink 0 and 1 petals, 2 hearts, 3 leaves, further inks more petals.
struct Floral {
    enum class Habit : std::uint8_t { ditsy, meadow, bouquet };
    enum class Bloom : std::uint8_t { daisy, blossom, rose, poppy, mixed };
    Habit habit = Habit::meadow;
    Bloom bloom = Bloom::mixed;
};

/// Even checks, woven: the scale is one full repeat, a light and a dark check.
struct Gingham {};

/// A run of yarns of one colour: ink -1 is the ground.
struct Band {
    int ink = -1;
    double width = 0.25; ///< As a share of the scale.
};

/// Woven both ways from one sequence of bands, repeated.
struct Plaid {
    std::vector<Band> bands;
};

/// Lengthwise bands; `woven` lets the ground's weft show between the yarns, otherwise printed.
struct Stripe {
    std::vector<Band> bands;
    bool woven = true;
    bool across = false;
};

/// The broken check of a 2/2 twill, four dark and four light yarns; the scale is one repeat.
struct Houndstooth {};

struct Leaves {
    enum class Habit : std::uint8_t { tossed, sprigs, vine, fern };
    Habit habit = Habit::tossed;
};

/// Small pictures, tossed; ink 0 the main colour, 1 and 2 details, 3 fillers between.
struct Novelty {
    enum class Figure : std::uint8_t {
        bird,
        teacup,
        boat,
        key,
        anchor,
        fish,
        pear,
        apple,
        gull,
        shell,
        bee,
        acorn
    };
    std::vector<Figure> figures;
};

struct Paisley {};

/// Ordered small figures.
struct Geometric {
    enum class Figure : std::uint8_t { scallops, crosses, trellis, herringbone, stars, hatch, waves, bricks };
    Figure figure = Figure::crosses;
};

using Print = std::variant<Solid, ToneOnTone, Dots, Floral, Gingham, Plaid, Stripe, Houndstooth, Leaves,
                           Novelty, Paisley, Geometric>;

struct Design {
    Print print = {};
    double scale = 1; ///< From one motif, or one repeat, to the next.
    colour::Srgb ground = {};
    std::vector<colour::Srgb> inks = {}; ///< Used in turn; a print that needs more than there are starts
                                         ///< over. Without any, shades of the ground.
    std::uint64_t seed = 1;
    double threads = 68; ///< Yarns to the inch, each way.
    double relief = 1; ///< How plainly the yarns show: 0 not at all, 1 a quilting cotton, 1.6 a coarse linen.
};

struct Cloth {
    photo::LinearImage picture;
    double pixels_per_inch = 0;
};

/// Cloth of `width` by `height` pixels (square when no height is given). Expects positive sizes and scale.
Cloth paint(const Design& design, int width, double pixels_per_inch, int height = 0);

} // namespace motley::painter
