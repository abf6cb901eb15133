#include "unit/read_action.h"

#include <algorithm>
#include <array>

namespace motley::unit {

namespace {

using document::Node;

const std::vector<std::string> press_words{"to the darker", "to the first", "to the second", "open"};
const std::vector<std::string> side_words{"top", "right", "bottom", "left"};
const std::vector<std::string> guide_words{
    "top", "right", "bottom", "left", "diagonal", "counter diagonal", "across", "down"};
const std::vector<std::string> spot_words{"top left", "top",         "top right", "left",        "centre",
                                          "right",    "bottom left", "bottom",    "bottom right"};

Press read_press(const Node& node, Press standard) {
    const auto written = node.find("press");
    return written ? static_cast<Press>(written->choice(press_words)) : standard;
}

int read_turn(const Node& node, const char* key) {
    const auto written = node.find(key);
    if (!written) return 0;
    const std::int64_t degrees = written->integer(-360, 360);
    if (degrees % 45 != 0)
        written->refuse("a turn of " + std::to_string(degrees) + " degrees", "turn by a multiple of 45");
    return static_cast<int>(degrees);
}

/// One value, or a list of them.
std::vector<Node> one_or_more(const Node& node) {
    std::vector<Node> found = node.is_list() ? node.items() : std::vector<Node>{node};
    if (found.empty()) node.refuse("an empty list", "name at least one");
    return found;
}

std::vector<std::string> read_names(const Node& node) {
    std::vector<std::string> names;
    for (const Node& item : one_or_more(node)) names.push_back(item.text());
    return names;
}

std::vector<Guide> read_guides(const Node& node) {
    std::vector<Guide> guides;
    for (const Node& item : one_or_more(node)) guides.push_back(static_cast<Guide>(item.choice(guide_words)));
    return guides;
}

std::pair<int, int> read_spot(const Node& node) {
    const auto word = static_cast<int>(node.choice(spot_words));
    return {word % 3 - 1, word / 3 - 1};
}

Operation read_strip_set(const Node& node, measure::System measure) {
    SewStripSet made;
    made.strips = read_names(node.at("strips"));
    made.sections = read_expression(node.at("sections"), measure);
    made.section = read_expression(node.at("section"), measure);
    made.press = read_press(node, Press::dark);
    return made;
}

Operation read_cross_cut(const Node& node, measure::System measure) {
    return CrossCut{node.at("thing").text(), read_expression(node.at("every"), measure)};
}

Operation read_join(const Node& node, measure::System) {
    Join made{node.at("first").text(), node.at("second").text()};
    made.side = static_cast<Side>(node.at("side").choice(side_words));
    made.turn = read_turn(node, "turn");
    if (const auto overhang = node.find("overhang")) made.overhang = overhang->boolean();
    made.press = read_press(node, Press::dark);
    return made;
}

Operation read_join_around(const Node& node, measure::System) {
    JoinAround made{node.at("first").text(), read_names(node.at("with")), {}};
    for (const Node& item : one_or_more(node.at("sides")))
        made.sides.push_back(static_cast<Side>(item.choice(side_words)));
    made.press = read_press(node, Press::second);
    return made;
}

Operation read_join_rows(const Node& node, measure::System) {
    JoinRows made;
    const Node rows = node.at("rows");
    for (const Node& row : one_or_more(rows)) {
        made.rows.emplace_back();
        for (const Node& cell : one_or_more(row)) {
            if (cell.is_text()) {
                made.rows.back().push_back({cell.text(), 0});
                continue;
            }
            cell.allow_only({"thing", "turn"});
            made.rows.back().push_back({cell.at("thing").text(), read_turn(cell, "turn")});
        }
    }
    made.press = read_press(node, Press::dark);
    return made;
}

Operation read_lay(const Node& node, measure::System) {
    Lay made{node.at("bottom").text(), {}};
    for (const Node& item : one_or_more(node.at("on top"))) {
        Lay::Top top;
        if (item.is_text()) {
            top.thing = item.text();
        } else {
            item.allow_only({"thing", "turn", "at"});
            top.thing = item.at("thing").text();
            top.turn = read_turn(item, "turn");
            if (const auto at = item.find("at")) std::tie(top.across, top.down) = read_spot(*at);
        }
        made.tops.push_back(std::move(top));
    }
    return made;
}

Operation read_sew(const Node& node, measure::System) {
    SewLines made{node.at("thing").text(), read_guides(node.at("along"))};
    made.where = static_cast<SewLines::Where>(
        node.at("where").choice({"inside the edge", "either side", "on the line"}));
    if (const auto on = node.find("of layer")) made.on = static_cast<int>(on->integer(0, 99));
    if (made.where == SewLines::Where::edge)
        for (const Guide guide : made.along)
            if (guide > Guide::left)
                node.at("along").refuse(
                    "\"" + guide_words[static_cast<std::size_t>(guide)] + "\" is no edge",
                    "name \"top\", \"right\", \"bottom\" or \"left\", or sew \"either side\"");
    return made;
}

Operation read_cut(const Node& node, measure::System) {
    return CutLines{node.at("thing").text(), read_guides(node.at("along"))};
}

Operation read_trim_seam(const Node& node, measure::System) {
    return TrimSeam{node.at("thing").text()};
}

Operation read_open(const Node& node, measure::System) {
    return Open{node.at("thing").text(), read_press(node, Press::dark)};
}

Operation read_trim(const Node& node, measure::System measure) {
    Trim made;
    made.thing = node.at("thing").text();
    if (const auto width = node.find("width")) made.width = read_expression(*width, measure);
    if (const auto height = node.find("height")) made.height = read_expression(*height, measure);
    if (const auto about = node.find("about"))
        made.about = static_cast<Trim::About>(about->choice({"centre", "seam", "top left", "top"}));
    if (const auto ears = node.find("ears")) made.ears = ears->boolean();
    if (made.width.empty() && made.height.empty() && !made.ears)
        node.refuse("a trim without a size", "give \"width\", \"height\" or both, or \"ears\": true");
    return made;
}

Operation read_turn_step(const Node& node, measure::System) {
    Turn made;
    made.thing = node.at("thing").text();
    made.by = read_turn(node, "by");
    if (const auto put = node.find("put")) {
        if (const auto by = node.find("by"))
            by->refuse("a turn with both \"by\" and \"put\"", "give one of them");
        made.put = put->text();
        std::tie(made.across, made.down) = read_spot(node.at("at"));
    } else if (!node.find("by")) {
        node.refuse("a turn that does not say how far", "give \"by\" in degrees, or \"put\" and \"at\"");
    } else if (const auto at = node.find("at")) {
        at->refuse("\"at\" without \"put\"", "say which input is to lie there, or leave it out");
    }
    return made;
}

struct Verb {
    const char* word;
    Operation (*read)(const Node&, measure::System);
    std::vector<std::string> keys;
};

const std::vector<Verb>& verbs() {
    static const std::vector<Verb> all{
        {"strip-set", read_strip_set, {"strips", "sections", "section", "press"}},
        {"cross-cut", read_cross_cut, {"thing", "every"}},
        {"join", read_join, {"first", "side", "second", "turn", "overhang", "press"}},
        {"join-around", read_join_around, {"first", "with", "sides", "press"}},
        {"join-rows", read_join_rows, {"rows", "press"}},
        {"lay", read_lay, {"bottom", "on top"}},
        {"sew", read_sew, {"thing", "along", "where", "of layer"}},
        {"cut", read_cut, {"thing", "along"}},
        {"trim-seam", read_trim_seam, {"thing"}},
        {"open", read_open, {"thing", "press"}},
        {"trim", read_trim, {"thing", "width", "height", "about", "ears"}},
        {"turn", read_turn_step, {"thing", "by", "put", "at"}},
    };
    return all;
}

Wish read_wish(const Node& node, measure::System measure) {
    node.allow_only({"find", "of", "patch", "width", "height"});
    Wish made;
    made.finds = node.at("find").text();
    const auto width = node.find("width"), height = node.find("height");
    if (width.has_value() == height.has_value())
        node.refuse(width ? "a wish for a width and a height" : "a wish without a measurement",
                    "give either \"width\" or \"height\"");
    made.height = height.has_value();
    made.is = read_expression(width ? *width : *height, measure);
    const auto of = node.find("of"), patch = node.find("patch");
    if (of && patch) node.refuse("a wish for \"of\" and \"patch\"", "give one of them");
    made.patch = patch.has_value();
    if (of) made.input = of->text();
    if (patch) made.input = patch->text();
    return made;
}

} // namespace

Expression read_expression(const Node& node, measure::System measure) {
    if (node.is_number())
        return Expression(measure::length_of(node.number(), measure, node.where()).in_inches());
    return Expression(node.text(), measure, node.where());
}

Action read_action(const Node& node, measure::System measure) {
    std::vector<std::string> words;
    for (const Verb& verb : verbs()) words.push_back(verb.word);
    const Verb& verb = verbs()[node.at("do").choice(words)];
    std::vector<std::string> keys{"do", "as", "wish", "when", "note"};
    keys.insert(keys.end(), verb.keys.begin(), verb.keys.end());
    node.allow_only(keys);
    Action made{verb.word, verb.read(node, measure), {}, {}, {}, {}};
    if (const auto as = node.find("as")) made.as = as->text();
    if (const auto note = node.find("note")) made.note = note->text();
    if (const auto wish = node.find("wish"))
        for (const Node& item : one_or_more(*wish)) made.wishes.push_back(read_wish(item, measure));
    if (const auto when = node.find("when"))
        for (const auto& [name, word] : when->members()) made.when.emplace_back(name, word.text());
    return made;
}

std::vector<std::string> taken(const Operation& operation) {
    struct Names {
        using List = std::vector<std::string>;
        List operator()(const SewStripSet& o) const { return o.strips; }
        List operator()(const CrossCut& o) const { return {o.thing}; }
        List operator()(const Join& o) const { return {o.first, o.second}; }
        List operator()(const JoinAround& o) const {
            List all{o.first};
            all.insert(all.end(), o.with.begin(), o.with.end());
            return all;
        }
        List operator()(const JoinRows& o) const {
            List all;
            for (const auto& row : o.rows)
                for (const auto& cell : row) all.push_back(cell.thing);
            return all;
        }
        List operator()(const Lay& o) const {
            List all{o.bottom};
            for (const Lay::Top& top : o.tops) all.push_back(top.thing);
            return all;
        }
        List operator()(const SewLines& o) const { return {o.thing}; }
        List operator()(const CutLines& o) const { return {o.thing}; }
        List operator()(const TrimSeam& o) const { return {o.thing}; }
        List operator()(const Open& o) const { return {o.thing}; }
        List operator()(const Trim& o) const { return {o.thing}; }
        List operator()(const Turn& o) const { return {o.thing}; }
    };
    return std::visit(Names{}, operation);
}

std::vector<const Expression*> sizes(const Action& action) {
    std::vector<const Expression*> found;
    if (const auto* set = std::get_if<SewStripSet>(&action.operation))
        found = {&set->sections, &set->section};
    if (const auto* cut = std::get_if<CrossCut>(&action.operation)) found = {&cut->every};
    if (const auto* trim = std::get_if<Trim>(&action.operation)) found = {&trim->width, &trim->height};
    for (const Wish& wish : action.wishes) found.push_back(&wish.is);
    return found;
}

} // namespace motley::unit
