#include "layout/making_up.h"

#include <fmt/format.h>

#include <algorithm>

#include "layout/setting.h"

namespace motley::layout {

namespace {

using document::Node;
using measure::Length;
using measure::System;

constexpr Length inch{Length::per_inch};
constexpr Length millimetre{Length::per_millimetre};
constexpr Length eighth_of_an_inch{Length::per_inch / 8};

Length usual(System system, Length inches, Length metric) {
    return system == System::inch ? inches : metric;
}

class Reader {
public:
    Reader(System system, Complaints& complaints) : system_(system), complaints_(complaints) {}

    void length(const Node& parent, const std::string& key, std::string_view noun, Length least, Length most,
                Length& into) {
        complaints_.optional(parent, key, [&](const Node& node) {
            const Length found = read_length(node, system_);
            if (found < least || found > most)
                node.refuse(fmt::format("{} of {} is too {}", noun, measure::print_set(found, system_),
                                        found < least ? "small" : "large"),
                            fmt::format("it may be {} to {}", measure::print_set(least, system_),
                                        measure::print_set(most, system_)));
            into = found;
        });
    }

    void section(const Node& parent, const std::string& key, const std::vector<std::string>& keys,
                 const auto& read) {
        complaints_.optional(parent, key, [&](const Node& node) {
            if (!node.is_object()) node.allow_only(keys);
            complaints_.attempt([&] { node.allow_only(keys); });
            read(node);
        });
    }

    void text(const Node& parent, const std::string& key, std::size_t longest, std::string& into) {
        complaints_.optional(parent, key, [&](const Node& node) {
            std::string said = node.text();
            if (said.size() > longest)
                node.refuse(fmt::format("this text has {} letters", said.size()),
                            fmt::format("at most {} find room", longest));
            into = std::move(said);
        });
    }

    void cloth(const Node& plan, Cloth& cloth) {
        section(plan, "cloth", {"usable_width", "ends", "slack", "step", "shrinkage", "price", "currency"},
                [&](const Node& node) {
                    length(node, "ends", "the strip cut off to square an end", {}, inch * 18, cloth.ends);
                    length(node, "slack", "the slack", {}, inch * 360, cloth.slack);
                    length(node, "step", "the shop's step", eighth_of_an_inch, inch * 360, cloth.step);
                    complaints_.optional(node, "shrinkage", [&](const Node& percent) {
                        cloth.shrinkage = percent.number(0, 20);
                    });
                    complaints_.optional(
                        node, "price", [&](const Node& price) { cloth.price = price.number(0, 1'000'000); });
                    text(node, "currency", 12, cloth.currency);
                });
    }

    void finish(const Node& plan, Finish& finish) {
        section(plan, "finish", {"backing", "batting", "binding", "label"}, [&](const Node& node) {
            bool batting_said = false;
            section(node, "backing", {"fabric", "width", "overhang", "seam"}, [&](const Node& backing) {
                text(backing, "fabric", 64, finish.backing.fabric);
                length(backing, "width", "the width of the backing's cloth", inch * 6, inch * 130,
                       finish.backing.width);
                length(backing, "overhang", "the overhang", {}, inch * 20, finish.backing.overhang);
                length(backing, "seam", "the backing's seam allowance", {}, inch * 2, finish.backing.seam);
            });
            section(node, "batting", {"overhang"}, [&](const Node& batting) {
                batting_said = true;
                length(batting, "overhang", "the overhang", {}, inch * 20, finish.batting_overhang);
            });
            if (!batting_said) finish.batting_overhang = finish.backing.overhang;
            section(node, "binding", {"fabric", "width"}, [&](const Node& binding) {
                text(binding, "fabric", 64, finish.binding.fabric);
                length(binding, "width", "the binding's cut width", inch, inch * 12, finish.binding.width);
            });
            text(node, "label", 500, finish.label);
        });
    }

