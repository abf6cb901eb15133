#include "layout/top.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "fault/fault.h"
#include "layout/frame.h"
#include "layout/ring.h"

namespace motley::layout {

namespace {

using unit::Motion;
using unit::Point;
using unit::Polygon;

Polygon rectangle(double left, double top, double right, double bottom) {
    return {{left, top}, {right, top}, {right, bottom}, {left, bottom}};
}

class Layer {
public:
    explicit Layer(const Layout& layout) : layout_(layout), plan_(layout.plan), frame_(plan_) {
        for (std::size_t f = 0; f < layout.fabrics.size(); ++f)
            numbers_[layout.fabrics[f].id] = FabricId{static_cast<std::uint16_t>(f)};
        for (const Border& border : plan_.setting.borders) {
            top_.left += border.width.in_inches();
            top_.top += border.level_width().in_inches();
        }
        top_.width = frame_.width() + 2 * top_.left;
        top_.height = frame_.height() + 2 * top_.top;
    }

    Top run() {
        units();
        plain_blocks();
        if (frame_.board().on_point()) triangles();
        if (frame_.board().bricks()) half_units();
        if (plan_.setting.sashing) sashing();
        borders();
        top_.pieces = pieces_;
        return std::move(top_);
    }

private:
    FabricId fabric(const std::string& id) const {
        const auto found = numbers_.find(id);
        expects(found != numbers_.end());
        return found->second;
    }

    /// The i-th of some fabrics, over and over; "*" is all.
    FabricId one_of(const std::vector<std::string>& ids, std::size_t i) const {
        if (std::find(ids.begin(), ids.end(), "*") != ids.end())
            return FabricId{static_cast<std::uint16_t>(i % layout_.fabrics.size())};
        return fabric(ids[i % ids.size()]);
    }

    /// A shape in coordinates of the frame; `from_piece` takes its cloth's inches there.
    void add(Part part, FabricId id, const Polygon& outline, const Motion& from_piece, int piece,
             int cell = -1, int patch = -1) {
        const Motion inward = unit::shifted({top_.left, top_.top});
        Shape shape;
        shape.outline = unit::moved(outline, inward);
        shape.fabric = id;
        shape.part = part;
        shape.cell = cell;
        shape.patch = patch;
        shape.piece = piece;
        shape.to_cloth = inward.after(from_piece).inverse();
        top_.shapes.push_back(std::move(shape));
    }

    void units() {
        const Assignment& shown = layout_.assignment;
        const Board& board = frame_.board();
        const std::size_t places = shown.patches.size() / shown.turns.size();
        for (int r = 0; r < board.list_rows(); ++r)
            for (int c = 0; c < board.list_columns(r); ++c) {
                const int cell = board.cell(r, c);
                if (cell < 0) continue;
                const std::size_t at = static_cast<std::size_t>(cell);
                const Motion from_unit = frame_.from_unit(cell, shown.turns[at]);
                const auto& patches = plan_.forms()[static_cast<std::size_t>(shown.form(at))].patches;
                const unit::Copy* copy = nullptr; // Each copy of a making shows its own part of the cloth.
                if (!shown.units.empty())
                    copy = &plan_.sewn
                                .copies[static_cast<std::size_t>(shown.units[at]) % plan_.sewn.copies.size()];
                std::map<std::pair<int, int>, int> pieces;
                for (std::size_t p = 0; p < patches.size(); ++p) {
                    Polygon outline;
                    for (const Point q : patches[p].outline) outline.push_back(from_unit(q * frame_.side()));
                    const unit::Lie& lie = copy ? copy->lies[p] : patches[p].lie;
                    const Motion to_cloth{lie.cos, -lie.sin, lie.sin, lie.cos, lie.x, lie.y};
                    const auto [piece, fresh] =
                        pieces.try_emplace({patches[p].input, patches[p].piece}, pieces_);
                    if (fresh) ++pieces_;
                    add(Part::unit, shown.patches[at * places + p], outline,
                        from_unit.after(to_cloth.inverse()), piece->second, cell, static_cast<int>(p));
                }
            }
    }

    void plain_blocks() {
        if (plan_.setting.alternate.empty()) return;
        const Polygon square = rectangle(0, 0, frame_.side(), frame_.side());
        for (const int cell : frame_.board().plain_blocks()) {
            const Motion from_unit = frame_.from_unit(cell, 0);
            add(Part::plain_block, fabric(plan_.setting.alternate), unit::moved(square, from_unit), from_unit,
                pieces_++, cell);
        }
    }

