#include "unit/figure.h"

#include <algorithm>
#include <cmath>

#include "unit/said.h"

namespace motley::unit {

namespace {

void add_layer(Figure& made, const Flat& flat, int layer) {
    for (const Scrap& scrap : flat.scraps)
        if (scrap.hidden)
            made.shapes.push_back(
                {scrap.outline, scrap.input, layer, layer > 0, true, scrap.to_cloth, scrap.piece});
    for (const Scrap& patch : patches(flat))
        made.shapes.push_back(
            {patch.outline, patch.input, layer, layer > 0, false, patch.to_cloth, patch.piece});
    for (const Segment seam : flat.seams) made.marks.push_back({seam, Mark::Kind::seam});
}

void measure_box(Figure& made, measure::System measure) {
    const auto sides = Said(measure).sides(made.box.width(), made.box.height());
    made.dimensions.push_back({edge(made.box, Side::bottom), sides[0]});
    made.dimensions.push_back({edge(made.box, Side::left), sides[1]});
}

/// Position within the figure's own box, so that copies lying elsewhere look the same.
bool alike(const Shape& a, const Box& a_box, const Shape& b, const Box& b_box) {
    if (a.input != b.input || a.layer != b.layer || a.hidden != b.hidden ||
        a.outline.size() != b.outline.size())
        return false;
    constexpr double close = 1e-6;
    const Point a_corner{a_box.left, a_box.top}, b_corner{b_box.left, b_box.top};
    return std::all_of(a.outline.begin(), a.outline.end(), [&](Point p) {
        return std::any_of(b.outline.begin(), b.outline.end(),
                           [&](Point q) { return length((p - a_corner) - (q - b_corner)) < close; });
    });
}

bool alike(const Figure& a, const Figure& b) {
    if (a.shapes.size() != b.shapes.size() || a.marks.size() != b.marks.size()) return false;
    for (std::size_t i = 0; i < a.shapes.size(); ++i)
        if (!alike(a.shapes[i], a.box, b.shapes[i], b.box)) return false;
    return true;
}

} // namespace

Figure figure(const std::string& name, const Flat& flat, measure::System measure) {
    Figure made{name, 1, {}, {}, {}, box(flat)};
    add_layer(made, flat, 0);
    measure_box(made, measure);
    return made;
}

Figure figure(const std::string& name, const Stack& stack, measure::System measure) {
    Figure made{name, 1, {}, {}, {}, box(stack)};
    add_layer(made, stack.bottom, 0);
    int layer = 0;
    for (const Flat& top : stack.tops) add_layer(made, top, ++layer);
    for (const Stitches& stitches : stack.stitches) made.marks.push_back({stitches.at, Mark::Kind::seam});
    measure_box(made, measure);
    return made;
}

void add(std::vector<Figure>& figures, Figure figure) {
    for (Figure& there : figures)
        if (alike(there, figure)) {
            ++there.copies;
            return;
        }
    figures.push_back(std::move(figure));
}

} // namespace motley::unit
