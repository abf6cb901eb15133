#include "assembly/cards.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "assembly/letters.h"
#include "fault/fault.h"
#include "layout/kit.h"

namespace motley::assembly {

namespace {

using measure::Length;
using palette::FabricId;

bool in_set(const unit::StripSetYield& set, int input) {
    return std::find(set.inputs.begin(), set.inputs.end(), input) != set.inputs.end();
}

/// "A, B and C"
std::string listed(const std::vector<std::string>& parts) {
    std::string text;
    for (std::size_t i = 0; i < parts.size(); ++i)
        text += (i == 0 ? "" : i + 1 == parts.size() ? " and " : ", ") + parts[i];
    return text;
}

class Writer {
public:
    explicit Writer(const layout::Layout& layout)
        : layout_(layout),
          plan_(layout.plan),
          board_(plan_.board()),
          kit_(layout::make_kit(plan_.sewn, board_.units(), plan_.usable_width)),
          letters_(letters(layout)) {}

    Cards run() {
        find_cells();
        makings();
        for (std::size_t s = 0; s < plan_.sewn.sets.size(); ++s) sets(s);
        kinds();
        for (MakingCard& making : made_.makings) making.text = text_of(making);
        for (SetCard& set : made_.sets) set.lines = lines_of(set);
        return std::move(made_);
    }

private:
    std::string said(Length length) const { return measure::print_measured(length, plan_.measure); }
    std::string said(Length width, Length height) const {
        return fmt::format("{} x {}", said(width), said(height));
    }

    /// By unit of the kit, where it lies.
    void find_cells() {
        cell_of_.assign(kit_.units.size(), -1);
        for (int r = 0; r < board_.list_rows(); ++r)
            for (int c = 0; c < board_.list_columns(r); ++c)
                if (const int cell = board_.cell(r, c); cell >= 0) {
                    const int unit = layout_.assignment.units[static_cast<std::size_t>(cell)];
                    cell_of_.at(static_cast<std::size_t>(unit)) = cell;
                }
    }

    std::vector<FabricId> fabrics_of(std::size_t making) const {
        std::vector<FabricId> fabrics;
        for (const int slot : kit_.makings[making])
            fabrics.push_back(layout_.assignment.slots.at(static_cast<std::size_t>(slot)));
        return fabrics;
    }

    Ingredient ingredient(int input, FabricId fabric, bool of_set) const {
        const unit::Input& in = plan_.sewn.inputs[static_cast<std::size_t>(input)];
        return {in.name,  fabric, letters_[index(fabric)], in.width_cut, of_set ? Length{} : in.height_cut,
                in.pieces};
    }

    /// In the order in which their first is sewn.
    void makings() {
        std::map<std::vector<FabricId>, std::size_t> known;
        for (std::size_t m = 0; m < kit_.makings.size(); ++m) {
            const std::vector<FabricId> fabrics = fabrics_of(m);
            const auto [card, fresh] = known.try_emplace(fabrics, made_.makings.size());
            if (fresh) {
                MakingCard making;
                making.number = static_cast<int>(made_.makings.size()) + 1;
                for (std::size_t i = 0; i < fabrics.size(); ++i) {
                    const int input = static_cast<int>(i);
                    const bool of_set =
                        std::any_of(plan_.sewn.sets.begin(), plan_.sewn.sets.end(),
                                    [&](const unit::StripSetYield& set) { return in_set(set, input); });
                    making.ingredients.push_back(ingredient(input, fabrics[i], of_set));
                }
                made_.makings.push_back(std::move(making));
            }
            ++made_.makings[card->second].makings;
            card_of_.push_back(card->second);
        }
        for (std::size_t u = 0; u < kit_.units.size(); ++u) {
            MakingCard& making = made_.makings[card_of_[static_cast<std::size_t>(kit_.units[u].making)]];
            ++making.units;
            if (cell_of_[u] < 0)
                ++making.spare;
            else
                making.cells.push_back(cell_of_[u]);
        }
        for (MakingCard& making : made_.makings) {
            std::sort(making.cells.begin(), making.cells.end(), [&](int a, int b) {
                return std::pair(board_.row(a), board_.column(a)) <
                       std::pair(board_.row(b), board_.column(b));
            });
            for (const int cell : making.cells) making.labels.push_back(board_.place(cell));
        }
    }

