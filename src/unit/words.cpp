#include "unit/words.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <utility>

namespace motley::unit {

namespace {

using Sized = std::function<double(const Expression&)>;

std::string listed(const std::vector<std::string>& words) {
    std::string text;
    for (std::size_t i = 0; i < words.size(); ++i) {
        if (i > 0) text += i + 1 == words.size() ? " and " : ", ";
        text += words[i];
    }
    return text;
}

std::string name(std::string thing) {
    return said_name(std::move(thing));
}

std::string pressed(Press press) {
    switch (press) {
        case Press::dark:
            return " Press towards the darker fabric.";
        case Press::first:
            return " Press towards the first.";
        case Press::second:
            return " Press towards the piece just added.";
        case Press::open:
            return " Press the seam open.";
    }
    return {};
}

std::string side(Side side) {
    constexpr std::array<const char*, 4> words{"top", "right", "bottom", "left"};
    return words[static_cast<std::size_t>(side)];
}

std::string spot(int across, int down) {
    if (across == 0 && down == 0) return "in the middle";
    const std::string row = down < 0 ? "top" : down > 0 ? "bottom" : "";
    const std::string column = across < 0 ? "left" : across > 0 ? "right" : "";
    return "at the " + row + (row.empty() || column.empty() ? "" : " ") + column;
}

std::string lines(const std::vector<Guide>& guides) {
    constexpr std::array<const char*, 8> words{"the top edge",       "the right edge",  "the bottom edge",
                                               "the left edge",      "one diagonal",    "the other diagonal",
                                               "the middle, across", "the middle, down"};
    if (guides.size() == 4 && guides[0] <= Guide::left && guides[1] <= Guide::left &&
        guides[2] <= Guide::left && guides[3] <= Guide::left)
        return "all four edges";
    if (guides == std::vector{Guide::diagonal, Guide::counter_diagonal}) return "both diagonals";
    if (guides == std::vector{Guide::across, Guide::down}) return "the middle, both ways";
    if (guides.size() == 4) return "the middle, both ways, and both diagonals";
    if (guides.size() == 1 && (guides[0] == Guide::diagonal || guides[0] == Guide::counter_diagonal))
        return "the diagonal";
    std::vector<std::string> names;
    for (const Guide guide : guides) names.push_back(words[static_cast<std::size_t>(guide)]);
    return listed(names);
}

struct Instruction {
    const Step& step;
    double seam;
    const Sized& sized;
    const Said& said;
    const std::vector<std::string>& strips;

