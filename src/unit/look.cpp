#include "unit/look.h"

#include <algorithm>
#include <cmath>
#include <optional>

#include "fault/fault.h"

namespace motley::unit {

namespace {

constexpr double alike = 1e-6; ///< In unit coordinates and on the cloth; far above rounding.

bool same_outline(const Polygon& a, const Polygon& b) {
    return a.size() == b.size() && std::all_of(a.begin(), a.end(), [&](Point p) {
               return std::any_of(b.begin(), b.end(), [&](Point q) { return length(p - q) < alike; });
           });
}

Polygon turned(const Polygon& outline, int turn) {
    Polygon made;
    for (const Point p : outline) made.push_back(unit::turned(p, turn));
    return made;
}

/// For each patch of `a` the patch of `b` that covers it once `change` is done to b's outlines; nothing when
/// one is missing.
template <class Change>
std::optional<std::vector<std::size_t>> match(const Form& a, const Form& b, const Change& change) {
    if (a.patches.size() != b.patches.size()) return std::nullopt;
    std::vector<std::size_t> partners;
    for (const Patch& patch : a.patches) {
        const auto found = std::find_if(b.patches.begin(), b.patches.end(), [&](const Patch& other) {
            return other.input == patch.input && same_outline(patch.outline, change(other.outline));
        });
        if (found == b.patches.end()) return std::nullopt;
        partners.push_back(static_cast<std::size_t>(found - b.patches.begin()));
    }
    return partners;
}

/// The lie of a patch when its unit is turned: a point of the turned unit lay at turned(point, -turn) before.
Lie turned(const Lie& lie, int turn, double finished) {
    const auto before = [&](Point p) {
        const Point q = unit::turned(p * (1 / finished), 4 - turn);
        return lie.at(q * finished);
    };
    const Point origin = before({0, 0}), right = before({finished, 0});
    return {(right.x - origin.x) / finished, (right.y - origin.y) / finished, origin.x, origin.y};
}

bool on_grain(Point way) {
    return std::min(std::abs(way.x), std::abs(way.y)) < alike * length(way);
}

/// The stretches of a finished outer edge, clockwise.
std::vector<EdgeShare> shares(const Form& form, int side) {
    constexpr std::array<Point, 4> starts{{{0, 0}, {1, 0}, {1, 1}, {0, 1}}};
    const auto s = static_cast<std::size_t>(side);
    const Line edge = line_through({starts[s], starts[(s + 1) % 4]});
    std::vector<EdgeShare> found;
    for (std::size_t i = 0; i < form.patches.size(); ++i) {
        const Patch& patch = form.patches[i];
        double from = 2, to = -1;
        for (const Point p : patch.outline) {
            if (std::abs(edge.side(p)) > alike) continue;
            from = std::min(from, dot(p - edge.from, edge.along));
            to = std::max(to, dot(p - edge.from, edge.along));
        }
        if (to - from < alike) continue;
        const Point way = patch.lie.at(edge.along) - patch.lie.at({0, 0});
        found.push_back({static_cast<int>(i), patch.input, from, to, !on_grain(way)});
    }
    std::sort(found.begin(), found.end(),
              [](const EdgeShare& a, const EdgeShare& b) { return a.from < b.from; });
    return found;
}

/// Onto the unit's own edges, where rounding left it beside them.
double snapped(double share) {
    if (std::abs(share) < same_point) return 0;
    if (std::abs(share - 1) < same_point) return 1;
    return share;
}

double rounded(double share) {
    return std::round(share / alike) * alike;
}

} // namespace

Form look(const Flat& flat, double finished, double seam, const std::vector<Input>& inputs) {
    const Box around = box(flat);
    const Polygon inside = Box{around.left + seam, around.top + seam, around.left + seam + finished,
                               around.top + seam + finished}
                               .outline();
    Form made;
    for (const Scrap& scrap : unit::patches(flat)) {
        const Polygon seen = common(scrap.outline, inside);
        if (seen.empty() || area(seen) < 1e-9 * finished * finished) continue;
        Patch patch;
        patch.role = inputs[static_cast<std::size_t>(scrap.input)].role;
        patch.input = scrap.input;
        patch.piece = scrap.piece;
        patch.outline = hull(moved(seen, shifted(Point{} - inside[0])));
        for (Point& p : patch.outline) p = {snapped(p.x / finished), snapped(p.y / finished)};
        patch.centre = centre(patch.outline);
        patch.area = area(patch.outline);
        const Motion& motion = scrap.to_cloth;
        expects(!motion.mirrors());
        const Point corner = motion(inside[0]);
        patch.lie = {motion.xx, motion.yx, corner.x, corner.y};
        made.patches.push_back(std::move(patch));
    }
    std::sort(made.patches.begin(), made.patches.end(), [](const Patch& a, const Patch& b) {
        if (a.input != b.input) return a.input < b.input;
        if (rounded(a.centre.y) != rounded(b.centre.y)) return a.centre.y < b.centre.y;
        return a.centre.x < b.centre.x;
    });
    for (int side = 0; side < 4; ++side) made.edges[static_cast<std::size_t>(side)] = shares(made, side);
    return made;
}

Copy enter(std::vector<Form>& forms, const Form& unit, double finished) {
    for (std::size_t i = 0; i < forms.size(); ++i)
        for (int turn = 0; turn < 4; ++turn) {
            const auto partners =
                match(forms[i], unit, [&](const Polygon& outline) { return turned(outline, turn); });
            if (!partners) continue;
            ++forms[i].count;
            Copy copy{static_cast<int>(i), {}, {}};
            for (const std::size_t partner : *partners) {
                copy.lies.push_back(turned(unit.patches[partner].lie, turn, finished));
                copy.pieces.push_back(unit.patches[partner].piece);
            }
            return copy;
        }
    Copy copy{static_cast<int>(forms.size()), {}, {}};
    for (const Patch& patch : unit.patches) {
        copy.lies.push_back(patch.lie);
        copy.pieces.push_back(patch.piece);
    }
    forms.push_back(unit);
    return copy;
}

void pair_mirrored(std::vector<Form>& forms) {
    const auto mirrored = [](const Polygon& outline, int turn) {
        Polygon made;
        for (const Point p : outline) made.push_back(unit::turned({1 - p.x, p.y}, turn));
        return made;
    };
    for (std::size_t i = 0; i < forms.size(); ++i)
        for (std::size_t j = 0; j < i && forms[i].mirror_of < 0; ++j)
            for (int turn = 0; turn < 4; ++turn)
                if (match(forms[j], forms[i], [&](const Polygon& o) { return mirrored(o, turn); })) {
                    forms[i].mirror_of = static_cast<int>(j);
                    break;
                }
}

} // namespace motley::unit