    /// The units of each pile by their form.
    void kinds() {
        made_.numbered = plan_.forms().size() > 1;
        made_.codes.resize(static_cast<std::size_t>(board_.cells()));
        for (std::size_t u = 0; u < kit_.units.size(); ++u) {
            const layout::KitUnit& unit = kit_.units[u];
            std::vector<PileUnit>& kinds =
                made_.makings[card_of_[static_cast<std::size_t>(unit.making)]].kinds;
            auto kind = std::find_if(kinds.begin(), kinds.end(),
                                     [&](const PileUnit& one) { return one.form == unit.form; });
            if (kind == kinds.end()) {
                PileUnit fresh;
                fresh.number = static_cast<int>(kinds.size()) + 1;
                fresh.form = unit.form;
                kind = kinds.insert(kinds.end(), std::move(fresh));
            }
            ++kind->units;
            if (cell_of_[u] < 0) ++kind->spare;
        }
        for (MakingCard& making : made_.makings)
            for (std::size_t i = 0; i < making.cells.size(); ++i) {
                const auto cell = static_cast<std::size_t>(making.cells[i]);
                const int form = layout_.assignment.form(cell);
                const auto kind = std::find_if(making.kinds.begin(), making.kinds.end(),
                                               [&](const PileUnit& one) { return one.form == form; });
                expects(kind != making.kinds.end());
                kind->cells.push_back(making.cells[i]);
                kind->labels.push_back(making.labels[i]);
                made_.codes[cell] = made_.numbered ? fmt::format("{}-{}", making.number, kind->number)
                                                   : std::to_string(making.number);
            }
    }

    /// Makings whose sections come off the same fabrics in the same order, slot for slot, share sets; as the
    /// take-off counts them. Sets that look the same are one card.
    void sets(std::size_t number) {
        const unit::StripSetYield& set = plan_.sewn.sets[number];
        const auto per_set = std::max(
            1, static_cast<int>(plan_.usable_width.ticks / std::max<std::int64_t>(1, set.section_cut.ticks)));
        std::map<std::vector<int>, std::vector<std::size_t>> shared; // Slots, to the makings they serve.
        for (std::size_t m = 0; m < kit_.makings.size(); ++m) {
            std::vector<int> slots;
            for (const int input : set.inputs)
                slots.push_back(kit_.makings[m][static_cast<std::size_t>(input)]);
            shared[slots].push_back(m);
        }
        std::map<std::vector<FabricId>, std::size_t> known;
        for (const auto& [slots, served] : shared) {
            std::vector<FabricId> fabrics;
            for (const int slot : slots)
                fabrics.push_back(layout_.assignment.slots.at(static_cast<std::size_t>(slot)));
            const auto [place, fresh] = known.try_emplace(fabrics, made_.sets.size());
            if (fresh) made_.sets.push_back(card_of(set, fabrics));
            SetCard& card = made_.sets[place->second];
            const int wanted = static_cast<int>(served.size()) * set.sections;
            const int many = (wanted + per_set - 1) / per_set;
            card.sets += many;
            card.sections += wanted;
            card.spare += many * per_set - wanted;
            for (const std::size_t m : served) {
                const int making = static_cast<int>(card_of_[m]);
                if (std::find(card.makings.begin(), card.makings.end(), making) == card.makings.end())
                    card.makings.push_back(making);
            }
        }
    }

    SetCard card_of(const unit::StripSetYield& set, const std::vector<FabricId>& fabrics) const {
        SetCard card;
        card.number = static_cast<int>(made_.sets.size()) + 1;
        card.name = set.name;
        for (std::size_t i = 0; i < fabrics.size(); ++i)
            card.strips.push_back(ingredient(set.inputs[i], fabrics[i], true));
        card.strip_length = plan_.usable_width;
        card.raw_width = Length::inches(set.width);
        card.section = set.section_cut;
        return card;
    }

