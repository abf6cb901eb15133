#include "assembly/steps.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>

#include "assembly/borders.h"
#include "assembly/unit_edges.h"
#include "layout/top.h"

namespace motley::assembly {

namespace {

using layout::Border;
using layout::Corners;
using layout::Part;
using measure::Length;
using Stage = AssemblyStep::Stage;

class Writer {
public:
    Writer(const layout::Layout& layout, const Rows& rows)
        : layout_(layout),
          plan_(layout.plan),
          rows_(rows),
          width_(rows.raw_width),
          height_(rows.raw_height) {}

    std::vector<AssemblyStep> run() {
        units();
        lay_out();
        rows();
        if (plan_.setting.sashing) strips();
        join();
        for (std::size_t i = 0; i < plan_.setting.borders.size(); ++i) border(i);
        done();
        return std::move(steps_);
    }

private:
    std::string said(Length width, Length height) const {
        // What lies on no ruler's mark (on point) is told to the nearest 1/16 in or millimetre.
        return fmt::format("{} x {}", measure::print_measured(width, plan_.measure),
                           measure::print_measured(height, plan_.measure));
    }
    std::string said(Length length) const { return measure::print_measured(length, plan_.measure); }

    AssemblyStep& add(Stage stage, std::string title, std::string text) {
        AssemblyStep step;
        step.number = static_cast<int>(steps_.size()) + 1;
        step.stage = stage;
        step.title = std::move(title);
        step.text = std::move(text);
        steps_.push_back(std::move(step));
        return steps_.back();
    }

    void measures(AssemblyStep& step, const char* what, Length width, Length height) const {
        step.raw_width = width;
        step.raw_height = height;
        step.outcome = fmt::format("{} should now measure {}.", what, said(width, height));
    }

    void units() {
        int units = 0;
        for (const Kind& kind : rows_.kinds) units += kind.part == Part::unit ? kind.count : 0;
        const Length raw = plan_.finished + plan_.seam * 2;
        const bool pieced = plan_.forms().size() > 1 || plan_.forms().front().patches.size() > 1;
        AssemblyStep& step =
            add(Stage::units, pieced ? "Sew the units" : "Cut the squares",
                pieced ? fmt::format("Sew {} {} as the steps of the unit say. Check the first one with a "
                                     "ruler before you sew more.",
                                     units, units == 1 ? "unit" : "units")
                       : fmt::format("Cut {} {} as the cutting list says.", units,
                                     units == 1 ? "square" : "squares"));
        step.raw_width = step.raw_height = raw;
        step.outcome = fmt::format("Each should measure {}, seam allowances of {} all round included.",
                                   said(raw, raw), measure::print_set(plan_.seam, plan_.measure));
        const bool bias = std::any_of(plan_.forms().begin(), plan_.forms().end(), [](const unit::Form& form) {
            return std::any_of(form.edges.begin(), form.edges.end(), [](const auto& shares) {
                return std::any_of(shares.begin(), shares.end(),
                                   [](const unit::EdgeShare& share) { return share.bias; });
            });
        });
        if (bias)
            step.cautions.push_back(
                "Outer edges of the units lie on the bias and stretch: do not pull them, "
                "and lift the iron instead of pushing it.");
    }

    void lay_out() {
        add(Stage::units, "Lay the top out",
            rows_.diagonal ? "Lay all pieces out as the layout map shows and mark each diagonal row with its "
                             "number, the "
                             "first in the upper right corner. The pick lists say what each row takes."
                           : "Lay all pieces out as the layout map shows and mark each row with its number, "
                             "row 1 at the "
                             "top. The pick lists say what each row takes.");
    }

    /// "rows 1 to 13 are 66 1/2 in x 6 1/2 in" for each different size.
    std::string sizes_of_rows(bool sashing) const {
        std::vector<std::string> parts;
        const std::vector<Row>& all = rows_.rows;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (all[i].sashing != sashing) continue;
            std::vector<int> numbers;
            bool first = true;
            for (std::size_t j = 0; j < all.size(); ++j) {
                if (all[j].sashing != sashing || all[j].raw_width != all[i].raw_width ||
                    all[j].raw_height != all[i].raw_height)
                    continue;
                first &= j >= i;
                numbers.push_back(all[j].number);
            }
            if (first)
                parts.push_back(
                    fmt::format("{}: {}", numbered(numbers), said(all[i].raw_width, all[i].raw_height)));
        }
        return fmt::format("{}", fmt::join(parts, "; "));
    }

    /// "rows 1 to 13", "rows 2 and 5", "row 4"
    static std::string numbered(const std::vector<int>& numbers) {
        if (numbers.size() == 1) return fmt::format("row {}", numbers.front());
        const bool run = numbers.back() - numbers.front() + 1 == static_cast<int>(numbers.size());
        if (run && numbers.size() > 2) return fmt::format("rows {} to {}", numbers.front(), numbers.back());
        std::string text = "rows ";
        for (std::size_t i = 0; i < numbers.size(); ++i)
            text += (i == 0 ? "" : i + 1 == numbers.size() ? " and " : ", ") + std::to_string(numbers[i]);
        return text;
    }

