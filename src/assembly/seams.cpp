#include "assembly/seams.h"

#include <algorithm>

#include "assembly/lie.h"
#include "assembly/unit_edges.h"

namespace motley::assembly {

namespace {

using layout::Part;
using unit::Box;
using unit::Point;

class Finder {
public:
    Finder(const layout::Layout& layout, const Rows& rows)
        : layout_(layout), rows_(rows), to_rows_(to_rows(rows.diagonal)) {}

    std::vector<Upstanding> upstanding() const {
        std::vector<Upstanding> seams;
        for (std::size_t r = 0; r < rows_.rows.size(); ++r) {
            const std::vector<Place>& places = rows_.rows[r].places;
            for (std::size_t i = 0; i + 1 < places.size(); ++i)
                seams.push_back(between(places[i], places[i + 1], static_cast<int>(r), static_cast<int>(i)));
        }
        return seams;
    }

    std::vector<Ending> inner() const {
        const std::vector<FormEdges> edges = edges_of(layout_.plan);
        std::vector<Ending> found;
        for (const Row& row : rows_.rows)
            for (const Place& place : row.places)
                if (kind(place).part == Part::unit && kind(place).fabrics.size() > 1)
                    add_endings(place, edges[static_cast<std::size_t>(kind(place).form)], found);
        return found;
    }

private:
    const Kind& kind(const Place& place) const { return rows_.kinds[static_cast<std::size_t>(place.kind)]; }
    Box box(const Place& place) const { return box_of(unit::moved(place.outline, to_rows_)); }
    double light(palette::FabricId fabric) const { return layout_.fabrics[index(fabric)].colour->lab.l; }

    /// Mean along a side of a place as it lies in its row.
    double light(const Place& place, int side) const {
        const Kind& what = kind(place);
        if (what.part != Part::unit) return light(what.fabrics.front());
        const unit::Form& form = layout_.plan.forms()[static_cast<std::size_t>(what.form)];
        double sum = 0, length = 0;
        for (const unit::EdgeShare& share :
             form.edges[static_cast<std::size_t>(side_of_form(side, place.turn))]) {
            sum += light(what.fabrics[static_cast<std::size_t>(share.patch)]) * (share.to - share.from);
            length += share.to - share.from;
        }
        return sum / length;
    }

    Upstanding between(const Place& one, const Place& other, int row, int before) const {
        constexpr int right_side = 1, left_side = 3;
        Upstanding seam;
        seam.row = row;
        seam.before = before;
        const Box a = box(one), b = box(other);
        Upright leg{a.right, std::max(a.top, b.top), std::min(a.bottom, b.bottom)};
        for (const Place* end : {&one, &other})
            if (triangle(kind(*end).part)) upright_side(unit::moved(end->outline, to_rows_), leg);
        seam.x = leg.x;
        seam.top = leg.top;
        seam.bottom = leg.bottom;
        const bool sash_left = kind(one).part == Part::sash, sash_right = kind(other).part == Part::sash;
        if (sash_left != sash_right) seam.fixed = sash_left ? left : right;
        seam.lighter = light(other, left_side) - light(one, right_side);
        return seam;
    }

    void add_endings(const Place& place, const FormEdges& edges, std::vector<Ending>& found) const {
        const Box square = box(place);
        const std::vector<palette::FabricId>& fabrics = kind(place).fabrics;
        for (int side = 0; side < 4; ++side) {
            const auto of_form = static_cast<std::size_t>(side_of_form(side, place.turn));
            const auto at = [&](double share) {
                const Point p = unit::turned({share, 0}, side);
                return Point{square.left + p.x * square.width(), square.top + p.y * square.height()};
            };
            for (const InnerEnd& end : edges.ends[of_form]) {
                Ending ending{at(end.at), side, 0};
                const double difference = light(fabrics[static_cast<std::size_t>(end.after)]) -
                                          light(fabrics[static_cast<std::size_t>(end.before)]);
                // Clockwise is to the right and down along the top and the right side.
                if (end.to_darker && difference != 0)
                    ending.towards = (difference < 0) == (side < 2) ? 1 : -1;
                found.push_back(ending);
            }
            if (edges.corner[of_form]) found.push_back({at(1), -1, 0});
        }
    }

    const layout::Layout& layout_;
    const Rows& rows_;
    const unit::Motion to_rows_;
};

} // namespace

std::vector<Upstanding> upstanding_seams(const layout::Layout& layout, const Rows& rows) {
    return Finder(layout, rows).upstanding();
}

std::vector<Ending> endings(const layout::Layout& layout, const Rows& rows) {
    return Finder(layout, rows).inner();
}

} // namespace motley::assembly
