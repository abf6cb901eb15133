#include "render/owners.h"

#include <algorithm>
#include <cmath>
#include <utility>

#include "fault/fault.h"

namespace motley::render {

namespace {

/// Where between two pixels the line of a given row counts as lying at the next one: (0, 1).
double share_of_row(int row) {
    constexpr double golden = 0.6180339887498949;
    const double turns = (row + 0.5) * golden;
    return turns - std::floor(turns);
}

/// How many pixels of a row come before a line that crosses it at `place`.
int pixels_before(double place, int row) {
    const double past = place - std::floor(place);
    const bool through_middle = std::abs(past - 0.5) < 1e-6;
    return static_cast<int>(
        std::floor(place + (through_middle ? (row % 2) * 0.5 + 0.25 : share_of_row(row))));
}

/// An edge as whole pixels. Steep ones give each row a first or a last pixel, flat ones each column.
class Stair {
public:
    explicit Stair(const Edge& edge) : edge_(edge), steep_(std::abs(edge.a) >= std::abs(edge.b) - 1e-9) {}

    bool inside(int x, int y) const {
        if (steep_) return edge_.a > 0 ? x >= first(y) : x < first(y);
        return edge_.b > 0 ? y >= first(x) : y < first(x);
    }

private:
    int first(int line) const {
        const double middle = line + 0.5;
        return steep_ ? pixels_before(-(edge_.b * middle + edge_.c) / edge_.a, line)
                      : pixels_before(-(edge_.a * middle + edge_.c) / edge_.b, line);
    }

    Edge edge_;
    bool steep_;
};

bool inside(std::span<const Edge> edges, int x, int y) {
    return std::all_of(edges.begin(), edges.end(),
                       [&](const Edge& edge) { return Stair(edge).inside(x, y); });
}

} // namespace

Owners::Owners(const Draft& draft) : draft_(draft), bands_(0, draft.scale().height) {
    for (std::size_t s = 0; s < draft.shapes().size(); ++s)
        bands_.add(s, draft.box(s).top - 1, draft.box(s).bottom + 1);
}

void Owners::row(int y, std::span<int> out, std::vector<Doubt>* doubts) const {
    constexpr int nobody = -1;
    std::fill(out.begin(), out.end(), nobody);
    // The two shapes deepest in which a pixel lies. Where corners meet the stairs may leave one to nobody.
    std::vector<int> near(out.size(), nobody), next(out.size(), nobody);
    std::vector<double> depth(out.size(), -1e300), next_depth(out.size(), -1e300);
    bands_.each(y, y + 1, [&](std::size_t shape, int, int) {
        const unit::Box& box = draft_.box(shape);
        if (y + 2 < box.top || y - 1 > box.bottom) return;
        // From where to where the row is in the shape: surely, and perhaps.
        double sure_from = -1e9, sure_to = 1e9, from = std::floor(box.left) - 1,
               to = std::ceil(box.right) + 1;
        const std::span<const Edge> edges = draft_.edges(shape);
        for (const Edge& edge : edges) {
            constexpr double reach = 1.5; // No stair is farther from its line.
            const double here = edge.depth(0, y + 0.5);
            if (std::abs(edge.a) < 1e-9) {
                if (here < -reach) return;
                if (here < reach) sure_to = -1e9;
                continue;
            }
            const double near_end = (-reach - here) / edge.a, far_end = (reach - here) / edge.a;
            if (edge.a > 0) {
                from = std::max(from, near_end);
                sure_from = std::max(sure_from, far_end);
            } else {
                to = std::min(to, near_end);
                sure_to = std::min(sure_to, far_end);
            }
        }
        const int first = std::max(0, static_cast<int>(std::floor(from)));
        const int last = std::min(static_cast<int>(out.size()), static_cast<int>(std::ceil(to)) + 1);
        for (int x = first; x < last; ++x) {
            const auto i = static_cast<std::size_t>(x);
            if (x > sure_from && x + 1 < sure_to) {
                out[i] = static_cast<int>(shape);
                continue;
            }
            double least = 1e300;
            for (const Edge& edge : edges) least = std::min(least, edge.depth(x + 0.5, y + 0.5));
            if (least > depth[i]) {
                next_depth[i] = std::exchange(depth[i], least);
                next[i] = std::exchange(near[i], static_cast<int>(shape));
            } else if (least > next_depth[i]) {
                next_depth[i] = least;
                next[i] = static_cast<int>(shape);
            }
            if (out[i] == nobody && inside(edges, x, y)) out[i] = static_cast<int>(shape);
        }
    });
    for (std::size_t i = 0; i < out.size(); ++i) {
        if (out[i] == nobody) out[i] = near[i];
        expects(out[i] != nobody);
        if (!doubts) continue;
        const bool first = near[i] != out[i];
        const int other = first ? near[i] : next[i];
        if (const double deep = first ? depth[i] : next_depth[i]; other != nobody && deep > -0.5)
            doubts->push_back({static_cast<int>(i), other, deep});
    }
}

} // namespace motley::render