    /// On point: along each side quarters of a square with legs of a unit and a sash, and at the corners
    /// halves of a square with a unit's side as their long side.
    void triangles() {
        const FabricId id = edge_fabric(plan_, layout_.fabrics);
        const double leg = frame_.side() + frame_.sash(), base = leg * 2 * Frame::root_half();
        const double corner = frame_.side() * Frame::root_half(), first = corner; // Legs of the corners.
        const double w = frame_.width(), h = frame_.height();
        const auto lay = [&](Part part, const Polygon& outline) {
            Point box = outline.front(); // Their straight edges lie along the grain.
            for (const Point p : outline) box = {std::min(box.x, p.x), std::min(box.y, p.y)};
            add(part, id, outline, unit::shifted(box), pieces_++);
        };
        for (int c = 0; c + 1 < plan_.setting.columns; ++c) {
            const double x = first + c * base;
            lay(Part::side_triangle, {{x, 0}, {x + base, 0}, {x + base / 2, base / 2}});
            lay(Part::side_triangle, {{x + base / 2, h - base / 2}, {x + base, h}, {x, h}});
        }
        for (int r = 0; r + 1 < plan_.setting.rows; ++r) {
            const double y = first + r * base;
            lay(Part::side_triangle, {{0, y}, {base / 2, y + base / 2}, {0, y + base}});
            lay(Part::side_triangle, {{w - base / 2, y + base / 2}, {w, y}, {w, y + base}});
        }
        lay(Part::corner_triangle, {{0, 0}, {corner, 0}, {0, corner}});
        lay(Part::corner_triangle, {{w - corner, 0}, {w, 0}, {w, corner}});
        lay(Part::corner_triangle, {{w, h - corner}, {w, h}, {w - corner, h}});
        lay(Part::corner_triangle, {{0, h - corner}, {corner, h}, {0, h}});
    }

    void half_units() {
        const FabricId id = edge_fabric(plan_, layout_.fabrics);
        const double half = frame_.side() / 2, w = frame_.width();
        for (int r = 1; r < frame_.board().rows(); r += 2) {
            const double top = r * frame_.side(), bottom = top + frame_.side();
            add(Part::half_unit, id, rectangle(0, top, half, bottom), unit::shifted({0, top}), pieces_++);
            add(Part::half_unit, id, rectangle(w - half, top, w, bottom), unit::shifted({w - half, top}),
                pieces_++);
        }
    }

    void sashing();
    void borders();
    void strip(FabricId id, const Polygon& outline, bool upright);
    void border(std::size_t index);
    void pieced_border(std::size_t index);
    void border_unit(std::size_t index, const RingPlace& place, std::size_t first);
    /// Of the i-th patch of a pieced border, which may show one of these.
    FabricId border_fabric(std::size_t index, std::size_t i, const std::vector<std::string>& ids) const;

