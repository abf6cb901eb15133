// What a page may set in a plan and in a fabric. Everything else in the files stays as its owner wrote it.

#include <fmt/format.h>

#include <algorithm>

#include "unit/recipe.h"
#include "web/hand.h"

namespace motley::web {

namespace {

using document::in_quotes;
using document::Json;

[[noreturn]] void refuse(const std::string& what, const std::string& remedy = {}) {
    throw Fault(Cause::input, "", what, remedy);
}

/// Keys, and sections whose every key may be set.
constexpr std::string_view keys[] = {"/name",
                                     "/measure",
                                     "/seam",
                                     "/seed",
                                     "/pins",
                                     "/counts",
                                     "/rules",
                                     "/finish",
                                     "/cloth",
                                     "/setting/columns",
                                     "/setting/rows",
                                     "/setting/symmetry",
                                     "/setting/sashing",
                                     "/setting/borders",
                                     "/setting/edge",
                                     "/setting/alternate",
                                     "/setting/arrangement",
                                     "/unit/recipe",
                                     "/unit/finished",
                                     "/unit/turns",
                                     "/unit/roles",
                                     "/unit/choices",
                                     "/unit/usable_width",
                                     "/wishes/spread",
                                     "/wishes/colour",
                                     "/wishes/value",
                                     "/wishes/value_aim",
                                     "/sizes",
                                     "/handout"};
constexpr std::string_view sections[] = {"/counts/", "/rules/", "/finish/", "/cloth/", "/handout/"};

bool may_set(const std::string& key) {
    const auto in_section = [&](std::string_view section) { return key.starts_with(section); };
    return std::find(std::begin(keys), std::end(keys), key) != std::end(keys) ||
           std::any_of(std::begin(sections), std::end(sections), in_section);
}

/// Plans may name files: pictures to aim at, recipes of one's own. From a page they may not.
void refuse_files(const Json& value) {
    if (value.is_object())
        for (const auto& [key, inner] : value.items()) {
            if (key == "picture")
                refuse("a picture to aim at is named in the plan's file, not from the page");
            refuse_files(inner);
            if (key == "recipe" && !inner.is_null() &&
                !(inner.is_string() && unit::find_recipe(inner.get<std::string>())))
                refuse("this is none of the ways to sew a unit", "choose one from the list");
        }
    if (value.is_array())
        for (const Json& inner : value) refuse_files(inner);
}

void set(Json& plan, const std::string& key, const Json& value) {
    const std::size_t slash = key.find('/', 1);
    const std::string first = key.substr(1, slash == std::string::npos ? slash : slash - 1);
    if (slash == std::string::npos) {
        if (value.is_null())
            plan.erase(first);
        else
            plan[first] = value;
        return;
    }
    std::string rest = key.substr(slash + 1);
    if (!plan.contains(first) || !plan[first].is_object()) plan[first] = Json::object();
    if (value.is_null())
        plan[first].erase(rest);
    else
        plan[first][rest] = value;
    if (plan[first].empty() && first != "setting") plan.erase(first);
}

std::string step_name(const Json& values) {
    if (values.size() > 1) return "Change the plan";
    const std::string key = values.begin().key();
    const std::pair<std::string_view, const char*> names[] = {{"/setting/columns", "Change how many across"},
                                                              {"/setting/rows", "Change how many down"},
                                                              {"/unit/recipe", "Change how units are sewn"},
                                                              {"/unit/finished", "Change the size of units"},
                                                              {"/rules/", "Change a rule"},
                                                              {"/wishes/", "Change a wish"},
                                                              {"/counts", "Change a count"},
                                                              {"/name", "Rename the quilt"},
                                                              {"/pins", "Take out the pins"},
                                                              {"/setting/borders", "Change the borders"},
                                                              {"/setting/sashing", "Change the sashing"}};
    for (const auto& [start, name] : names)
        if (key.starts_with(start)) return name;
    return "Change the plan";
}

} // namespace

Handled set_plan(const Wall& wall, const Json& values) {
    if (!values.is_object() || values.empty()) refuse("nothing was said about the plan");
    Handled out{wall.state, step_name(values)};
    for (const auto& [key, value] : values.items()) {
        if (!may_set(key)) refuse(fmt::format("{} is not set from the page", in_quotes(key)));
        refuse_files(Json{{key.substr(key.rfind('/') + 1), value}});
        set(out.next.plan, key, value);
    }
    if (out.next.plan.contains("pins") && out.next.plan["pins"].is_array() && out.next.plan["pins"].empty())
        out.next.plan.erase("pins");
    return out;
}

Handled set_fabric(const Wall& wall, const std::string& id, const Json& values) {
    constexpr std::string_view allowed[] = {"name", "value", "photo_width", "one_way", "price", "stock"};
    Json list = palette::write_fabrics(wall.state.palette.fabrics, wall.state.palette.measure);
    const auto found =
        std::find_if(list.begin(), list.end(), [&](const Json& one) { return one.at("id") == id; });
    if (found == list.end()) refuse(fmt::format("there is no fabric {} on the shelf", in_quotes(id)));
    if (!values.is_object()) refuse("nothing was said about the fabric");
    for (const auto& [key, value] : values.items()) {
        if (std::find(std::begin(allowed), std::end(allowed), key) == std::end(allowed))
            refuse(fmt::format("{} of a fabric is not set from the page", in_quotes(key)));
        if (value.is_null())
            found->erase(key);
        else
            (*found)[key] = value;
    }
    Handled out{wall.state, fmt::format("Change {}", document::shortened((*found).value("name", id)))};
    out.next.palette.fabrics =
        palette::read_fabrics(document::Node(list, "the fabric", ""), wall.state.palette.measure);
    return out;
}

Handled drop_fabric(const Wall& wall, const std::string& id) {
    Handled out{wall.state, ""};
    std::vector<palette::Fabric>& fabrics = out.next.palette.fabrics;
    const auto found = std::find_if(fabrics.begin(), fabrics.end(),
                                    [&](const palette::Fabric& one) { return one.id == id; });
    if (found == fabrics.end()) refuse(fmt::format("there is no fabric {} on the shelf", in_quotes(id)));
    out.what = fmt::format("Take {} off the shelf", found->name);
    fabrics.erase(found);
    if (out.next.plan.contains("counts")) {
        out.next.plan["counts"].erase(id);
        if (out.next.plan["counts"].empty()) out.next.plan.erase("counts");
    }
    if (out.next.laid) {
        out.next.laid = renumbered(*wall.state.laid, wall.state.palette.fabrics, fabrics);
        if (!out.next.laid)
            refuse("the wall shows this fabric",
                   "replace it everywhere first, or let its count be 0 and shuffle");
    }
    return out;
}

} // namespace motley::web
