#include "cutting/fabric_cuts.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <utility>

#include "cutting/csv.h"
#include "cutting/finishing.h"
#include "fault/fault.h"

namespace motley::cutting {

namespace {

using measure::Length;
using palette::FabricId;

const std::string& stock_word(palette::StockPiece::Piece piece) {
    static const std::string words[]{"strip", "square", "scrap", "fat quarter", "yardage"};
    return words[static_cast<std::size_t>(piece)];
}

/// Strips are cut across the cloth: their length lies across it.
Sheet sheet_of(const palette::StockPiece& stock) {
    const bool strip = stock.piece == palette::StockPiece::Piece::strip;
    return {stock_word(stock.piece), strip ? stock.length : stock.width, strip ? stock.width : stock.length,
            stock.count};
}

/// One way to ask for what a fabric must give.
struct Asked {
    CutList list;
    std::vector<int> need_of;
    std::vector<Joined> joined;
    bool joins = false; ///< Something is sewn end to end.
};

class Cutter {
public:
    Cutter(const layout::Layout& layout, Cutting& cutting) : layout_(layout), cutting_(cutting) {}

    FabricCuts cut(FabricId fabric, std::vector<int> needs) {
        FabricCuts cuts;
        cuts.fabric = fabric;
        cuts.by_stock = !cloth_of(fabric).stock.empty();
        cuts.needs = std::move(needs);
        Asked best = ask(fabric, cuts.needs, false);
        cuts.plan = plan(best.list, fabric);
        cuts.buy = to_buy(cuts.plan.length, cloth());
        if (best.joins) {
            // Cut along the cloth the strips are whole: taken unless it buys more.
            Asked along = ask(fabric, cuts.needs, true);
            CutPlan whole = plan(along.list, fabric);
            if (const Length buy = to_buy(whole.length, cloth()); buy <= cuts.buy) {
                cuts.buy = buy;
                cuts.plan = std::move(whole);
                best = std::move(along);
            }
        }
        cuts.list = std::move(best.list);
        cuts.need_of = std::move(best.need_of);
        cuts.joined = std::move(best.joined);
        if (cloth().shrinkage > 0) cuts.plan.proved = to_buy(cuts.plan.bound, cloth()) >= cuts.buy;
        if (cuts.buy.ticks > 0) {
            const double after_washing = static_cast<double>(cuts.buy.ticks) * (1 - cloth().shrinkage / 100);
            cuts.spare = Length{static_cast<std::int64_t>(after_washing)} - cuts.plan.length;
        }
        for (const SheetCuts& sheet : cuts.plan.sheets) cuts.from_stock += pieces_in(sheet.strips);
        cuts.bought = pieces_in(cuts.plan.strips);
        return cuts;
    }

private:
    const layout::Cloth& cloth() const { return layout_.plan.making_up.cloth; }
    const palette::Fabric& cloth_of(FabricId fabric) const { return layout_.fabrics[palette::index(fabric)]; }

    static int pieces_in(const std::vector<Strip>& strips) {
        std::size_t pieces = 0;
        for (const Strip& strip : strips)
            for (const Segment& segment : strip.segments) pieces += segment.pieces.size();
        return static_cast<int>(pieces);
    }

    Asked ask(FabricId fabric, const std::vector<int>& needs, bool along) const {
        Asked asked;
        CutList& list = asked.list;
        list.measure = layout_.plan.measure;
        list.usable_width = cutting_.usable_width;
        list.ends = cloth().ends;
        list.slack = cloth().slack;
        list.step = cloth().step;
        for (const palette::StockPiece& stock : cloth_of(fabric).stock)
            list.sheets.push_back(sheet_of(stock));
        const bool turn = !cloth_of(fabric).one_way;
        const auto add = [&](int need, const std::string& name, Length width, Length height, int count,
                             bool may_turn) {
            list.pieces.push_back({name, width, height, count, may_turn});
            asked.need_of.push_back(need);
        };
        std::map<std::int64_t, std::vector<int>> runs; // By the strip's width: those that must be joined.
        for (const int n : needs) {
            const Need& need = cutting_.take_off.needs[static_cast<std::size_t>(n)];
            const Length longer = std::max(need.width, need.length);
            if (need.joined && longer > cutting_.usable_width)
                runs[std::min(need.width, need.length).ticks].push_back(n);
            else
                add(n, need.name, need.width, need.length, need.count,
                    turn && need.width < cutting_.usable_width);
        }
        for (const auto& [wide, run] : runs) join(asked, run, Length{wide}, turn, along, add);
        return asked;
    }

