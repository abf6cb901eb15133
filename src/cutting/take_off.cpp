#include "cutting/take_off.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numbers>
#include <tuple>

#include "cutting/finishing.h"
#include "fault/fault.h"
#include "layout/kit.h"
#include "layout/top.h"

namespace motley::cutting {

namespace {

using layout::Part;
using layout::Shape;
using measure::Length;
using palette::FabricId;

constexpr int up(int many, int per) {
    return (many + per - 1) / per;
}

/// What lies on a ruler's mark (1/64 in, 1/2 mm) stays; else up to the marks one cuts at.
Length cut_size(double inches, measure::System system) {
    constexpr double enough = 1e-6;
    for (const std::int64_t mark : {Length::per_inch / 64, Length::per_millimetre / 2}) {
        const double marks = inches * Length::per_inch / static_cast<double>(mark);
        if (std::abs(marks - std::round(marks)) < enough) return Length{std::llround(marks) * mark};
    }
    const Length step =
        system == measure::System::inch ? Length{Length::per_inch / 8} : Length{Length::per_millimetre * 5};
    return measure::round_up(Length{static_cast<std::int64_t>(std::ceil(inches * Length::per_inch))}, step);
}

/// "print square, cut once on the diagonal"; never "strip strip".
std::string name_of(const unit::Input& input) {
    std::string noun = "square", after;
    switch (input.shape) {
        case unit::Cut::strip:
            noun = "strip";
            break;
        case unit::Cut::square:
            break;
        case unit::Cut::rectangle:
            noun = "rectangle";
            break;
        case unit::Cut::half_square:
            after = ", cut once on the diagonal";
            break;
        case unit::Cut::quarter_square:
            after = ", cut on both diagonals";
            break;
    }
    return (input.role == noun ? noun : input.role + " " + noun) + after;
}

class Gatherer {
public:
    Gatherer(const layout::Layout& layout, Length usable_width)
        : layout_(layout), plan_(layout.plan), top_(layout::top_of(layout)), usable_width_(usable_width) {}

    TakeOff run() {
        if (layout_.assignment.units.empty())
            single_units();
        else
            batches();
        for (const Shape& shape : top_.shapes)
            if (shape.part != Part::unit) piece_of_setting(shape);
        binding();
        for (auto& [key, need] : needs_) made_.needs.push_back(need);
        made_.units = plan_.board().units();
        return std::move(made_);
    }

private:
    /// Sorted as the take-off is: the largest first, so sizes are negative.
    using Key = std::tuple<FabricId, Use, int, std::int64_t, std::int64_t, std::string>;

    Need& need(FabricId fabric, Use use, const std::string& name, Length width, Length length,
               int border = -1) {
        Need& one = needs_[{fabric, use, border, -std::max(width, length).ticks,
                            -std::min(width, length).ticks, name}];
        one.fabric = fabric;
        one.use = use;
        one.name = name;
        one.width = width;
        one.length = length;
        one.border = border;
        return one;
    }

    /// The line of a fabric and an input; a strip lies across the cloth, whether cut to length or not.
    Need& of_input(FabricId fabric, int input) {
        const unit::Input& in = plan_.sewn.inputs[static_cast<std::size_t>(input)];
        if (in_a_set(input)) return need(fabric, Use::strip_set, name_of(in), usable_width_, in.width_cut);
        return of_input(fabric, in, Use::unit, "");
    }

    Need& of_input(FabricId fabric, const unit::Input& in, Use use, const std::string& before,
                   int border = -1) {
        const bool strip = in.shape == unit::Cut::strip;
        Need& one = need(fabric, use, before + name_of(in), strip ? in.height_cut : in.width_cut,
                         strip ? in.width_cut : in.height_cut, border);
        one.cut_into = in.per_square;
        return one;
    }

    bool in_a_set(int input) const {
        return std::any_of(
            plan_.sewn.sets.begin(), plan_.sewn.sets.end(), [&](const unit::StripSetYield& set) {
                return std::find(set.inputs.begin(), set.inputs.end(), input) != set.inputs.end();
            });
    }

    /// The input that a shape of a unit is cut from.
    int input_of(const Shape& shape) const {
        const std::size_t form =
            static_cast<std::size_t>(layout_.assignment.form(static_cast<std::size_t>(shape.cell)));
        return plan_.forms()[form].patches[static_cast<std::size_t>(shape.patch)].input;
    }

