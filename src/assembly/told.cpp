#include "assembly/told.h"

#include <fmt/format.h>

#include <algorithm>

namespace motley::assembly {

namespace {

std::string listed(const std::vector<std::string>& parts) {
    std::string text;
    for (std::size_t i = 0; i < parts.size(); ++i)
        text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    return text;
}

/// "1 joint", "12 joints"
std::string many(int number, const char* noun) {
    return fmt::format("{} {}{}", number, noun, number == 1 ? "" : "s");
}

class Teller {
public:
    Teller(const layout::Layout& layout, const Rows& rows, Pressing& pressing)
        : layout_(layout), rows_(rows), pressing_(pressing) {
        const layout::Setting& setting = layout.plan.setting;
        columns_ = setting.arrangement == layout::Arrangement::straight && !setting.sashing;
    }

    void run() {
        arrows();
        lighter();
        not_nested();
        rules();
    }

private:
    /// "columns 4 and 5" where the row holds a unit for each column, else "pieces".
    std::string between(int before) const { return fmt::format("{} and {}", before + 1, before + 2); }
    const char* noun() const { return columns_ ? "columns" : "pieces"; }

    void arrows() {
        pressing_.arrows.resize(rows_.rows.size());
        for (const PressedSeam& seam : pressing_.seams) {
            if (seam.of != SeamOf::neighbours) continue;
            std::string& line = pressing_.arrows[static_cast<std::size_t>(seam.row)];
            line += line.empty() ? "" : " ";
            line += seam.back ? "\u2190" : "\u2192";
        }
    }

    void lighter() {
        constexpr double alike = 1e-6;
        std::vector<std::vector<std::string>> by_row(rows_.rows.size());
        for (const PressedSeam& seam : pressing_.seams)
            if (seam.of == SeamOf::neighbours && !seam.fixed && seam.lighter > alike)
                by_row[static_cast<std::size_t>(seam.row)].push_back(between(seam.before));
        for (std::size_t r = 0; r < by_row.size(); ++r) {
            if (by_row[r].empty()) continue;
            const std::size_t seams = rows_.rows[r].places.size() - 1;
            if (by_row[r].size() == seams && seams > 1) {
                pressing_.towards_lighter.push_back(
                    fmt::format("{}: all its seams towards the lighter fabric.", rows_.rows[r].name));
                continue;
            }
            std::string list;
            for (const std::string& pair : by_row[r]) list += (list.empty() ? "" : ", ") + pair;
            pressing_.towards_lighter.push_back(fmt::format("{}: between {} {} towards the lighter fabric.",
                                                            rows_.rows[r].name, noun(), list));
        }
    }

    void not_nested() {
        for (const Joint& joint : pressing_.joints) {
            if (joint.nests) continue;
            const PressedSeam& above = pressing_.seams[static_cast<std::size_t>(joint.above)];
            const PressedSeam& below = pressing_.seams[static_cast<std::size_t>(joint.below)];
            pressing_.not_nested.push_back(fmt::format(
                "{}, between {} {}, and the row under it, between {} and {}: both seams lie the same way; "
                "pin this joint.",
                rows_.rows[static_cast<std::size_t>(above.row)].name, noun(), between(above.before),
                below.before + 1, below.before + 2));
        }
    }

    void rules() {
        const auto joints = static_cast<int>(pressing_.joints.size());
        const bool sashing = layout_.plan.setting.sashing.has_value();
        std::vector<std::string>& say = pressing_.rules;
        if (sashing)
            say.push_back("Press every seam next to a sashing strip towards the strip.");
        else if (joints == 0 && pressing_.to_darker + pressing_.to_lighter > 0)
            say.push_back(
                "Where rows meet no seams come together: press every seam in a row towards the "
                "darker fabric.");
        if (joints > 0)
            say.push_back(fmt::format(
                "{} where rows meet; press as the arrows say and {}.", many(joints, "joint"),
                pressing_.nested == joints
                    ? "every one nests: its two seams lie opposite ways and lock together"
                    : fmt::format("{} of them nest: the two seams lie opposite ways and lock together",
                                  pressing_.nested)));
        if (joints > 0 && pressing_.to_darker + pressing_.to_lighter > 0)
            say.push_back(fmt::format(
                "{} then lie towards the darker fabric, {} towards the lighter{}. No way of pressing nests "
                "more, and of those that nest as much none has more of them lie dark. Behind a light fabric "
                "trim the darker allowance a little narrower.",
                many(pressing_.to_darker, "seam"), pressing_.to_lighter, others()));
        if (rows_.rows.size() > 1)
            say.push_back(sashing ? "Press the long seams between the rows towards the rows of strips."
                          : rows_.diagonal
                              ? "Press the long seams between the diagonal rows all one way, away from the "
                                "first row."
                              : "Press the long seams between the rows all one way, downwards.");
        if (!rows_.last.empty()) say.push_back("Press the seams of the last two corners outwards.");
        if (!layout_.plan.setting.borders.empty())
            say.push_back("Press the seams of a border towards the border.");
        inner();
    }

    /// Seams of neighbours that are neither.
    std::string others() const {
        int alike = 0, fixed = 0;
        for (const PressedSeam& seam : pressing_.seams)
            if (seam.of == SeamOf::neighbours) ++(seam.fixed ? fixed : alike);
        alike -= pressing_.to_darker + pressing_.to_lighter;
        std::string words;
        if (alike > 0) words += fmt::format("; {} between equally light fabrics", alike);
        if (fixed > 0) words += fmt::format("; {} towards a sashing strip", fixed);
        return words;
    }

    /// Seams inside units.
    void inner() {
        int nest = 0, same = 0, unknown = 0;
        for (const MatchPoint& point : pressing_.match_points)
            ++(point.sides == MatchPoint::Sides::nest   ? nest
               : point.sides == MatchPoint::Sides::same ? same
                                                        : unknown);
        if (nest + same + unknown == 0) return;
        const int all = nest + same + unknown;
        const auto at = [&](int number) {
            return number == all ? std::string(all == 1 ? "there" : "at all of them")
                                 : fmt::format("at {} of them", number);
        };
        std::vector<std::string> parts;
        if (nest > 0) parts.push_back(at(nest) + " they nest");
        if (same > 0) parts.push_back(at(same) + " both lie the same way");
        if (unknown > 0)
            parts.push_back(at(unknown) + " it depends on how the units were pressed whether they nest");
        pressing_.rules.push_back(fmt::format(
            "Seams inside the units meet a seam of the next one at {}; {}. Match them with a pin.",
            many(all, "point"), listed(parts)));
    }

    const layout::Layout& layout_;
    const Rows& rows_;
    Pressing& pressing_;
    bool columns_ = false;
};

} // namespace

void tell(const layout::Layout& layout, const Rows& rows, Pressing& pressing) {
    Teller(layout, rows, pressing).run();
}

} // namespace motley::assembly