    /// "strip set 2", "ground C"
    std::string text_of(const MakingCard& making) const {
        std::vector<std::string> parts;
        for (const SetCard& set : made_.sets)
            if (std::find(set.makings.begin(), set.makings.end(), making.number - 1) != set.makings.end())
                parts.push_back(fmt::format("strip set {}", set.number));
        for (std::size_t i = 0; i < making.ingredients.size(); ++i) {
            const int input = static_cast<int>(i);
            const Ingredient& one = making.ingredients[i];
            if (std::none_of(plan_.sewn.sets.begin(), plan_.sewn.sets.end(),
                             [&](const unit::StripSetYield& set) { return in_set(set, input); }))
                parts.push_back(fmt::format("{} {}", one.name, one.letter));
        }
        return fmt::format(
            "Sew {} of {}: {} {}{}. {}", making.makings == 1 ? "one" : std::to_string(making.makings),
            listed(parts), making.units, making.units == 1 ? "unit" : "units",
            making.spare > 0 ? fmt::format(", {} of them spare", making.spare) : "", places_of(making));
    }

    /// Where its units go, each of the different ones by its number.
    static std::string places_of(const MakingCard& making) {
        if (making.kinds.size() == 1)
            return making.labels.empty()
                       ? std::string("They are spare.")
                       : fmt::format("{}: {}.", making.labels.size() == 1 ? "It goes to" : "They go to",
                                     fmt::join(making.labels, "; "));
        std::vector<std::string> sentences;
        for (const PileUnit& kind : making.kinds)
            sentences.push_back(
                kind.labels.empty()
                    ? fmt::format("Unit {} is spare.", kind.number)
                    : fmt::format("Unit {}{} goes to: {}.", kind.number,
                                  kind.spare > 0 ? fmt::format(" ({} spare)", kind.spare) : "",
                                  fmt::join(kind.labels, "; ")));
        return fmt::format("{}", fmt::join(sentences, " "));
    }

    std::vector<std::string> lines_of(const SetCard& card) const {
        std::vector<std::string> order;
        for (const Ingredient& strip : card.strips)
            order.push_back(fmt::format("{} ({})", strip.letter, said(strip.width)));
        std::vector<std::string> lines;
        lines.push_back(fmt::format("Sew {} of strips {}, in this order, long sides together.",
                                    card.sets == 1 ? "one set" : fmt::format("{} sets alike", card.sets),
                                    listed(order)));
        if (card.strips.size() > 2)
            lines.push_back(
                "Sew each seam from the other end than the one before: always from the same end "
                "bows the set.");
        lines.push_back(card.strips.size() == 2
                            ? "Press the seam towards the darker strip."
                            : "Press each seam towards the darker strip, along the whole set at once.");
        lines.push_back(fmt::format("It should measure {} across the strips.", said(card.raw_width)));
        lines.push_back(
            fmt::format("Cut {} {} of {}{}.", card.sections, card.sections == 1 ? "section" : "sections",
                        said(card.section, card.raw_width),
                        card.spare > 0 ? fmt::format("; cloth for {} more is left", card.spare) : ""));
        for (const int making : card.makings)
            lines.push_back(made_.makings[static_cast<std::size_t>(making)].text);
        return lines;
    }

    const layout::Layout& layout_;
    const layout::Plan& plan_;
    const layout::Board board_;
    const layout::Kit kit_;
    const std::vector<std::string> letters_;
    std::vector<int> cell_of_;         ///< By unit of the kit; -1 for spare ones.
    std::vector<std::size_t> card_of_; ///< By making: its card.
    Cards made_;
};

} // namespace

Cards cards_of(const layout::Layout& layout) {
    if (layout.assignment.units.empty()) return {};
    return Writer(layout).run();
}

} // namespace motley::assembly