    OtherSize size(const Node& node) {
        const std::vector<OtherSize> known = usual_sizes();
        if (node.is_text()) {
            std::vector<std::string> names;
            for (const OtherSize& one : known) names.push_back(one.name);
            return known[node.choice(names)];
        }
        node.allow_only({"name", "mattress", "drop", "finished"});
        OtherSize asked;
        asked.name = node.at("name").text();
        if (asked.name.empty() || asked.name.size() > 40)
            node.at("name").refuse("this is no name for a size", "give it 1 to 40 letters");
        for (const OtherSize& one : known)
            if (one.name == asked.name) asked = one;
        const auto sides = [&](const Node& pair) {
            const std::vector<Node> both = pair.items();
            if (both.size() != 2)
                pair.refuse(fmt::format("found {} lengths", both.size()), "give two: width and length");
            asked.width = read_length(both[0], system_);
            asked.length = read_length(both[1], system_);
            const Length shortest = std::min(asked.width, asked.length);
            if (shortest < inch || std::max(asked.width, asked.length) > inch * 600)
                pair.refuse("a bed or quilt of this size is not possible here",
                            "its sides may be 1 in to 600 in");
        };
        const auto mattress = node.find("mattress");
        const auto finished = node.find("finished");
        if (mattress && finished)
            node.refuse("a size has either a mattress or a finished size, not both", "leave one out");
        if (mattress) {
            asked.mattress = true;
            sides(*mattress);
            if (asked.drop.ticks == 0) asked.drop = usual(system_, inch * 10, millimetre * 250);
        } else if (finished) {
            asked.mattress = false;
            asked.drop = {};
            sides(*finished);
        } else if (asked.width.ticks == 0) {
            node.refuse("this size says neither \"mattress\" nor \"finished\"",
                        "give one, such as \"mattress\": [\"39\", \"75\"]");
        }
        if (const auto drop = node.find("drop")) {
            asked.drop = read_length(*drop, system_);
            if (asked.drop > inch * 40) drop->refuse("this drop is too large", "it may be up to 40 in");
        }
        return asked;
    }

    void sizes(const Node& plan, std::vector<OtherSize>& sizes) {
        complaints_.optional(plan, "sizes", [&](const Node& node) {
            sizes.clear();
            if (node.items().size() > 12) node.refuse("these are too many sizes", "give at most 12");
            for (const Node& item : node.items()) complaints_.attempt([&] { sizes.push_back(size(item)); });
        });
    }

    void page(const Node& plan, Page& page) {
        section(plan, "handout", {"paper", "large_print"}, [&](const Node& node) {
            complaints_.optional(node, "paper", [&](const Node& paper) {
                page.paper = static_cast<Paper>(paper.choice({"letter", "a4"}));
            });
            complaints_.optional(node, "large_print",
                                 [&](const Node& large) { page.large_print = large.boolean(); });
        });
    }

private:
    System system_;
    Complaints& complaints_;
};

} // namespace

std::vector<OtherSize> usual_sizes() {
    const Length drop = inch * 10;
    return {
        {"crib", inch * 28, {Length::per_inch * 52 + Length::per_inch * 3 / 8}, {}, false, true},
        {"lap", inch * 50, inch * 65, {}, false, false},
        {"twin", inch * 39, inch * 75, drop, true, false},
        {"full", inch * 54, inch * 75, drop, true, false},
        {"queen", inch * 60, inch * 80, drop, true, false},
        {"king", inch * 76, inch * 80, drop, true, false},
    };
}

MakingUp read_making_up(const Node& plan, System system, Length usable_width, Complaints& complaints) {
    MakingUp made;
    made.cloth.step = usual(system, {Length::per_inch * 9 / 2}, millimetre * 100);
    made.finish.backing.width = usable_width;
    made.finish.backing.overhang = usual(system, inch * 4, millimetre * 100);
    made.finish.backing.seam = usual(system, {Length::per_inch / 2}, millimetre * 12);
    made.finish.batting_overhang = made.finish.backing.overhang;
    made.finish.binding.width = usual(system, {Length::per_inch * 5 / 2}, millimetre * 65);
    made.sizes = usual_sizes();
    made.page.paper = system == System::inch ? Paper::letter : Paper::a4;
    Reader reader(system, complaints);
    reader.cloth(plan, made.cloth);
    reader.finish(plan, made.finish);
    reader.sizes(plan, made.sizes);
    reader.page(plan, made.page);
    return made;
}

} // namespace motley::layout