    const Layout& layout_;
    const Plan& plan_;
    Frame frame_;
    std::map<std::string, FabricId> numbers_;
    Top top_;
    int pieces_ = 0;
};

/// In lattice coordinates first: between neighbours a strip as long as a unit. Where there are no
/// cornerstones, the strips below the units run on over the crossings.
void Layer::sashing() {
    const Sashing& asked = *plan_.setting.sashing;
    const FabricId cloth = fabric(asked.fabric);
    const bool run_on = asked.cornerstones.empty();
    const double half = frame_.side() / 2, sash = frame_.sash();
    const Motion from_lattice = frame_.from_lattice();
    const int rows = frame_.board().rows(), columns = frame_.board().columns();
    const int from = asked.around ? -1 : 0;
    int corner = 0;
    for (int r = from; r < rows; ++r)
        for (int c = from; c < columns; ++c) {
            const Point m = frame_.lattice_middle(r, c);
            const auto joined = [&](int i, int j, int k, int l) {
                const int blocks = frame_.block(i, j) + frame_.block(k, l);
                return blocks == 2 || (asked.around && blocks == 1);
            };
            const bool crosses = frame_.crossing(r, c);
            if (joined(r, c, r, c + 1)) {
                const Polygon strip = rectangle(m.x + half, m.y - half, m.x + half + sash, m.y + half);
                // Cut across the fabric: the strip's length is the cloth's width.
                const Motion upright =
                    unit::shifted({m.x + half + sash, m.y - half}).after(unit::rotated(90));
                add(Part::sash, cloth, unit::moved(strip, from_lattice), from_lattice.after(upright),
                    pieces_++);
            }
            const bool below = joined(r, c, r + 1, c);
            if (below) {
                const double end = m.x + half + (run_on && crosses ? sash : 0);
                const Polygon strip = rectangle(m.x - half, m.y + half, end, m.y + half + sash);
                add(Part::sash, cloth, unit::moved(strip, from_lattice),
                    from_lattice.after(unit::shifted({m.x - half, m.y + half})), pieces_++);
            }
            if (!crosses) continue;
            if (!run_on || !below) {
                const Polygon square =
                    rectangle(m.x + half, m.y + half, m.x + half + sash, m.y + half + sash);
                FabricId id = cloth;
                if (!run_on)
                    id = layout_.cornerstones.empty()
                             ? one_of(asked.cornerstones, static_cast<std::size_t>(corner))
                             : layout_.cornerstones.at(static_cast<std::size_t>(corner));
                add(run_on ? Part::sash : Part::cornerstone, id, unit::moved(square, from_lattice),
                    from_lattice.after(unit::shifted({m.x + half, m.y + half})), pieces_++, corner);
            }
            ++corner;
        }
}

/// A strip of a border, cut across the fabric.
void Layer::strip(FabricId id, const Polygon& outline, bool upright) {
    double left = outline[0].x, top = outline[0].y, right = left;
    for (const Point p : outline) {
        left = std::min(left, p.x);
        right = std::max(right, p.x);
        top = std::min(top, p.y);
    }
    const Motion lie =
        upright ? unit::shifted({right, top}).after(unit::rotated(90)) : unit::shifted({left, top});
    add(Part::border, id, outline, lie, pieces_++);
}

/// A plain border.
void Layer::border(std::size_t index) {
    const Border& border = plan_.setting.borders[index];
    const double g = border.width.in_inches(), level = border.level_width().in_inches();
    const auto [l, t, r, b] = inside_border(plan_, frame_, index);
    const FabricId id = fabric(border.fabrics.front());
    if (border.corners == Corners::mitred) {
        strip(id, {{l - g, t - g}, {r + g, t - g}, {r, t}, {l, t}}, false);
        strip(id, {{r + g, t - g}, {r + g, b + g}, {r, b}, {r, t}}, true);
        strip(id, {{l, b}, {r, b}, {r + g, b + g}, {l - g, b + g}}, false);
        strip(id, {{l - g, t - g}, {l, t}, {l, b}, {l - g, b + g}}, true);
        return;
    }
    strip(id, rectangle(l - g, t, l, b), true);
    strip(id, rectangle(r, t, r + g, b), true);
    const double over = border.corners == Corners::butted ? g : 0;
    strip(id, rectangle(l - over, t - level, r + over, t), false);
    strip(id, rectangle(l - over, b, r + over, b + level), false);
    if (border.corners != Corners::squares) return;
    const FabricId corner = fabric(border.corner);
    for (const Point at : {Point{l - g, t - g}, Point{r, t - g}, Point{r, b}, Point{l - g, b}})
        strip(corner, rectangle(at.x, at.y, at.x + g, at.y + g), false);
}

FabricId Layer::border_fabric(std::size_t index, std::size_t i, const std::vector<std::string>& ids) const {
    if (index < layout_.borders.size() && !layout_.borders[index].empty())
        return layout_.borders[index].at(i);
    return one_of(ids, i);
}

void Layer::pieced_border(std::size_t index) {
    const Border& border = plan_.setting.borders[index];
    const Ring ring = ring_of(plan_, frame_, index);
    const std::size_t patches = border.units ? border.units->form().patches.size() : 1;
    for (std::size_t i = 0; i < ring.places.size(); ++i) {
        if (border.units) {
            border_unit(index, ring.places[i], i * patches);
            continue;
        }
        const unit::Box& box = ring.places[i].box;
        add(Part::border, border_fabric(index, i, border.fabrics), box.outline(),
            unit::shifted({box.left, box.top}), pieces_++, static_cast<int>(index), static_cast<int>(i));
    }
    for (const unit::Box& box : ring.corners) strip(fabric(border.corner), box.outline(), false);
}

/// Its patches are numbered from `first` on. The unit is eased in along its side; its cloth is not.
void Layer::border_unit(std::size_t index, const RingPlace& place, std::size_t first) {
    const BorderUnits& units = *plan_.setting.borders[index].units;
    const double side = plan_.setting.borders[index].width.in_inches();
    const unit::Box& box = place.box;
    const Motion from_unit = unit::shifted(box.middle())
                                 .after(unit::rotated(90 * place.turn))
                                 .after(unit::shifted({-side / 2, -side / 2}));
    std::map<std::pair<int, int>, int> pieces;
    for (std::size_t p = 0; p < units.form().patches.size(); ++p) {
        const unit::Patch& patch = units.form().patches[p];
        Polygon outline;
        for (const Point q : patch.outline) {
            const Point turned = unit::turned(q, place.turn);
            outline.push_back({box.left + turned.x * box.width(), box.top + turned.y * box.height()});
        }
        const Motion to_cloth{patch.lie.cos, -patch.lie.sin, patch.lie.sin,
                              patch.lie.cos, patch.lie.x,    patch.lie.y};
        const auto [piece, fresh] = pieces.try_emplace({patch.input, patch.piece}, pieces_);
        if (fresh) ++pieces_;
        add(Part::border, border_fabric(index, first + p, units.fabrics(patch.role)), outline,
            from_unit.after(to_cloth.inverse()), piece->second, static_cast<int>(index),
            static_cast<int>(first + p));
    }
}

void Layer::borders() {
    for (std::size_t i = 0; i < plan_.setting.borders.size(); ++i) {
        if (plan_.setting.borders[i].pieced)
            pieced_border(i);
        else
            border(i);
    }
}

} // namespace

Top top_of(const Layout& layout) {
    return Layer(layout).run();
}

Extent extent_of(const Plan& plan) {
    const Frame frame(plan);
    const unit::Box whole = inside_border(plan, frame, plan.setting.borders.size());
    return {whole.width(), whole.height()};
}

bool borders_fit(const Plan& plan) {
    for (std::size_t i = 0; i < plan.setting.borders.size(); ++i)
        if (plan.setting.borders[i].units && ring_misfit(plan, i)) return false;
    return true;
}

std::vector<Point> middles_of(const Plan& plan) {
    const Frame frame(plan);
    const Motion from_lattice = frame.from_lattice();
    std::vector<Point> middles;
    for (int cell = 0; cell < frame.board().cells(); ++cell)
        middles.push_back(from_lattice(
            frame.lattice_middle(cell / frame.board().columns(), cell % frame.board().columns())));
    return middles;
}

FabricId edge_fabric(const Plan& plan, const std::vector<palette::Fabric>& fabrics) {
    std::vector<std::string> wanted{plan.setting.edge};
    for (const std::string& id : plan.rules.exempt) wanted.push_back(id);
    if (plan.setting.sashing) wanted.push_back(plan.setting.sashing->fabric);
    if (!plan.setting.borders.empty() && !plan.setting.borders.front().pieced)
        wanted.push_back(plan.setting.borders.front().fabrics.front());
    for (const std::string& id : wanted)
        for (std::size_t f = 0; f < fabrics.size(); ++f)
            if (!id.empty() && fabrics[f].id == id) return FabricId{static_cast<std::uint16_t>(f)};
    std::size_t lightest = 0;
    for (std::size_t f = 1; f < fabrics.size(); ++f)
        if (fabrics[f].colour->lab.l > fabrics[lightest].colour->lab.l) lightest = f;
    return FabricId{static_cast<std::uint16_t>(lightest)};
}

int cornerstones(const Plan& plan) {
    if (!plan.setting.sashing) return 0;
    const Frame frame(plan);
    int count = 0;
    for (int r = -1; r < frame.board().rows(); ++r)
        for (int c = -1; c < frame.board().columns(); ++c) count += frame.crossing(r, c);
    return count;
}

int border_patches(const Plan& plan, std::size_t border) {
    const Border& asked = plan.setting.borders[border];
    const std::size_t each = asked.units ? asked.units->form().patches.size() : 1;
    return static_cast<int>(ring_of(plan, Frame(plan), border).places.size() * each);
}

} // namespace motley::layout
