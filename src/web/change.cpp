#include "web/change.h"

#include <charconv>
#include <map>

namespace motley::web {

namespace {

using document::Json;
using layout::FabricId;

/// A laid top as rows of numbers by name; none at all when nothing is laid.
using Numbers = std::map<std::string, std::vector<std::int64_t>>;

constexpr std::int64_t not_there = -1;

template <typename T>
std::vector<std::int64_t> row_of(const std::vector<T>& values) {
    std::vector<std::int64_t> row;
    row.reserve(values.size());
    for (const T& value : values) row.push_back(static_cast<std::int64_t>(value));
    return row;
}

template <typename T>
std::vector<T> values_of(const std::vector<std::int64_t>& row) {
    std::vector<T> values;
    values.reserve(row.size());
    for (const std::int64_t number : row) values.push_back(static_cast<T>(number));
    return values;
}

/// Absent patches carry the number after the last fabric, which changes with the palette: here it does not.
std::vector<std::int64_t> ids_row(const std::vector<FabricId>& ids, std::size_t fabrics) {
    std::vector<std::int64_t> row = row_of(ids);
    for (std::int64_t& number : row)
        if (std::cmp_greater_equal(number, fabrics)) number = not_there;
    return row;
}

std::vector<FabricId> ids_of(const std::vector<std::int64_t>& row, std::size_t fabrics) {
    std::vector<FabricId> ids;
    ids.reserve(row.size());
    for (const std::int64_t number : row)
        ids.push_back(
            static_cast<FabricId>(number == not_there ? static_cast<std::int64_t>(fabrics) : number));
    return ids;
}

Numbers numbers_of(const State& state) {
    Numbers out;
    if (!state.laid) return out;
    const Laid& laid = *state.laid;
    const std::size_t fabrics = state.palette.fabrics.size();
    out["seed"] = {static_cast<std::int64_t>(laid.seed)};
    out["patches"] = ids_row(laid.assignment.patches, fabrics);
    out["turns"] = row_of(laid.assignment.turns);
    out["forms"] = row_of(laid.assignment.forms);
    out["units"] = row_of(laid.assignment.units);
    out["slots"] = ids_row(laid.assignment.slots, fabrics);
    out["cornerstones"] = ids_row(laid.cornerstones, fabrics);
    out["borders"] = {static_cast<std::int64_t>(laid.borders.size())};
    for (std::size_t i = 0; i < laid.borders.size(); ++i)
        out["border " + std::to_string(i)] = ids_row(laid.borders[i], fabrics);
    out["pinned"] = row_of(laid.pinned);
    out["sewn"] = row_of(laid.sewn);
    return out;
}

std::optional<Laid> laid_of(const Numbers& numbers, std::size_t fabrics) {
    if (numbers.empty()) return std::nullopt;
    const std::vector<std::int64_t> nothing; // Rows that are empty before and after are not in a change.
    const auto row = [&](const std::string& name) -> const std::vector<std::int64_t>& {
        const auto found = numbers.find(name);
        return found == numbers.end() ? nothing : found->second;
    };
    Laid laid;
    laid.seed = static_cast<std::uint64_t>(row("seed").at(0));
    laid.assignment.patches = ids_of(row("patches"), fabrics);
    laid.assignment.turns = values_of<std::uint8_t>(row("turns"));
    laid.assignment.forms = values_of<std::uint8_t>(row("forms"));
    laid.assignment.units = values_of<int>(row("units"));
    laid.assignment.slots = ids_of(row("slots"), fabrics);
    laid.cornerstones = ids_of(row("cornerstones"), fabrics);
    for (std::int64_t i = 0; i < row("borders").at(0); ++i)
        laid.borders.push_back(ids_of(row("border " + std::to_string(i)), fabrics));
    laid.pinned = values_of<char>(row("pinned"));
    laid.sewn = values_of<char>(row("sewn"));
    return laid;
}

std::string text_of(const std::vector<std::int64_t>& row) {
    std::string text;
    for (const std::int64_t number : row) {
        if (!text.empty()) text += ' ';
        text += std::to_string(number);
    }
    return text;
}

std::vector<std::int64_t> row_of_text(const std::string& text) {
    std::vector<std::int64_t> row;
    const char *at = text.data(), *end = text.data() + text.size();
    while (at < end) {
        std::int64_t number = 0;
        const auto [next, error] = std::from_chars(at, end, number);
        if (error != std::errc()) throw Fault(Cause::input, "", "the history holds a number that is none");
        row.push_back(number);
        at = next < end ? next + 1 : next;
    }
    return row;
}

/// Rows of equal length: place, before, after, of every place that differs. Else both rows, whole.
Json row_change(const std::vector<std::int64_t>& before, const std::vector<std::int64_t>& after) {
    if (before.size() != after.size()) return {{"from", text_of(before)}, {"to", text_of(after)}};
    std::vector<std::int64_t> differing;
    for (std::size_t i = 0; i < before.size(); ++i)
        if (before[i] != after[i]) {
            differing.push_back(static_cast<std::int64_t>(i));
            differing.push_back(before[i]);
            differing.push_back(after[i]);
        }
    return text_of(differing);
}

Json laid_change(const Numbers& before, const Numbers& after) {
    Json out = Json::object();
    const std::vector<std::int64_t> nothing;
    if (before.empty() != after.empty()) out["laid"] = Json::array({!before.empty(), !after.empty()});
    std::map<std::string, int> names;
    for (const auto& [name, row] : before) names[name] = 0;
    for (const auto& [name, row] : after) names[name] = 0;
    for (const auto& [name, ignored] : names) {
        const auto one = before.find(name), other = after.find(name);
        const auto& from = one == before.end() ? nothing : one->second;
        const auto& to = other == after.end() ? nothing : other->second;
        if (from != to) out[name] = row_change(from, to);
    }
    return out.empty() ? Json() : out;
}

void change_row(std::vector<std::int64_t>& row, const Json& change, bool forward) {
    if (change.is_object()) {
        row = row_of_text(change.at(forward ? "to" : "from").get<std::string>());
        return;
    }
    const std::vector<std::int64_t> triples = row_of_text(change.get<std::string>());
    for (std::size_t i = 0; i + 2 < triples.size(); i += 3)
        row.at(static_cast<std::size_t>(triples[i])) = triples[forward ? i + 2 : i + 1];
}

/// A palette's JSON with the folder it belongs to.
void set_palette(State& state, const Json& json) {
    state.palette.fabrics = palette::read_fabrics(document::Node(json.at("fabrics"), "history", "/fabrics"),
                                                  state.palette.measure);
}

} // namespace

Change::Change(std::string what, const State& before, const State& after) : what_(std::move(what)) {
    if (before.plan != after.plan) plan_ = Json::array({before.plan, after.plan});
    const Json was = palette::write_palette(before.palette), is = palette::write_palette(after.palette);
    if (was != is) palette_ = Json::array({was, is});
    laid_ = laid_change(numbers_of(before), numbers_of(after));
}

Change::Change(const document::Node& node) : what_(node.at("what").text()) {
    const Json& json = node.json();
    if (json.contains("plan")) plan_ = json["plan"];
    if (json.contains("palette")) palette_ = json["palette"];
    if (json.contains("top")) laid_ = json["top"];
}

document::Json Change::json() const {
    Json json = {{"what", what_}};
    if (!plan_.is_null()) json["plan"] = plan_;
    if (!palette_.is_null()) json["palette"] = palette_;
    if (!laid_.is_null()) json["top"] = laid_;
    return json;
}

void Change::apply(State& state, bool forward) const {
    Numbers numbers = laid_.is_null() && palette_.is_null() ? Numbers() : numbers_of(state);
    if (!plan_.is_null()) state.plan = plan_.at(forward ? 1 : 0);
    if (!palette_.is_null()) set_palette(state, palette_.at(forward ? 1 : 0));
    if (laid_.is_null() && palette_.is_null()) return;
    if (!laid_.is_null()) {
        for (const auto& [name, change] : laid_.items())
            if (name != "laid") change_row(numbers[name], change, forward);
        std::erase_if(numbers, [&](const auto& entry) {
            return entry.first.starts_with("border ") &&
                   std::stoll(entry.first.substr(7)) >= numbers["borders"].at(0);
        });
        if (laid_.contains("laid") && !laid_.at("laid").at(forward ? 1 : 0).get<bool>()) numbers.clear();
    }
    state.laid = laid_of(numbers, state.palette.fabrics.size());
}

} // namespace motley::web
