#include "assembly/borders.h"

#include <algorithm>
#include <cmath>
#include <map>

#include "assembly/lie.h"
#include "layout/top.h"

namespace motley::assembly {

namespace {

using layout::Corners;
using unit::Box;
using unit::Point;

PressedSeam seam(Point from, Point to, Point towards) {
    PressedSeam made;
    made.of = SeamOf::border;
    made.at = {from, to};
    made.to = towards;
    made.fixed = true;
    return made;
}

constexpr Point up{0, -1}, down{0, 1}, to_left{-1, 0}, to_right{1, 0};

void mitred(const Around& at, std::vector<PressedSeam>& seams) {
    const Box &in = at.inner, &out = at.outer;
    seams.push_back(seam({in.left, in.top}, {in.left, in.bottom}, to_left));
    seams.push_back(seam({in.right, in.top}, {in.right, in.bottom}, to_right));
    seams.push_back(seam({in.left, in.top}, {in.right, in.top}, up));
    seams.push_back(seam({in.left, in.bottom}, {in.right, in.bottom}, down));
    const double root = std::sqrt(0.5);
    seams.push_back(seam({out.left, out.top}, {in.left, in.top}, {root, -root}));
    seams.push_back(seam({out.right, out.top}, {in.right, in.top}, {-root, -root}));
    seams.push_back(seam({out.right, out.bottom}, {in.right, in.bottom}, {-root, root}));
    seams.push_back(seam({out.left, out.bottom}, {in.left, in.bottom}, {root, root}));
}

/// Sides first, then top and bottom over their ends.
void butted(const Around& at, bool corners, std::vector<PressedSeam>& seams) {
    const Box &in = at.inner, &out = at.outer;
    seams.push_back(seam({in.left, in.top}, {in.left, in.bottom}, to_left));
    seams.push_back(seam({in.right, in.top}, {in.right, in.bottom}, to_right));
    if (corners) {
        seams.push_back(seam({in.left, out.top}, {in.left, in.top}, to_right));
        seams.push_back(seam({in.right, out.top}, {in.right, in.top}, to_left));
        seams.push_back(seam({in.left, in.bottom}, {in.left, out.bottom}, to_right));
        seams.push_back(seam({in.right, in.bottom}, {in.right, out.bottom}, to_left));
    }
    seams.push_back(seam({out.left, in.top}, {out.right, in.top}, up));
    seams.push_back(seam({out.left, in.bottom}, {out.right, in.bottom}, down));
}

/// The squares that a pieced border is sewn from, clockwise from the top left corner.
std::vector<Box> patches_of(const layout::Layout& layout, std::size_t border) {
    const layout::Border& asked = layout.plan.setting.borders[border];
    const std::size_t each = asked.units ? asked.units->form().patches.size() : 1;
    std::map<std::size_t, Box> found;
    for (const layout::Shape& shape : layout::top_of(layout).shapes) {
        if (shape.part != layout::Part::border || shape.cell != static_cast<int>(border) || shape.patch < 0)
            continue;
        const Box box = box_of(shape.outline);
        const auto [place, fresh] = found.try_emplace(static_cast<std::size_t>(shape.patch) / each, box);
        Box& whole = place->second;
        if (!fresh)
            whole = {std::min(whole.left, box.left), std::min(whole.top, box.top),
                     std::max(whole.right, box.right), std::max(whole.bottom, box.bottom)};
    }
    std::vector<Box> boxes;
    for (const auto& [number, box] : found) boxes.push_back(box);
    return boxes;
}

/// Seams inside the strips: upright ones at the top and the bottom, level ones at the sides.
void pieced(const std::vector<Box>& boxes, const Around& at, std::vector<PressedSeam>& seams) {
    for (std::size_t i = 0; i < boxes.size(); ++i) {
        const Box &one = boxes[i], &next = boxes[(i + 1) % boxes.size()];
        const bool above = one.bottom <= at.inner.top + same_edge,
                   below = one.top >= at.inner.bottom - same_edge;
        const bool level = above || below;
        if (level && std::abs(one.top - next.top) < same_edge) {
            const double x = above ? one.right : one.left;
            seams.push_back(seam({x, one.top}, {x, one.bottom}, above ? to_right : to_left));
        } else if (!level && std::abs(one.left - next.left) < same_edge) {
            const bool at_right = one.left >= at.inner.right - same_edge;
            const double y = at_right ? one.bottom : one.top;
            if (y > at.inner.top + same_edge && y < at.inner.bottom - same_edge)
                seams.push_back(seam({one.left, y}, {one.right, y}, at_right ? down : up));
        }
    }
}

} // namespace

std::vector<Around> borders_of(const layout::Plan& plan) {
    const layout::Extent whole = layout::extent_of(plan);
    const auto& borders = plan.setting.borders;
    std::vector<Around> made(borders.size());
    Box outer{0, 0, whole.width, whole.height};
    for (std::size_t i = borders.size(); i-- > 0;) {
        const double aside = borders[i].width.in_inches(), above = borders[i].level_width().in_inches();
        made[i].outer = outer;
        outer = {outer.left + aside, outer.top + above, outer.right - aside, outer.bottom - above};
        made[i].inner = outer;
    }
    return made;
}

std::vector<PressedSeam> border_seams(const layout::Layout& layout) {
    const std::vector<Around> around = borders_of(layout.plan);
    std::vector<PressedSeam> seams;
    for (std::size_t i = 0; i < around.size(); ++i) {
        const layout::Border& border = layout.plan.setting.borders[i];
        if (border.pieced) pieced(patches_of(layout, i), around[i], seams);
        if (border.corners == Corners::mitred)
            mitred(around[i], seams);
        else
            butted(around[i], has_squares(border), seams);
    }
    return seams;
}

Along patches_along(const layout::Layout& layout, std::size_t border) {
    const Around at = borders_of(layout.plan)[border];
    Along along;
    for (const Box& box : patches_of(layout, border)) {
        const Point middle = box.middle();
        along.level += middle.y < at.inner.top && middle.x > at.inner.left && middle.x < at.inner.right;
        along.side += middle.x < at.inner.left && middle.y > at.inner.top && middle.y < at.inner.bottom;
    }
    return along;
}

} // namespace motley::assembly