    std::string operator()(const SewStripSet& how) const {
        // A run of strips of one kind is said by its ends.
        const std::string names = how.strips.size() == 1 && strips.size() > 2
                                      ? strips.front() + " to " + strips.back()
                                      : listed(strips);
        return fmt::format(
            "Sew {} side by side into a strip set with {} seams, each seam in the other direction "
            "than the last; {} of its length is used.{}",
            names, said.set(seam), said(sized(how.section) * sized(how.sections)), pressed(how.press));
    }
    std::string operator()(const CrossCut& how) const {
        if (!is_cut())
            return fmt::format("The {} is one section of {}, used whole.", name(how.thing),
                               said(sized(how.every)));
        return fmt::format("Cut across the {} every {}.", name(how.thing), said(sized(how.every)));
    }
    std::string operator()(const Join& how) const {
        return fmt::format("Sew {} to the {} edge of {}{}, {} from the edge.{}", name(how.second),
                           side(how.side), name(how.first),
                           how.overhang ? ", centred; its points stick out evenly at both ends" : "",
                           said.set(seam), pressed(how.press));
    }
    std::string operator()(const JoinAround&) const { return {}; } // Said one by one, as joins.
    std::string operator()(const JoinRows& how) const {
        std::string text = "Lay out";
        for (std::size_t i = 0; i < how.rows.size(); ++i) {
            text += i > 0 ? "; below" : "";
            std::vector<std::string> cells;
            for (const auto& cell : how.rows[i])
                cells.push_back(
                    name(cell.thing) +
                    (cell.turn == 0 ? "" : fmt::format(" turned {} degrees clockwise", cell.turn)));
            text += " " + listed(cells);
        }
        return text + fmt::format(". Sew with {} seams{}.{}", said.set(seam),
                                  how.rows.size() > 1 ? ", first into rows, then the rows together" : "",
                                  pressed(how.press));
    }
    std::string operator()(const Lay& how) const {
        std::vector<std::string> tops;
        for (const Lay::Top& top : how.tops)
            tops.push_back(
                name(top.thing) + " " + spot(top.across, top.down) +
                (top.turn == 0 ? "" : fmt::format(", first turned {} degrees clockwise", top.turn)));
        return fmt::format("Lay {} on {}, right sides together.", listed(tops), name(how.bottom));
    }
    std::string operator()(const SewLines& how) const {
        if (how.where == SewLines::Where::edge)
            return fmt::format("Sew along {}, {} inside.", lines(how.along), said.set(seam));
        if (how.where == SewLines::Where::either_side)
            return fmt::format("Draw a line along {}{}. Sew {} to either side of it.", lines(how.along),
                               how.on > 0 ? " of the piece on top" : "", said.set(seam));
        return fmt::format("Sew on the line along {}{}.", lines(how.along),
                           how.on > 0 ? " of the piece on top" : "");
    }
    std::string operator()(const CutLines& how) const {
        return fmt::format("Cut {} along {}, through all layers.", name(how.thing), lines(how.along));
    }
    std::string operator()(const TrimSeam&) const {
        return fmt::format("Cut off the corner {} beyond the seam, through both layers.", said.set(seam));
    }
    std::string operator()(const Open& how) const {
        return fmt::format("Open {}.{}", name(how.thing), pressed(how.press));
    }
    std::string operator()(const Trim& how) const {
        if (how.width.empty() && how.height.empty())
            return fmt::format("Cut off the dog-ears of {}, level with its edges.", name(how.thing));
        std::string size;
        if (!how.width.empty() && !how.height.empty())
            size = said(sized(how.width), sized(how.height));
        else
            size = how.width.empty() ? said(sized(how.height)) + " high" : said(sized(how.width)) + " wide";
        if (!is_cut())
            return fmt::format("Check that {} is {}; nothing is to be trimmed off.", name(how.thing), size);
        constexpr std::array<const char*, 4> about{
            "the same off opposite sides", "the ruler's diagonal on the seam, the same off opposite sides",
            "flush with the top and left edges", "the same off left and right, flush with the top edge"};
        return fmt::format("Trim {} to {}, {}.", name(how.thing), size,
                           about[static_cast<std::size_t>(how.about)]);
    }
    std::string operator()(const Turn& how) const {
        if (name(how.put).empty())
            return fmt::format("Turn {} {} degrees clockwise.", name(how.thing), how.by);
        return fmt::format("Turn {} so that {} lies {}.", name(how.thing), name(how.put),
                           spot(how.across, how.down));
    }

private:
    /// Whether a blade has anything to do.
    bool is_cut() const {
        return std::any_of(step.before.begin(), step.before.end(), [](const Figure& figure) {
            return std::any_of(figure.marks.begin(), figure.marks.end(),
                               [](const Mark& mark) { return mark.kind == Mark::Kind::cut; });
        });
    }
};

} // namespace

std::string cutting_out(const std::vector<Input>& inputs, bool usual, measure::System measure) {
    std::string text;
    for (std::size_t i = 0; i < inputs.size(); ++i) {
        const Input& input = inputs[i];
        const double across = usual ? input.width_cut.in_inches() : input.width,
                     along = usual ? input.height_cut.in_inches() : input.height;
        const Said said(measure);
        const std::string width = said.cut(across);
        std::string name = input.name;
        // A run of strips of one width is said once.
        std::size_t last = i;
        while (input.shape == Cut::strip && last + 1 < inputs.size() && inputs[last + 1].role == input.role &&
               inputs[last + 1].width_cut == input.width_cut)
            ++last;
        if (last > i) name += " to " + inputs[last].name;
        i = last;
        if (!text.empty()) text += " ";
        if (input.shape == Cut::strip)
            text += fmt::format("Cut {}: {} wide.", name, width);
        else if (input.shape == Cut::rectangle)
            text += fmt::format("Cut {}: {} of {}.", name, input.pieces, said(across, along));
        else if (input.per_square > 1)
            text += fmt::format("Cut {}: {} triangle{} from squares of {}, cut on {}.", name, input.pieces,
                                input.pieces > 1 ? "s" : "", width,
                                input.per_square == 2 ? "the diagonal" : "both diagonals");
        else
            text += fmt::format("Cut {}: {} square{} of {}.", name, input.pieces, input.pieces > 1 ? "s" : "",
                                width);
    }
    return text;
}

std::string instruction(const Action& action, const Step& step, double seam,
                        const std::vector<std::string>& strips, const Sized& sized, const Said& said) {
    std::string text = std::visit(Instruction{step, seam, sized, said, strips}, action.operation);
    if (action.verb == "join-around") text += " A strip is cut to the length of that edge.";
    if (!action.note.empty()) text += " " + action.note;
    return text;
}

namespace {

constexpr double least_off = 1e-6; ///< Inches; less is nothing.

/// What is trimmed off may be less than the ruler shows.
std::string said_off(double inches, const Said& said) {
    const std::string text = said(inches);
    return text == said(0.0) ? "a thread" : text;
}

} // namespace

std::string outcome(const Step& step, const Said& said) {
    std::vector<std::string> sizes;
    for (const Measured& measured : step.measured) {
        // Lying one way or the other, it is one size.
        const std::string size =
            said(std::max(measured.width, measured.height), std::min(measured.width, measured.height));
        if (std::find(sizes.begin(), sizes.end(), size) == sizes.end()) sizes.push_back(size);
    }
    if (sizes.empty()) return {};
    int things = 0;
    for (const Figure& figure : step.after) things += figure.copies;
    std::string text;
    if (sizes.size() == 1) {
        text = fmt::format("{} should now measure {}.", things > 1 ? "Each" : "It", sizes[0]);
    } else {
        text = "They should now measure, one after another, " + listed(sizes) + ".";
    }
    std::vector<std::string> off;
    for (const auto& [inches, way] :
         {std::pair{step.taken_off_width, "width"}, std::pair{step.taken_off_height, "height"}})
        if (inches > least_off) off.push_back(said_off(inches, said) + " off the " + way);
    if (!off.empty()) text += " That takes " + listed(off) + ".";
    return text;
}

} // namespace motley::unit
