#pragma once
/// The top drafted on the pixel grid: the edges of its shapes, and the seams between them. Units: pixels;
/// pixel (x, y) is the square from (x, y) to (x + 1, y + 1).

#include <span>
#include <vector>

#include "layout/top.h"
#include "render/scale.h"

namespace motley::render {

/// A straight edge as a shape sees it: how deep inside it a place lies. All edges on one line are made from
/// the same three numbers, and those of the shapes on its two sides are exact negatives: what one has, the
/// other has not.
struct Edge {
    double a = 0, b = 0, c = 0;

    double depth(double x, double y) const { return a * x + b * y + c; }
    Edge turned_over() const { return {-a, -b, -c}; }
};

/// A stretch of a seam with the same two shapes beside it.
struct Stretch {
    double to = 0;      ///< Along the seam; it begins where the one before it ends.
    int under = 0;      ///< Where the seam allowance is pressed to: 1 the deep side, -1 the other, 0 none.
    bool outer = false; ///< The edge of the top.
};

/// Stretches that follow each other on one line without a gap.
struct Seam {
    Edge line;
    unit::Point along; ///< Its direction, to the right or straight down. The deep side lies to its right.
    double from = 0, to = 0;
    std::vector<Stretch> stretches;

    double place(double x, double y) const { return along.x * x + along.y * y; }
};

class Draft {
public:
    /// Refers to the layout. Expects one whose parts fit together.
    Draft(const layout::Layout& layout, const Scale& scale);

    const layout::Layout& layout() const { return *layout_; }
    const Scale& scale() const { return scale_; }
    const std::vector<layout::Shape>& shapes() const { return top_.shapes; }
    int pieces() const { return top_.pieces; }
    std::span<const Edge> edges(std::size_t shape) const {
        return {&edges_[first_[shape]], first_[shape + 1] - first_[shape]};
    }
    const unit::Box& box(std::size_t shape) const { return boxes_[shape]; } ///< Around the shape.
    /// How far the top reaches: whole pixels, or a little more or less than the scale says.
    double width() const { return top_.width * scale_.ppi; }
    double height() const { return top_.height * scale_.ppi; }

    const std::vector<Seam>& seams() const { return seams_; } ///< The top's outer edges among them.

private:
    struct Side;
    void rule(std::span<const Side> sides);
    void sew(std::span<const Side> sides);

    const layout::Layout* layout_;
    Scale scale_;
    layout::Top top_;
    std::vector<std::size_t> first_; ///< By shape, into edges_; one more at the end.
    std::vector<Edge> edges_;
    std::vector<unit::Box> boxes_;
    std::vector<Seam> seams_;
};

} // namespace motley::render