    void set_size(AssemblyStep& step, bool sashing) const {
        const Row* first = nullptr;
        bool alike = true;
        for (const Row& row : rows_.rows) {
            if (row.sashing != sashing) continue;
            if (!first) first = &row;
            alike &= row.raw_width == first->raw_width && row.raw_height == first->raw_height;
        }
        if (first && alike) {
            step.raw_width = first->raw_width;
            step.raw_height = first->raw_height;
        }
    }

    void rows() {
        std::string text =
            "Sew the pieces of each row together, from left to right, and press as the "
            "pressing map shows.";
        if (rows_.diagonal)
            text =
                "Sew the pieces of each diagonal row together, from its upper left end to its lower right "
                "end, with the triangles at its ends, and press as the pressing map shows. Lay a triangle "
                "flush with the square corner of the row; its tip sticks out by the seam allowance.";
        else if (plan_.setting.arrangement == layout::Arrangement::brick)
            text += " Every second row begins and ends with a half block.";
        AssemblyStep& step = add(Stage::rows, "Sew the rows", text);
        set_size(step, false);
        step.outcome = fmt::format("Each should now measure{}: {}.",
                                   rows_.diagonal ? ", without its triangles" : "", sizes_of_rows(false));
        for (const Row& row : rows_.rows)
            if (!row.note.empty()) step.cautions.push_back(fmt::format("{}: {}", row.name, row.note));
        if (rows_.diagonal)
            step.cautions.push_back(
                "The short sides of the triangles lie on the bias and stretch: pin them, "
                "and sew with the triangle underneath. Their long sides, at the edge of "
                "the top, lie along the straight grain.");
    }

    void strips() {
        const bool stones = !plan_.setting.sashing->cornerstones.empty();
        AssemblyStep& step = add(
            Stage::rows, "Sew the rows of sashing",
            stones ? "Sew strips and cornerstones together in turn, as the pick lists of the sashing rows "
                     "say. Press towards the strips."
                   : "Sew the strips of each sashing row together end to end.");
        set_size(step, true);
        const std::string sizes = sizes_of_rows(true);
        if (sizes.empty()) {
            step.text = "This top has no rows of sashing: it is a single row of units.";
            return;
        }
        step.outcome = fmt::format("Each should now measure: {}.", sizes);
    }

    void join() {
        const std::size_t many = rows_.rows.size();
        std::string text =
            many == 1 ? "The top is a single row; there is nothing to join."
                      : "Sew the rows together in pairs, then the pairs, and so on: no seam is then handled "
                        "with the whole top in the machine more than once. Pin at every joint; where the "
                        "seams lie opposite ways, push them against each other until they lock.";
        if (!rows_.last.empty())
            text +=
                " Sew the last two corner triangles on, at the upper right and the lower left. Trim the "
                "edges straight, a seam allowance outside the points of the units.";
        AssemblyStep& step = add(Stage::joined, "Join the rows", text);
        measures(step, "The top", width_, height_);
        if (const std::string edges = stretching_edges(); !edges.empty())
            step.cautions.push_back(fmt::format(
                "On the bias, at least in part, and easily stretched: {} of the top. Sew once along there "
                "inside the seam allowance (stay-stitching), and handle the top gently until the next seam "
                "holds it.",
                edges));
    }

    /// Outer edges of the rows where units show an edge on the bias: "the left and right edges"; or empty.
    std::string stretching_edges() const {
        if (rows_.diagonal) return {};
        std::array<bool, 4> on_bias{};
        for (std::size_t r = 0; r < rows_.rows.size(); ++r) {
            const std::vector<Place>& places = rows_.rows[r].places;
            for (std::size_t i = 0; i < places.size(); ++i) {
                const std::array<bool, 4> outside{r == 0, i + 1 == places.size(), r + 1 == rows_.rows.size(),
                                                  i == 0};
                for (std::size_t side = 0; side < outside.size(); ++side)
                    on_bias[side] |= outside[side] && stretches(places[i], static_cast<int>(side));
            }
        }
        constexpr std::array<const char*, 4> names{"upper", "right", "lower", "left"};
        std::vector<std::string> found;
        for (std::size_t side = 0; side < names.size(); ++side)
            if (on_bias[side]) found.emplace_back(names[side]);
        if (found.empty()) return {};
        if (found.size() == names.size()) return "all four edges";
        const std::string last = found.back();
        found.pop_back();
        if (found.empty()) return fmt::format("the {} edge", last);
        return fmt::format("the {} and {} edges", fmt::join(found, ", "), last);
    }

