#pragma once
/// How each kind of print is laid on the canvas. Only cloth.cpp calls these.

#include "painter/canvas.h"
#include "painter/cloth.h"
#include "painter/figures.h"
#include "painter/scatter.h"

namespace motley::painter {

/// The colours of a design as dyes; without inks, deeper and lighter shades of the ground.
class Dyes {
public:
    explicit Dyes(const Design& design);

    colour::LinearRgb ground() const { return ground_; }
    /// Ink -1 is the ground. A lift above 0 goes towards white, below 0 deeper.
    colour::LinearRgb dye(int ink, double lift = 0) const;
    Ink ink(const Tint& tint) const;

private:
    colour::LinearRgb ground_;
    std::vector<colour::LinearRgb> inks_;
};

void draw(Canvas& canvas, const Dyes& dyes, const Drawing& drawing, const Pose& pose);

void print(Canvas& canvas, const Design& design, const Solid& solid);
void print(Canvas& canvas, const Design& design, const ToneOnTone& quiet);
void print(Canvas& canvas, const Design& design, const Dots& dots);
void print(Canvas& canvas, const Design& design, const Floral& floral);
void print(Canvas& canvas, const Design& design, const Gingham& gingham);
void print(Canvas& canvas, const Design& design, const Plaid& plaid);
void print(Canvas& canvas, const Design& design, const Stripe& stripe);
void print(Canvas& canvas, const Design& design, const Houndstooth& check);
void print(Canvas& canvas, const Design& design, const Leaves& leaves);
void print(Canvas& canvas, const Design& design, const Novelty& novelty);
void print(Canvas& canvas, const Design& design, const Paisley& paisley);
void print(Canvas& canvas, const Design& design, const Geometric& geometric);

} // namespace motley::painter
