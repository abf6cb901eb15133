#include "cutting/buying.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "cutting/csv.h"
#include "cutting/stock.h"
#include "fault/fault.h"
#include "layout/heap.h"
#include "layout/kit.h"
#include "layout/top.h"

namespace motley::cutting {

namespace {

using measure::Length;
using measure::System;

constexpr Length yard{Length::per_inch * 36};
constexpr Length metre{Length::per_millimetre * 1000};

double units_of_cloth(Length length, System system) {
    return static_cast<double>(length.ticks) /
           static_cast<double>((system == System::inch ? yard : metre).ticks);
}

class Shopper {
public:
    Shopper(const layout::Layout& layout, const Cutting& cutting, const FinishingPlan& finishing)
        : layout_(layout), cutting_(cutting), finishing_(finishing) {}

    BuyingList run() {
        list_.usable_width = cutting_.usable_width;
        list_.narrow_width = cutting_.usable_width - (layout_.plan.measure == System::inch
                                                          ? Length{Length::per_inch * 2}
                                                          : Length{Length::per_millimetre * 50});
        list_.batting_width = finishing_.batting_width;
        list_.batting_height = finishing_.batting_height;
        fabrics();
        finishing();
        precuts();
        bool priced = !list_.lines.empty();
        double cost = 0;
        for (const BuyLine& line : list_.lines) {
            list_.total = list_.total + line.buy;
            priced = priced && line.price.has_value();
            cost += line.price.value_or(0);
        }
        if (priced) list_.cost = cost;
        return std::move(list_);
    }

private:
    const layout::MakingUp& asked() const { return layout_.plan.making_up; }

    std::optional<double> price(const palette::Fabric* fabric, Length buy) const {
        const std::optional<double> each = fabric && fabric->price ? fabric->price : asked().cloth.price;
        if (!each) return std::nullopt;
        return *each * units_of_cloth(buy, layout_.plan.measure);
    }

    /// Empty where the cloth is too narrow. Strip sets are planned anew, from the same fabrics: on narrower
    /// cloth each gives fewer sections.
    std::map<palette::FabricId, Length> on_narrow_cloth() const {
        std::map<palette::FabricId, Length> narrow;
        try {
            layout::Layout anew;
            const bool sets = cutting_.take_off.strip_sets > 0;
            if (sets) anew = layout::heaped(plan_for_narrow_cloth(), layout_.fabrics);
            for (const FabricCuts& cuts : cutting_for(sets ? anew : layout_, list_.narrow_width).fabrics)
                narrow[cuts.fabric] = cuts.buy;
        } catch (const Fault&) {
            narrow.clear();
        }
        return narrow;
    }

    /// Each role may take what it takes in this top, as evenly as can be.
    layout::Plan plan_for_narrow_cloth() const {
        layout::Plan plan = layout_.plan;
        plan.usable_width = list_.narrow_width;
        plan.counts.clear();
        const layout::Kit kit = layout::make_kit(plan.sewn, plan.board().units(), layout_.plan.usable_width);
        plan.roles.clear();
        for (std::size_t s = 0; s < kit.slots.size(); ++s) {
            const std::string& role = kit.roles[static_cast<std::size_t>(kit.slots[s].role)];
            const std::string& id = layout_.fabrics[palette::index(layout_.assignment.slots.at(s))].id;
            std::vector<std::string>& taken = plan.roles[role];
            if (std::find(taken.begin(), taken.end(), id) == taken.end()) taken.push_back(id);
        }
        return plan;
    }

    void fabrics() {
        const std::map<palette::FabricId, Length> narrow = on_narrow_cloth();
        for (const FabricCuts& cuts : cutting_.fabrics) {
            const palette::Fabric& fabric = layout_.fabrics[palette::index(cuts.fabric)];
            BuyLine line;
            line.id = fabric.id;
            line.what = fabric.name;
            line.width = cutting_.usable_width;
            line.length = cuts.plan.length;
            line.buy = cuts.buy;
            line.spare = cuts.spare;
            line.proved = cuts.plan.proved;
            line.from_stock = cuts.from_stock > 0;
            if (const auto at = narrow.find(cuts.fabric); at != narrow.end())
                line.narrow_buy = at->second;
            else if (!narrow.empty())
                line.narrow_buy = Length{}; // Planned anew, another fabric came into the sets.
            line.price = price(&fabric, line.buy);
            list_.lines.push_back(std::move(line));
        }
    }

    const palette::Fabric* chosen(const std::string& id) const {
        for (const palette::Fabric& fabric : layout_.fabrics)
            if (fabric.id == id) return &fabric;
        return nullptr;
    }

    void finishing() {
        const layout::Finish& finish = asked().finish;
        const Length width = layout_width(), height = layout_height();
        if (!chosen(finish.binding.fabric)) { // Else its strips are among the fabric's own pieces.
            BuyLine line;
            line.what = "binding";
            line.width = cutting_.usable_width;
            line.length = finishing_.binding.length;
            line.buy = finishing_.binding.buy;
            line.spare = after_washing(line.buy) - line.length;
            line.proved = true; // Strips of one width across the cloth: there is no other way to count them.
            if (finish.binding.width < list_.narrow_width)
                line.narrow_buy =
                    to_buy(finish.binding.width *
                                   binding_strips(width, height, finish.binding.width, list_.narrow_width) +
                               asked().cloth.ends,
                           asked().cloth);
            line.price = price(nullptr, line.buy);
            list_.lines.push_back(std::move(line));
        }
        const palette::Fabric* backing = chosen(finish.backing.fabric);
        BuyLine line;
        if (backing) line.id = backing->id;
        line.what = backing ? backing->name + " for the backing" : "backing";
        line.width = finish.backing.width;
        line.length = finishing_.backing.length;
        line.buy = finishing_.backing.buy;
        line.spare = after_washing(line.buy) - line.length;
        line.proved = true; // Whole panels: both ways were counted.
        layout::Backing narrow = finish.backing;
        narrow.width = finish.backing.width - (list_.usable_width - list_.narrow_width);
        if (narrow.width > narrow.seam * 2)
            line.narrow_buy = backing_for(width, height, narrow, asked().cloth).buy;
        line.price = price(backing, line.buy);
        list_.lines.push_back(std::move(line));
    }