    /// Whether a unit shows an edge on the bias at this side of it (0 top, clockwise) as it lies.
    bool stretches(const Place& place, int side) const {
        const Kind& kind = rows_.kinds[static_cast<std::size_t>(place.kind)];
        if (kind.part != Part::unit) return false;
        const unit::Form& form = plan_.forms()[static_cast<std::size_t>(kind.form)];
        const auto& shares = form.edges[static_cast<std::size_t>(side_of_form(side, place.turn))];
        return std::any_of(shares.begin(), shares.end(),
                           [](const unit::EdgeShare& share) { return share.bias; });
    }

    std::string strip(Length width, Length length) const {
        return fmt::format("each {}", said(width, length));
    }

    AssemblyStep& border_step(std::size_t index, const char* what, const std::string& text) {
        AssemblyStep& step =
            add(Stage::border, fmt::format("Border {}{}{}", index + 1, *what ? ": " : "", what), text);
        step.border = static_cast<int>(index);
        return step;
    }

    void border(std::size_t index) {
        const Border& border = plan_.setting.borders[index];
        const Length s = plan_.seam, raw = border.width + s * 2, level = border.level_width() + s * 2;
        if (border.corners == Corners::mitred) {
            const Length over = border.width * 2;
            border_step(index, "the four strips",
                        fmt::format("Sew a strip {} wide to each of the four sides, its middle to the middle "
                                    "of the side; its ends reach beyond the corners. Begin and end the "
                                    "seams {} from the corners of the top.",
                                    said(raw), measure::print_set(s, plan_.measure)));
            width_ = width_ + over;
            height_ = height_ + over;
            AssemblyStep& step = border_step(
                index, "the mitres",
                "Fold the top at a corner so that two strips lie right sides together. Sew them at 45 "
                "degrees "
                "from the end of the seam to the outer corner, check that the corner lies flat, and trim. Do "
                "the other three alike.");
            measures(step, "The top", width_, height_);
            step.cautions.push_back("The mitred ends lie on the bias: do not pull them.");
            return;
        }
        const layout::Border& b = border;
        if (b.pieced) piece(index);
        AssemblyStep& sides = border_step(
            index, "the sides",
            b.pieced
                ? fmt::format("Sew the two pieced side strips, {}, to the left and the right.",
                              strip(raw, height_))
                : fmt::format("Measure the top through its middle. Sew a strip to the left and one to the "
                              "right, {}.",
                              strip(raw, height_)));
        width_ = width_ + b.width * 2;
        measures(sides, "The top", width_, height_);
        const bool squares = has_squares(b);
        std::string text;
        if (squares && !b.pieced)
            text = fmt::format(
                "Sew a corner square of {} to both ends of the strips for the top and the "
                "bottom ({} before). ",
                said(raw, raw), strip(level, width_ - b.width * 2));
        text += fmt::format("Sew {} to the top and the bottom, {}.", b.pieced || squares ? "them" : "a strip",
                            strip(level, width_));
        AssemblyStep& ends = border_step(index, "top and bottom", text);
        height_ = height_ + b.level_width() * 2;
        measures(ends, "The top", width_, height_);
    }

    void piece(std::size_t index) {
        const Border& border = plan_.setting.borders[index];
        const Along along = patches_along(layout_, index);
        const char* noun = border.units ? "units" : "patches";
        const Length raw = border.width + plan_.seam * 2;
        const char* corners = has_squares(border) ? "a plain corner square"
                              : border.units      ? "a corner unit"
                                                  : "a corner patch";
        if (border.units) {
            AssemblyStep& units = border_step(
                index, "the units",
                fmt::format(
                    "Sew {} units, {}, as their own steps under “Sewing the units” say. Check the first "
                    "one with a ruler before you sew more.",
                    layout::border_patches(plan_, index) /
                        static_cast<int>(border.units->form().patches.size()),
                    border.units->recipe.name));
            units.outcome = fmt::format("Each should measure {}.", said(raw, raw));
        }
        AssemblyStep& step = border_step(
            index, "piecing",
            fmt::format("Sew {} {} into a strip for the left side and as many for the right; for the top and "
                        "the bottom {} and {} at both ends. The layout map shows their order, clockwise. "
                        "Press the seams of a strip all one way.",
                        along.side, noun, along.level, corners));
        step.outcome = fmt::format("The side strips should measure {}, those for top and bottom {}.",
                                   said(raw, height_), said(raw, width_ + border.width * 2));
    }

    void done() {
        const Length s = plan_.seam;
        AssemblyStep& step = add(Stage::done, "The finished top",
                                 "Press the whole top once more from the right side, by lifting the iron.");
        step.raw_width = width_;
        step.raw_height = height_;
        step.outcome = fmt::format("It measures {} with its seam allowances, and {} when finished.",
                                   said(width_, height_), said(width_ - s * 2, height_ - s * 2));
    }

    const layout::Layout& layout_;
    const layout::Plan& plan_;
    const Rows& rows_;
    Length width_, height_; ///< Of what is sewn so far, raw.
    std::vector<AssemblyStep> steps_;
};

} // namespace

std::vector<AssemblyStep> steps_of(const layout::Layout& layout, const Rows& rows) {
    return Writer(layout, rows).run();
}

} // namespace motley::assembly