    void single_units() {
        for (const Shape& shape : top_.shapes) {
            if (shape.part != Part::unit) continue;
            Need& one = of_input(shape.fabric, input_of(shape));
            ++one.used;
            one.count = up(one.used, one.cut_into);
            one.shown_sq_in += unit::area(shape.outline);
        }
    }

    void batches() {
        const layout::Kit kit =
            layout::make_kit(plan_.sewn, plan_.board().units(), plan_.usable_width); // As it was placed.
        made_.spare_units = kit.spare();
        const auto fabric_of = [&](int slot) {
            return layout_.assignment.slots.at(static_cast<std::size_t>(slot));
        };
        for (const std::vector<int>& making : kit.makings)
            for (std::size_t i = 0; i < making.size(); ++i) {
                const int input = static_cast<int>(i);
                if (in_a_set(input)) continue;
                Need& one = of_input(fabric_of(making[i]), input);
                one.used += plan_.sewn.inputs[i].pieces;
                one.count = up(one.used, one.cut_into);
            }
        for (const unit::StripSetYield& set : plan_.sewn.sets) sets(kit, set, fabric_of);
        for (const Shape& shape : top_.shapes)
            if (shape.part == Part::unit)
                of_input(shape.fabric, input_of(shape)).shown_sq_in += unit::area(shape.outline);
    }

    /// Makings whose sections come off the same fabrics in the same order share sets.
    void sets(const layout::Kit& kit, const unit::StripSetYield& set, const auto& fabric_of) {
        const int per_set = static_cast<int>(usable_width_.ticks / set.section_cut.ticks);
        if (per_set < 1)
            throw Fault(Cause::input, "",
                        fmt::format("a section of {} across the strips is wider than cloth of {}",
                                    measure::print_measured(set.section_cut, plan_.measure),
                                    measure::print_set(usable_width_, plan_.measure)),
                        "choose smaller units, or wider cloth");
        std::map<std::vector<int>, int> sections;
        for (const std::vector<int>& making : kit.makings) {
            std::vector<int> slots;
            for (const int input : set.inputs) slots.push_back(making[static_cast<std::size_t>(input)]);
            sections[slots] += set.sections;
        }
        for (const auto& [slots, wanted] : sections) {
            const int many = up(wanted, per_set);
            made_.strip_sets += many;
            for (std::size_t i = 0; i < slots.size(); ++i) {
                Need& one = of_input(fabric_of(slots[i]), set.inputs[i]);
                one.count += many;
                one.cut_into = per_set;
                one.used += wanted;
            }
        }
    }

    void piece_of_setting(const Shape& shape) {
        double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
        for (const unit::Point p : shape.outline) {
            const unit::Point q = shape.to_cloth(p);
            left = std::min(left, q.x);
            right = std::max(right, q.x);
            top = std::min(top, q.y);
            bottom = std::max(bottom, q.y);
        }
        const double s = plan_.seam.in_inches(), root = std::numbers::sqrt2;
        double width = right - left + 2 * s, length = bottom - top + 2 * s;
        std::string name;
        Use use = Use::plain_block;
        int cut_into = 1, border = -1;
        bool joined = false;
        switch (shape.part) {
            case Part::plain_block:
                name = "plain block";
                break;
            case Part::half_unit:
                use = Use::half_unit;
                name = "half block at the edge";
                break;
            case Part::side_triangle: // Their long side is the square's side.
                use = Use::side_triangle;
                name = "square for side triangles, cut on both diagonals";
                width = length = std::max(right - left, bottom - top) + 2 * s * (1 + root);
                cut_into = 4;
                break;
            case Part::corner_triangle: // Their short sides are the square's.
                use = Use::corner_triangle;
                name = "square for corner triangles, cut once on the diagonal";
                width = length = right - left + s * (2 + root);
                cut_into = 2;
                break;
            case Part::sash:
                use = Use::sash;
                name = "sashing strip";
                joined = true;
                break;
            case Part::cornerstone:
                use = Use::cornerstone;
                name = "cornerstone";
                break;
            case Part::border: {
                border = border_of(shape);
                const layout::Border& ring = plan_.setting.borders[static_cast<std::size_t>(border)];
                name = fmt::format("border {}", border + 1);
                if (shape.cell >= 0 && ring.units) {
                    patch_of_border_unit(shape, border);
                    return;
                }
                if (shape.cell >= 0) {
                    use = Use::border_patch;
                    name += ", patch";
                } else if (ring.pieced || (ring.corners == layout::Corners::squares &&
                                           std::abs((right - left) - (bottom - top)) < 1e-9)) {
                    use = Use::border_corner;
                    name += ", corner";
                } else {
                    use = Use::border;
                    joined = true;
                    name += lies_upright(shape) ? ", sides" : ", top and bottom";
                    // Mitred at both ends: the seam crosses the strip aslant.
                    if (ring.corners == layout::Corners::mitred)
                        (width > length ? width : length) += 2 * s * root;
                }
                break;
            }
            case Part::unit:
                expects(false);
        }
        Need& one = need(shape.fabric, use, name, cut_size(width, plan_.measure),
                         cut_size(length, plan_.measure), border);
        one.cut_into = cut_into;
        one.joined = joined;
        ++one.used;
        one.count = up(one.used, cut_into);
        one.shown_sq_in += unit::area(shape.outline);
    }