    Length layout_width() const { return Length::inches(layout::extent_of(layout_.plan).width); }
    Length layout_height() const { return Length::inches(layout::extent_of(layout_.plan).height); }

    Length after_washing(Length bought) const {
        return Length{static_cast<std::int64_t>(static_cast<double>(bought.ticks) *
                                                (1 - asked().cloth.shrinkage / 100))};
    }

    /// Only pieces of the units, which are what many fabrics go into; by size over all fabrics.
    void precuts() {
        struct Kind {
            std::string name, piece; ///< "roll of 40 strips ...", and what one is called.
            palette::StockPiece cut;
            int in_a_pack;
        };
        using Piece = palette::StockPiece::Piece;
        const Length wide = cutting_.usable_width;
        constexpr Length in{Length::per_inch};
        const std::vector<Kind> kinds{
            {"roll of 40 strips, 2 1/2 in wide", "strip", {Piece::strip, {in.ticks * 5 / 2}, wide, 1}, 40},
            {"stack of 42 five-inch squares", "square", {Piece::square, in * 5, in * 5, 1}, 42},
            {"stack of 42 ten-inch squares", "square", {Piece::square, in * 10, in * 10, 1}, 42},
            {"bundle of 20 fat quarters, 18 x 22 in",
             "fat quarter",
             {Piece::fat_quarter, in * 22, in * 18, 1},
             20},
        };
        std::map<std::pair<std::int64_t, std::int64_t>, Need> sizes; // Rectangles over all fabrics.
        for (const Need& need : cutting_.take_off.needs) {
            if (need.use != Use::unit && need.use != Use::strip_set) continue;
            Need& all = sizes[{-need.width.ticks, -need.length.ticks}];
            const int before = all.count;
            all = need;
            all.count += before;
        }
        for (const auto& [size, need] : sizes)
            for (const Kind& kind : kinds) {
                Precut precut;
                precut.each = stock_yield({kind.cut}, {need.width, need.length, 1});
                if (precut.each == 0) continue;
                const auto [w, l] = measure::print_sides(need.width, need.length, layout_.plan.measure);
                precut.name = kind.name;
                precut.piece = need.use == Use::strip_set ? fmt::format("{} {} wide", need.name, l)
                                                          : fmt::format("{} {} x {}", need.name, w, l);
                precut.wanted = need.count;
                precut.cuts = (precut.wanted + precut.each - 1) / precut.each;
                precut.packs = (precut.cuts + kind.in_a_pack - 1) / kind.in_a_pack;
                list_.precuts.push_back(std::move(precut));
            }
    }

    const layout::Layout& layout_;
    const Cutting& cutting_;
    const FinishingPlan& finishing_;
    BuyingList list_;
};

} // namespace

BuyingList buying_for(const layout::Layout& layout, const Cutting& cutting, const FinishingPlan& finishing) {
    return Shopper(layout, cutting, finishing).run();
}

std::string print_cloth(Length length, System system) {
    if (system == System::metric) return fmt::format("{} m", csv_number(units_of_cloth(length, system), 3));
    const std::int64_t eighths = length.ticks * 8 / yard.ticks;
    if (eighths * yard.ticks != length.ticks * 8)
        return fmt::format("{} yd", csv_number(units_of_cloth(length, system), 3));
    const std::int64_t whole = eighths / 8, part = eighths % 8;
    static const char* const fractions[]{"", "1/8", "1/4", "3/8", "1/2", "5/8", "3/4", "7/8"};
    if (part == 0) return fmt::format("{} yd", whole);
    return whole == 0 ? fmt::format("{} yd", fractions[part])
                      : fmt::format("{} {} yd", whole, fractions[part]);
}

std::string buying_csv(const layout::Layout& layout, const BuyingList& list) {
    const System system = layout.plan.measure;
    const bool inch = system == System::inch;
    const auto small = [&](Length length) {
        return csv_number(inch ? length.in_inches() : length.in_inches() * 2.54, 3);
    };
    const auto cloth = [&](Length length) { return csv_number(units_of_cloth(length, system), 4); };
    std::string text = fmt::format(
        "fabric,name,usable_width_{0},takes_{0},buy_{1},spare_{0},least_proved,stock_used,"
        "buy_{1}_at_{2}_{0},price\n",
        inch ? "in" : "cm", inch ? "yd" : "m", small(list.narrow_width));
    for (const BuyLine& line : list.lines)
        text += csv_line({csv_field(line.id.empty() ? line.what : line.id), csv_field(line.what),
                          small(line.width), small(line.length), cloth(line.buy), small(line.spare),
                          line.proved ? "yes" : "no", line.from_stock ? "yes" : "no",
                          line.narrow_buy ? cloth(*line.narrow_buy) : "",
                          line.price ? fmt::format("{:.2f}", *line.price) : ""});
    return text;
}

} // namespace motley::cutting
