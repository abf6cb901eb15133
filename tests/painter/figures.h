#pragma once
/// Motifs: small drawings around the origin, about 1 in radius, made of inked parts from the lowest to the
/// topmost. Every drawing takes chance, so that no two of a kind are alike.

#include <vector>

#include "painter/cloth.h"
#include "painter/outline.h"

namespace motley::painter {

/// Which ink, and how it is shaded.
struct Tint {
    int ink = 0;     ///< -1 is the ground.
    double lift = 0; ///< Above 0 towards white, below 0 deeper, (-1, 1).
    double fade = 0; ///< Added to the lift at `reach` from `heart`.
    Point heart = {};
    double reach = 0;
    double strength = 1;
};

struct Part {
    Outline outline;
    Tint tint;
};

using Drawing = std::vector<Part>;

void add(Drawing& drawing, const Drawing& more, const Pose& pose);

/// The inks a flower uses.
struct BloomInks {
    int petal = 0, second = 1, heart = 2, leaf = 3;
};

Drawing daisy(Chance& chance, const BloomInks& inks);
Drawing blossom(Chance& chance, const BloomInks& inks);
Drawing rose(Chance& chance, const BloomInks& inks);
Drawing poppy(Chance& chance, const BloomInks& inks);
Drawing bloom(Chance& chance, Floral::Bloom kind, const BloomInks& inks);
Drawing bud(Chance& chance, const BloomInks& inks); ///< Stem downwards from the origin.

/// Leaves grow upwards from the origin.
Drawing leaf(Chance& chance, int ink, bool veins);
Drawing sprig(Chance& chance, int ink, int berries); ///< `berries` is an ink, or -2 for none.
Drawing fern(Chance& chance, int ink);
Drawing teardrop(Chance& chance, const BloomInks& inks); ///< One paisley.

Drawing novelty(Chance& chance, Novelty::Figure figure);

} // namespace motley::painter