    static bool lies_upright(const Shape& shape) {
        double left = 1e9, top = 1e9, right = -1e9, bottom = -1e9;
        for (const unit::Point p : shape.outline) {
            left = std::min(left, p.x);
            right = std::max(right, p.x);
            top = std::min(top, p.y);
            bottom = std::max(bottom, p.y);
        }
        return bottom - top > right - left;
    }

    void patch_of_border_unit(const Shape& shape, int border) {
        const layout::BorderUnits& units = *plan_.setting.borders[static_cast<std::size_t>(border)].units;
        const auto& patches = units.form().patches;
        const unit::Patch& patch = patches[static_cast<std::size_t>(shape.patch) % patches.size()];
        Need& one = of_input(shape.fabric, units.sewn.inputs[static_cast<std::size_t>(patch.input)],
                             Use::border_patch, fmt::format("border {}, ", border + 1), border);
        ++one.used;
        one.count = up(one.used, one.cut_into);
        one.shown_sq_in += unit::area(shape.outline);
    }

    /// The ring that the shape's middle lies in.
    int border_of(const Shape& shape) const {
        if (shape.cell >= 0) return shape.cell;
        unit::Point middle{0, 0};
        for (const unit::Point p : shape.outline)
            middle = middle + p * (1.0 / static_cast<double>(shape.outline.size()));
        double across = std::min(middle.x, top_.width - middle.x);
        double down = std::min(middle.y, top_.height - middle.y);
        const auto& borders = plan_.setting.borders;
        std::size_t at = borders.size() - 1;
        while (at > 0) {
            across -= borders[at].width.in_inches();
            down -= borders[at].level_width().in_inches();
            if (std::min(across, down) < 0) break;
            --at;
        }
        return static_cast<int>(at);
    }

    void binding() {
        const layout::Binding& asked = plan_.making_up.finish.binding;
        for (std::size_t f = 0; f < layout_.fabrics.size(); ++f) {
            if (asked.fabric.empty() || layout_.fabrics[f].id != asked.fabric) continue;
            Need& one = need(FabricId{static_cast<std::uint16_t>(f)}, Use::binding, "binding strip",
                             usable_width_, asked.width);
            one.count = one.used = binding_strips(Length::inches(top_.width), Length::inches(top_.height),
                                                  asked.width, usable_width_);
        }
    }

    const layout::Layout& layout_;
    const layout::Plan& plan_;
    const layout::Top top_;
    const Length usable_width_;
    std::map<Key, Need> needs_;
    TakeOff made_;
};

} // namespace

TakeOff take_off(const layout::Layout& layout, Length usable_width) {
    return Gatherer(layout, usable_width).run();
}

std::string name_of(Use use) {
    switch (use) {
        case Use::unit:
            return "units";
        case Use::strip_set:
            return "strip sets";
        case Use::plain_block:
            return "plain blocks";
        case Use::side_triangle:
            return "side triangles";
        case Use::corner_triangle:
            return "corner triangles";
        case Use::half_unit:
            return "half blocks";
        case Use::sash:
            return "sashing";
        case Use::cornerstone:
            return "cornerstones";
        case Use::border:
            return "border";
        case Use::border_corner:
            return "border corners";
        case Use::border_patch:
            return "pieced border";
        case Use::binding:
            return "binding";
    }
    return {};
}

} // namespace motley::cutting
