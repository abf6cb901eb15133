#pragma once
/// A piece of cloth being painted: linear light, exact area coverage, and the small faults that printed
/// cotton has. Units: inches from the top left corner. Threads: one canvas, one thread; it divides rows among
/// threads by itself and the result does not depend on how many.

#include <cstdint>
#include <functional>

#include "colour/space.h"
#include "painter/chance.h"
#include "painter/outline.h"
#include "photo/photo.h"

namespace motley::painter {

/// A dye. With a reach it changes from `colour` at `heart` to `edge` at that distance and beyond.
struct Ink {
    colour::LinearRgb colour = {};
    colour::LinearRgb edge = {};
    Point heart = {};
    double reach = 0;
    double strength = 1; ///< (0, 1]: how much of what lies below it hides.
};

/// How the yarns cross, and how much of it shows.
struct Weave {
    double threads = 68; ///< To the inch, each way.
    double relief = 1;   ///< 0 none, 1 a quilting cotton.
};

class Canvas {
public:
    Canvas(int width, int height, double pixels_per_inch, std::uint64_t seed);

    double width() const { return picture_.width / pixels_per_inch_; }   ///< Inches.
    double height() const { return picture_.height / pixels_per_inch_; } ///< Inches.
    double pixels_per_inch() const { return pixels_per_inch_; }

    void flood(colour::LinearRgb colour);
    /// Lays ink inside the outline, with the edge a print has: a little off and a little uneven.
    void fill(const Outline& outline, const Ink& ink);
    /// Sets every pixel to colour(x, y), x and y being where the cloth lay before it was laid down a little
    /// crooked.
    void shade(const std::function<colour::LinearRgb(double, double)>& colour);

    /// What separates a print from paper: unevenness of the dye, broad and fine, as a share of the light, and
    /// the ground showing through where ink sits thin on the yarns, as a share.
    void mottle(double broad, double fine, colour::LinearRgb ground, double thin);
    void weave(const Weave& weave); ///< Shades the yarns; keeps the mean.

    photo::LinearImage take() && { return std::move(picture_); }

private:
    Point settled(Point point) const;

    photo::LinearImage picture_;
    double pixels_per_inch_;
    std::uint64_t seed_;
    Field lie_across_, lie_along_; ///< How far the cloth lies off, in units of `crookedness`.
    std::vector<float> coverage_;
};

/// Calls work(row) for every row in [0, rows), on several threads.
void each_row(int rows, const std::function<void(int)>& work);

/// How much of the two-thread crossing survives in pixels this coarse: 1 plainly seen, 0 not at all.
double crossing_seen(double threads, double pixels_per_inch);

} // namespace motley::painter
