#include "pipeline/mend_refusal.h"

#include <fmt/format.h>

#include <algorithm>
#include <cstdlib>

#include "fault/fault.h"
#include "mend/in_the_way.h"
#include "placement/placement.h"

namespace motley::pipeline {

namespace {

using mend::Hindrance;

const std::string& name(const layout::Layout& top, palette::FabricId f) {
    return top.fabrics[palette::index(f)].name;
}

/// Which rule two cells break that show one fabric.
std::string how_near(const layout::Plan& plan, int cell, int other) {
    const int columns = plan.board().columns();
    const int down = std::abs(cell / columns - other / columns),
              across = std::abs(cell % columns - other % columns);
    if (plan.rules.apart > 2 && std::max(down, across) < plan.rules.apart)
        return fmt::format("lie less than {} units apart", plan.rules.apart);
    if (down > 1 || across > 1) return down == 0 ? "lie in one row" : "lie in one column";
    return "touch";
}

std::string sentence(const layout::Layout& top, const Hindrance& unit) {
    const std::string here = row_and_column(top.plan, unit.cell);
    const std::string& cloth = name(top, unit.fabric);
    switch (unit.why) {
        case Hindrance::Why::itself:
            return fmt::format("the unit at {} is sewn with {}, which the plan no longer allows there", here,
                               cloth);
        case Hindrance::Why::contrast:
            return fmt::format("the unit at {} is sewn of {} and {}, less than {} L* apart", here, cloth,
                               name(top, unit.other_fabric), top.plan.rules.contrast);
        case Hindrance::Why::room:
            return fmt::format("the unit at {}, sewn with {}, leaves no room for what the plan asks", here,
                               cloth);
        case Hindrance::Why::pair:
            break;
    }
    const std::string there = row_and_column(top.plan, unit.other);
    const std::string nearness = how_near(top.plan, unit.cell, unit.other);
    if (!top.sewn[static_cast<std::size_t>(unit.other)])
        return fmt::format("the unit at {} is sewn with {}, the one at {} is pinned to {}, and the two {}",
                           here, cloth, there, name(top, unit.other_fabric), nearness);
    if (unit.fabric == unit.other_fabric)
        return fmt::format("the units at {} and {} are both sewn with {} and {}", here, there, cloth,
                           nearness);
    return fmt::format("the units at {} and {} are sewn with {} and {}, too alike to tell apart, and {}",
                       here, there, cloth, name(top, unit.other_fabric), nearness);
}

Problem blame(const std::string& file, const layout::Layout& top, const std::vector<Hindrance>& blocked,
              bool proved) {
    constexpr std::size_t most_told = 6;
    std::vector<std::string> reasons;
    std::vector<int> cells;
    for (const Hindrance& unit : blocked) {
        cells.push_back(unit.cell);
        // Of two that hinder each other, one sentence is enough.
        const bool told = std::any_of(blocked.begin(), blocked.end(), [&](const Hindrance& other) {
            return unit.why == Hindrance::Why::pair && other.cell == unit.other && other.other == unit.cell &&
                   other.cell < unit.cell;
        });
        if (!told) reasons.push_back(sentence(top, unit));
    }
    std::string more;
    if (reasons.size() > most_told) {
        more = fmt::format("; and {} more like these", reasons.size() - most_told);
        reasons.resize(most_told);
    }
    const int others =
        static_cast<int>(std::count(top.sewn.begin(), top.sewn.end(), 1)) - static_cast<int>(cells.size());
    return {file,
            fmt::format("{} while every sewn unit stays: {}{}", proved ? "impossible" : "none found",
                        fmt::join(reasons, "; "), more),
            fmt::format("unpick the unit{} at {}{}; or loosen the rule", cells.size() == 1 ? "" : "s",
                        rows_and_columns(top.plan, cells),
                        others == 0   ? ""
                        : others == 1 ? ", the other sewn unit can stay"
                                      : fmt::format(", the other {} sewn units can stay", others))};
}

} // namespace

std::string row_and_column(const layout::Plan& plan, int cell) {
    return plan.board().place(cell);
}

std::string rows_and_columns(const layout::Plan& plan, const std::vector<int>& cells) {
    constexpr std::size_t most_told = 12;
    std::string words;
    const std::size_t told = std::min(cells.size(), most_told);
    for (std::size_t k = 0; k < told; ++k) {
        const bool last = k + 1 == cells.size();
        words += (k == 0 ? "" : last ? " and " : "; ") + row_and_column(plan, cells[k]);
    }
    if (cells.size() > told) words += fmt::format(" and {} more", cells.size() - told);
    return words;
}

void refuse_mending(const std::string& file, const layout::Layout& top, const layout::Brief& brief,
                    const mend::Worn& worn, const mend::Mended& mended, const mend::Effort& effort) {
    const bool proved = mended.ending == mend::Mended::Ending::impossible;
    const bool sewn = std::count(top.sewn.begin(), top.sewn.end(), 1) > 0;
    if (sewn)
        if (const auto blocked = mend::in_the_way(brief, worn, top.sewn, effort); !blocked.empty())
            throw Fault(Cause::unmet, {blame(file, top, blocked, proved)});
    std::vector<Problem> problems = placement::obstacles(brief);
    if (problems.empty() && sewn) {
        problems = placement::obstacles(mend::held(brief, top.assignment, top.sewn));
        for (Problem& problem : problems) problem.what += "; sewn units count as pinned here";
    }
    for (Problem& problem : problems)
        if (problem.where.empty()) problem.where = file;
    if (problems.empty() && proved)
        problems.push_back({file,
                            fmt::format("impossible: no layout keeps every rule and count{}",
                                        sewn ? " with the sewn units where they are" : ""),
                            "loosen a rule or a count, or unpin or unpick a unit"});
    if (problems.empty())
        problems.push_back(
            {file,
             "none found that keeps every rule; the layout as it was breaks this: " + mended.broken.front(),
             "loosen a rule or a count, unpin or unpick a unit, or place the plan anew with motley place"});
    throw Fault(Cause::unmet, std::move(problems));
}

} // namespace motley::pipeline
