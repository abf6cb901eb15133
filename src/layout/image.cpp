#include "layout/image.h"

#include <algorithm>
#include <cmath>

namespace motley::layout {

using unit::Point;

namespace {

bool same_outline(const std::vector<Point>& a, const std::vector<Point>& b) {
    return a.size() == b.size() && std::all_of(a.begin(), a.end(), [&](Point p) {
               return std::any_of(b.begin(), b.end(),
                                  [p](Point q) { return std::hypot(p.x - q.x, p.y - q.y) < 1e-6; });
           });
}

} // namespace

std::vector<Image> images_of(Symmetry symmetry, bool on_point) {
    const Image across = on_point ? Image{0, 1, 1, 0} : Image{-1, 0, 0, 1};
    const Image down = on_point ? Image{0, -1, -1, 0} : Image{1, 0, 0, -1};
    const Image half{-1, 0, 0, -1}, quarter{0, -1, 1, 0}, back{0, 1, -1, 0};
    switch (symmetry) {
        case Symmetry::none:
            return {};
        case Symmetry::mirror:
            return {across};
        case Symmetry::mirror_both:
            return {across, down, half};
        case Symmetry::half_turn:
            return {half};
        case Symmetry::quarter_turn:
            return {quarter, half, back};
    }
    return {};
}

Ways ways_to_see(const unit::Form& form, Image image) {
    Ways ways(4);
    for (int turn = 0; turn < 4; ++turn) {
        std::vector<Seen>& found = ways[static_cast<std::size_t>(turn)];
        for (int other = 0; other < 4; ++other) {
            Seen way{other, {}};
            for (const unit::Patch& patch : form.patches) {
                std::vector<Point> outline;
                for (const Point p : patch.outline) {
                    const Point t = unit::turned(p, turn);
                    const Point moved = image({t.x - 0.5, t.y - 0.5});
                    outline.push_back({moved.x + 0.5, moved.y + 0.5});
                }
                for (std::size_t q = 0; q < form.patches.size(); ++q) {
                    std::vector<Point> there;
                    for (const Point p : form.patches[q].outline) there.push_back(unit::turned(p, other));
                    if (form.patches[q].role == patch.role && same_outline(outline, there)) {
                        way.patch.push_back(static_cast<int>(q));
                        break;
                    }
                }
            }
            if (way.patch.size() == form.patches.size()) found.push_back(std::move(way));
        }
        if (found.empty()) return {};
    }
    return ways;
}

} // namespace motley::layout
