#include "web/trouble.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "cutting/stock.h"
#include "layout/extras.h"
#include "mend/in_the_way.h"
#include "placement/placement.h"
#include "web/hand.h"

namespace motley::web {

namespace {

using document::Json;
using layout::Contact;
using layout::Touching;

Json plan_act(const Json& values) {
    return {{"do", "plan"}, {"set", values}};
}

/// Looks at every pair of cells that is near enough for a rule to speak of it.
class Look {
public:
    Look(const layout::Brief& brief, const layout::Assignment& top)
        : brief_(brief),
          top_(top),
          contacts_(brief.forms, brief.board, brief.least_edge),
          same_(layout::same_fabric(brief)),
          places_(brief.patches_per_unit()) {}

    std::vector<std::pair<int, int>> run() {
        const int reach = std::max(2, brief_.rules.apart);
        for (int a = 0; a < brief_.cells(); ++a) {
            if (!brief_.board.present(a)) continue;
            if (alone(a)) pairs_.emplace_back(a, a);
            const int row = a / brief_.columns, column = a % brief_.columns;
            for (int r = row; r < std::min(brief_.rows, row + reach); ++r)
                for (int c = std::max(0, column - reach + 1); c < std::min(brief_.columns, column + reach);
                     ++c)
                    if (const int b = r * brief_.columns + c; b > a && near(a, b, r - row, c - column))
                        pairs_.emplace_back(a, b);
            if (brief_.rules.line) in_line(a);
        }
        return std::move(pairs_);
    }

private:
    std::size_t fabric(int cell, int p) const {
        return layout::index(top_.patches[static_cast<std::size_t>(cell * places_ + p)]);
    }
    bool same(int a, int p, int b, int q) const {
        return same_[fabric(a, p) * brief_.names.size() + fabric(b, q)] != 0;
    }
    int pose(int cell) const { return top_.pose(static_cast<std::size_t>(cell)); }

    bool near(int a, int b, int dr, int dc) const {
        const int parity = brief_.board.parity(a / brief_.columns);
        const bool too_near =
            brief_.rules.apart > 1 && brief_.board.apart(parity, dr, dc) < brief_.rules.apart;
        const bool neighbours = dr <= 1 && std::abs(dc) <= 1;
        for (int p = 0; p < places_; ++p)
            for (int q = 0; q < places_; ++q) {
                if (!same(a, p, b, q)) continue;
                if (too_near) return true;
                if (!neighbours || brief_.rules.touching == Touching::free) continue;
                const Contact contact = contacts_.between(parity, dr, dc, p, pose(a), q, pose(b));
                if (contact == Contact::edge ||
                    (contact == Contact::corner && brief_.rules.touching == Touching::corner))
                    return true;
            }
        return false;
    }

    void in_line(int a) {
        const auto look = [&](int b) {
            for (int p = 0; p < places_; ++p)
                for (int q = 0; q < places_; ++q)
                    if (same(a, p, b, q)) {
                        pairs_.emplace_back(a, b);
                        return;
                    }
        };
        for (int b = a + 1; b % brief_.columns != 0; ++b) look(b);
        for (int b = a + brief_.columns; b < brief_.cells(); b += brief_.columns) look(b);
    }

    /// Too little contrast in itself, or not as pinned.
    bool alone(int cell) const {
        const auto at = static_cast<std::size_t>(cell);
        if (brief_.turns[at] >= 0 && brief_.turns[at] != top_.turns[at]) return true;
        const auto& patches = brief_.forms[static_cast<std::size_t>(top_.form(at))].patches;
        for (std::size_t p = 0; p < patches.size(); ++p) {
            const auto pin = brief_.pinned[at * static_cast<std::size_t>(places_) + p];
            if (pin != layout::no_fabric && layout::index(pin) != fabric(cell, static_cast<int>(p)))
                return true;
            for (std::size_t q = p + 1; q < patches.size(); ++q)
                if (brief_.rules.contrast > 0 && patches[p].role != patches[q].role &&
                    std::abs(brief_.labs[fabric(cell, static_cast<int>(p))].l -
                             brief_.labs[fabric(cell, static_cast<int>(q))].l) < brief_.rules.contrast)
                    return true;
        }
        return false;
    }