    /// Strips of one width that are longer than the cloth is wide.
    void join(Asked& asked, const std::vector<int>& run, Length wide, bool turn, bool along,
              const auto& add) const {
        asked.joins = true;
        Length total;
        for (const int n : run) {
            const Need& need = cutting_.take_off.needs[static_cast<std::size_t>(n)];
            const Length longer = std::max(need.width, need.length);
            total = total + longer * need.count;
            if (along) {
                add(n, need.name, wide, longer, need.count, false);
                asked.joined.push_back({n, true, 0, longer * need.count});
            }
        }
        if (along) return;
        const Length joint = layout_.plan.seam * 2, across = cutting_.usable_width;
        const std::int64_t strips = (total - joint).ticks / (across - joint).ticks +
                                    ((total - joint).ticks % (across - joint).ticks != 0);
        // A sliver would be all seam: the last strip is left longer than it need be.
        const Length least = std::min(across, Length{Length::per_inch * 8});
        const Length rest = std::max(least, total - (across - joint) * (strips - 1));
        const std::string name =
            cutting_.take_off.needs[static_cast<std::size_t>(run.front())].name + ", to be joined";
        if (strips > 1) add(run.front(), name, across, wide, static_cast<int>(strips - 1), false);
        add(run.front(), name, rest, wide, 1, turn && rest < across);
        for (const int n : run) asked.joined.push_back({n, false, static_cast<int>(strips), total});
    }

    /// Many fabrics ask for the same: planned once.
    CutPlan plan(const CutList& list, FabricId fabric) {
        std::vector<std::int64_t> key;
        for (const CutListPiece& piece : list.pieces)
            key.insert(key.end(), {piece.width.ticks, piece.height.ticks, piece.count, piece.turn});
        key.push_back(-1);
        for (const Sheet& sheet : list.sheets)
            key.insert(key.end(), {sheet.width.ticks, sheet.length.ticks, sheet.count});
        const auto known = plans_.find(key);
        if (known != plans_.end()) return known->second;
        try {
            return plans_.emplace(std::move(key), plan_cuts(list)).first->second;
        } catch (const Fault& fault) {
            std::vector<Problem> problems = fault.problems();
            for (Problem& problem : problems)
                problem.what = fmt::format("{}: {}", cloth_of(fabric).id, problem.what);
            throw Fault(fault.cause(), std::move(problems));
        }
    }

    const layout::Layout& layout_;
    Cutting& cutting_;
    std::map<std::vector<std::int64_t>, CutPlan> plans_;
};

} // namespace

Cutting cutting_for(const layout::Layout& layout, Length usable_width) {
    Cutting cutting;
    cutting.usable_width = usable_width;
    cutting.take_off = take_off(layout, usable_width);
    std::map<FabricId, std::vector<int>> needs;
    for (std::size_t n = 0; n < cutting.take_off.needs.size(); ++n)
        needs[cutting.take_off.needs[n].fabric].push_back(static_cast<int>(n));
    Cutter cutter(layout, cutting);
    for (auto& [fabric, list] : needs) cutting.fabrics.push_back(cutter.cut(fabric, std::move(list)));
    return cutting;
}

std::string cutting_csv(const layout::Layout& layout, const Cutting& cutting) {
    const bool inch = layout.plan.measure == measure::System::inch;
    const auto length = [&](Length said) {
        return csv_number(inch ? said.in_inches() : said.in_inches() * 2.54, 4);
    };
    std::string text = inch ? "fabric,for,piece,width_in,length_in,cut,cut_into,pieces,used,spare\n"
                            : "fabric,for,piece,width_cm,length_cm,cut,cut_into,pieces,used,spare\n";
    for (const Need& need : cutting.take_off.needs)
        text += csv_line({csv_field(layout.fabrics[palette::index(need.fabric)].id), name_of(need.use),
                          csv_field(need.name), length(need.width), length(need.length),
                          std::to_string(need.count), std::to_string(need.cut_into),
                          std::to_string(need.count * need.cut_into), std::to_string(need.used),
                          std::to_string(need.spare())});
    return text;
}

} // namespace motley::cutting