    const layout::Brief& brief_;
    const layout::Assignment& top_;
    layout::Contacts contacts_;
    std::vector<char> same_;
    int places_;
    std::vector<std::pair<int, int>> pairs_;
};

/// Rules that could give way, the mildest first.
std::vector<Way> loosenings(const layout::Plan& plan, const Json& json) {
    std::vector<Way> ways;
    const layout::Rules& rules = plan.rules;
    if (rules.apart > 1)
        ways.push_back({fmt::format("Let a fabric come back after {} unit{} instead of {}", rules.apart - 1,
                                    rules.apart == 2 ? "" : "s", rules.apart),
                        plan_act({{"/rules/apart", rules.apart - 1}})});
    if (rules.line)
        ways.push_back({"Let a fabric come twice in a row or column", plan_act({{"/rules/line", nullptr}})});
    if (rules.same_if_closer_than > 0)
        ways.push_back(
            {"Let fabrics that look alike meet", plan_act({{"/rules/same_if_closer_than", nullptr}})});
    if (rules.contrast > 0)
        ways.push_back({"Ask for no contrast inside a unit", plan_act({{"/rules/contrast", nullptr}})});
    if (rules.touching == Touching::corner)
        ways.push_back({"Let the same fabric meet at corners", plan_act({{"/rules/touching", "edge"}})});
    if (json.contains("counts")) ways.push_back({"Make all counts even", plan_act({{"/counts", nullptr}})});
    if (!plan.pins.empty())
        ways.push_back({plan.pins.size() == 1 ? "Take out the pin"
                                              : fmt::format("Take out all {} pins", plan.pins.size()),
                        plan_act({{"/pins", nullptr}})});
    if (plan.setting.symmetry != layout::Symmetry::none)
        ways.push_back({"Do without symmetry", plan_act({{"/setting/symmetry", nullptr}})});
    if (rules.touching != Touching::free)
        ways.push_back({"Let the same fabric touch", plan_act({{"/rules/touching", "free"}})});
    return ways;
}

/// Whether nothing speaks against the plan once it is loosened.
bool lifts(const State& state, const Outlook& outlook, const Way& way) {
    try {
        const Handled tried = set_plan({state, outlook}, way.act.at("set"));
        const layout::Plan plan = read_plan(tried.next.plan, outlook.plan.file);
        const layout::Brief brief = layout::make_brief(
            plan, state.palette.fabrics, cutting::stock_yields(state.palette.fabrics, plan),
            outlook.plan.wishes.aim == layout::Aim::picture ? outlook.picture : layout::AimPicture{});
        return placement::obstacles(brief).empty();
    } catch (const Fault&) {
        return false;
    }
}

std::vector<Way> ways_out(const State& state, const Outlook& outlook) {
    constexpr std::size_t most = 4;
    std::vector<Way> ways;
    for (Way& way : loosenings(outlook.plan, state.plan))
        if (ways.size() < most && lifts(state, outlook, way)) ways.push_back(std::move(way));
    return ways;
}

bool about_counts(const std::string& sentence) {
    return sentence.find(" is used ") != std::string::npos || sentence.find(" is cut ") != std::string::npos;
}

} // namespace

std::vector<std::pair<int, int>> conflicts(const layout::Brief& brief, const layout::Assignment& top) {
    return Look(brief, top).run();
}

std::vector<Trouble> troubles(const State& state, const Outlook& outlook) {
    std::vector<Trouble> all;
    for (const Problem& problem : outlook.problems) all.push_back({problem.what, problem.remedy, {}});
    if (!all.empty()) all.back().ways = ways_out(state, outlook);
    if (!outlook.layout) return all;
    std::vector<std::string> broken;
    if (outlook.brief && !outlook.layout->score.broken.empty()) {
        const layout::Layout& top = *outlook.layout;
        const layout::Brief held = mend::held(*outlook.brief, top.assignment, top.sewn);
        broken = layout::broken_rules(said_by_name(held, state.palette), top.assignment);
    }
    for (std::string& sentence : layout::broken_borders(*outlook.layout))
        broken.push_back(std::move(sentence));
    for (const std::string& sentence : broken) all.push_back({sentence, "", {}});
    if (broken.empty()) return all;
    std::vector<Way>& ways = all.back().ways;
    if (outlook.layout->assignment.units.empty() && outlook.plan.setting.symmetry == layout::Symmetry::none)
        ways.push_back({"Mend: change as few units as can be", {{"do", "mend"}}});
    if (std::any_of(broken.begin(), broken.end(), about_counts))
        ways.push_back({"Let the counts follow the wall", {{"do", "follow"}}});
    ways.push_back({"Shuffle anew", {{"do", "shuffle"}}});
    return all;
}

std::vector<Trouble> refused(const State& state, const Outlook& outlook,
                             const std::vector<Problem>& problems) {
    std::vector<Trouble> all;
    for (const Problem& problem : problems) all.push_back({problem.what, problem.remedy, {}});
    if (!all.empty()) all.back().ways = ways_out(state, outlook);
    return all;
}

} // namespace motley::web
