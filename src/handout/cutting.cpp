// Cutting: for each fabric its pieces, the strips in cutting order, a diagram, what is left over.
#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <memory>

#include "handout/part.h"
#include "render/diagram_cuts.h"

namespace motley::handout {

namespace {

using cutting::FabricCuts;
using render::BlockPtr;
using render::Text;

/// Pieces of stock with the same cuts.
struct EqualSheets {
    const cutting::SheetCuts* cuts = nullptr;
    int count = 1;
};

std::vector<EqualSheets> equal_sheets(const FabricCuts& cuts) {
    std::vector<EqualSheets> groups;
    for (const cutting::SheetCuts& sheet : cuts.plan.sheets) {
        if (sheet.strips.empty()) continue; // Not touched.
        if (!groups.empty() && render::equally_cut(*groups.back().cuts, sheet))
            ++groups.back().count;
        else
            groups.push_back({&sheet, 1});
    }
    return groups;
}

/// What is cut, exactly; equal for fabrics that are cut alike.
std::string spelled(const std::vector<cutting::Strip>& strips) {
    std::string words;
    for (const cutting::Strip& strip : strips) {
        words += fmt::format("|{}:", strip.height.ticks);
        for (const cutting::Segment& segment : strip.segments) {
            words += fmt::format(" {}", segment.width.ticks);
            for (const cutting::LaidPiece& laid : segment.pieces)
                words += fmt::format("/{}{}", laid.piece, laid.turned ? "t" : "");
        }
    }
    return words;
}

/// One card for fabrics that are cut alike.
class FabricCard {
public:
    FabricCard(const Writer& writer, const FabricCuts& cuts)
        : writer_(writer), cuts_(cuts), fabrics_{cuts.fabric} {}

    void join(palette::FabricId fabric) { fabrics_.push_back(fabric); }

    /// Cards with one likeness say and draw the same.
    std::string likeness() const {
        std::string words = fmt::format("{} {}", cuts_.buy.ticks, remarks());
        for (std::size_t p = 0; p < cuts_.list.pieces.size(); ++p) words += "|" + piece(p);
        for (const EqualSheets& group : equal_sheets(cuts_)) {
            const cutting::Sheet& sheet = sheet_of(group);
            words += fmt::format("#{} {} {} {} {}", group.count, sheet.name, sheet.width.ticks,
                                 sheet.length.ticks, group.cuts->along) +
                     spelled(group.cuts->strips);
        }
        return words + "#" + spelled(cuts_.plan.strips);
    }

    std::vector<BlockPtr> words(double width) const {
        std::vector<BlockPtr> blocks;
        if (fabrics_.size() == 1)
            blocks.push_back(title(width));
        else
            shared_title(width, blocks);
        for (std::size_t p = 0; p < cuts_.list.pieces.size(); ++p)
            blocks.push_back(line(render::piece_letter(static_cast<int>(p)), piece(p), width));
        int number = 0;
        for (const EqualSheets& group : equal_sheets(cuts_))
            blocks.push_back(line(fmt::format("{}.", ++number), from_sheet(group), width));
        for (const render::EqualStrips& group : render::equal_strips(cuts_.plan.strips))
            blocks.push_back(line(fmt::format("{}.", ++number), from_strip(group), width));
        if (const std::string words = remarks(); !words.empty()) {
            render::Type type = writer_.pages.types().small;
            blocks.push_back(render::text_block(words, type, width));
        }
        return blocks;
    }

    render::Figure drawing(double width) const {
        std::vector<BlockPtr> parts;
        const double type = writer_.drawing_type();
        const auto add = [&](render::Figure figure) {
            parts.push_back(render::ornament(figure.width, figure.height, std::move(figure.draw)));
        };
        for (const EqualSheets& group : equal_sheets(cuts_)) {
            const cutting::Sheet& sheet = sheet_of(group);
            const std::string words =
                group.count == 1 ? capital(said_stock(sheet.name))
                                 : fmt::format("{}, cut alike", counted_stock(group.count, sheet.name));
            parts.push_back(render::ornament(width, type * 1.3, [words, type](render::Canvas& canvas) {
                canvas.write({0, 0}, words, {.size = type, .ink = render::inks::quiet});
            }));
            add(render::draw_sheet(cuts_.list, *group.cuts, width, type));
        }
        if (!cuts_.plan.strips.empty()) add(render::draw_strips(cuts_.list, cuts_.plan.strips, width, type));
        // Blocks are drawn once and may be asked for again: kept by the drawing.
        const std::shared_ptr<render::Block> all = render::stack(std::move(parts), type * 0.6);
        return {.width = width,
                .height = all->height(),
                .draw = [all](render::Canvas& canvas) { all->draw(canvas); },
                .alt = fmt::format("Cutting diagram of {}. {}", names(), spoken())};
    }

private:
    const cutting::Sheet& sheet_of(const EqualSheets& group) const {
        return cuts_.list.sheets.at(static_cast<std::size_t>(group.cuts->sheet));
    }
    const cutting::Need& need_of(std::size_t piece) const {
        return writer_.of.cutting.take_off.needs.at(static_cast<std::size_t>(cuts_.need_of.at(piece)));
    }

    std::string names() const {
        std::vector<std::string> all;
        for (const palette::FabricId fabric : fabrics_) all.push_back(writer_.fabric(fabric).name);
        return fmt::format("{}", fmt::join(all, ", "));
    }

    BlockPtr chip(palette::FabricId fabric, double side) const {
        return render::ornament(side, side, [swatch = writer_.swatch(fabric), side](render::Canvas& canvas) {
            draw_swatch(canvas, swatch, {0, 0}, side);
        });
    }

    /// How many, how much of each; their chips in rows; their names.
    void shared_title(double width, std::vector<BlockPtr>& blocks) const {
        const render::PageTypes& types = writer_.pages.types();
        render::Type plain = types.heading;
        plain.bold = false;
        blocks.push_back(render::text_block(
            render::strong(fmt::format("{} fabrics cut alike", fabrics_.size()))
                .add(cuts_.buy.ticks > 0 ? fmt::format(", {} of each", writer_.cloth(cuts_.buy))
                                         : ", all on hand"),
            plain, width, "H3"));
        const double side = types.heading.size * 1.5, gap = types.heading.size * 0.35;
        const auto in_row = std::max<std::size_t>(1, static_cast<std::size_t>((width + gap) / (side + gap)));
        Text list;
        for (std::size_t from = 0; from < fabrics_.size(); from += in_row) {
            std::vector<BlockPtr> row;
            for (std::size_t i = from; i < std::min(from + in_row, fabrics_.size()); ++i)
                row.push_back(chip(fabrics_[i], side));
            blocks.push_back(render::beside(std::move(row), gap));
        }
        for (std::size_t i = 0; i < fabrics_.size(); ++i)
            list.strong(writer_.letter(fabrics_[i]))
                .add(fmt::format(" {}{}", writer_.fabric(fabrics_[i]).name,
                                 i + 1 < fabrics_.size() ? ", " : ". Of each:"));
        blocks.push_back(render::text_block(std::move(list), types.body, width));
    }

    BlockPtr title(double width) const {
        const render::Type& type = writer_.pages.types().heading;
        const double side = type.size * 1.5, indent = side + type.size * 0.6;
        Text words = render::strong(writer_.fabric(cuts_.fabric).name);
        render::Type plain = type;
        plain.bold = false;
        words.add(cuts_.buy.ticks > 0 ? ", " + writer_.cloth(cuts_.buy) : ", on hand");
        std::vector<BlockPtr> both;
        both.push_back(chip(cuts_.fabric, side));
        both.push_back(render::text_block(std::move(words), plain, width - indent, "H3"));
        return render::beside(std::move(both), type.size * 0.6);
    }

    BlockPtr line(const std::string& mark, Text words, double width) const {
        const render::Type& type = writer_.pages.types().body;
        return render::item_block(render::strong(mark), std::move(words), type, type.size * 1.7, width);
    }

    /// "5 × patch square, 6 1/2 in × 6 1/2 in, each cut twice on the diagonal: 20, 2 of them spare".
    std::string piece(std::size_t p) const {
        const cutting::CutListPiece& piece = cuts_.list.pieces[p];
        const cutting::Need& need = need_of(p);
        std::string words =
            fmt::format("{} × {}, {}", piece.count, piece.name, writer_.sides(piece.width, piece.height));
        const bool joined = std::any_of(
            cuts_.joined.begin(), cuts_.joined.end(),
            [&](const cutting::Joined& run) { return run.need == cuts_.need_of[p] && !run.along; });
        if (joined) return words;
        if (need.use == cutting::Use::strip_set)
            return words +
                   fmt::format(", to be sewn into sets: {} from each, {} used", need.cut_into, need.used);
        if (need.cut_into > 1) {
            const bool said = piece.name.find("diagonal") != std::string::npos;
            words += fmt::format("{}: {} pieces",
                                 said                 ? ""
                                 : need.cut_into == 2 ? ", each cut once on the diagonal"
                                                      : ", each cut twice on the diagonal",
                                 need.cut_into * piece.count);
        }
        if (need.spare() > 0 && piece.count == need.count) words += fmt::format(", {} spare", need.spare());
        return words;
    }

    /// "3 a, 2 b".
    std::string pieces_in(const cutting::Strip& strip) const {
        std::map<int, int> counts;
        for (const cutting::Segment& segment : strip.segments)
            for (const cutting::LaidPiece& laid : segment.pieces) ++counts[laid.piece];
        std::vector<std::string> words;
        for (const auto& [piece, count] : counts)
            words.push_back(fmt::format("{} {}", count, render::piece_letter(piece)));
        return fmt::format("{}", fmt::join(words, ", "));
    }

    bool stacked(const cutting::Strip& strip) const {
        return std::any_of(strip.segments.begin(), strip.segments.end(),
                           [](const cutting::Segment& segment) { return segment.pieces.size() > 1; });
    }

    std::string from_strip(const render::EqualStrips& group) const {
        return fmt::format("Cut {} {} wide across the cloth; from {}: {}{}.", counted(group.count, "strip"),
                           writer_.length(group.strip->height), group.count == 1 ? "it" : "each",
                           pieces_in(*group.strip),
                           stacked(*group.strip) ? ", one above the other where drawn so" : "");
    }

    std::string from_sheet(const EqualSheets& group) const {
        const cutting::Sheet& sheet = sheet_of(group);
        const bool one = group.count == 1;
        const std::string which =
            fmt::format("{} {}, {}", one ? "the" : "each of the",
                        one ? said_stock(sheet.name) : counted_stock(group.count, sheet.name),
                        writer_.sides(sheet.width, sheet.length));
        const cutting::Strip& first = group.cuts->strips.front();
        if (group.cuts->strips.size() == 1 && !group.cuts->along && first.height == sheet.length) {
            const bool whole = first.segments.size() == 1 && first.segments[0].pieces.size() == 1 &&
                               first.segments[0].width == sheet.width;
            return whole ? fmt::format("{} is {} as it is.", capital(which), pieces_in(first))
                         : fmt::format("From {}: cut off {}.", which, pieces_in(first));
        }
        std::vector<std::string> strips;
        for (const render::EqualStrips& strip : render::equal_strips(group.cuts->strips))
            strips.push_back(fmt::format("{} {} wide {}, {} into {}", counted(strip.count, "strip"),
                                         writer_.length(strip.strip->height),
                                         group.cuts->along ? "along it" : "across it",
                                         strip.count == 1 ? "cut" : "each cut", pieces_in(*strip.strip)));
        return fmt::format("From {}: {}.", which, fmt::join(strips, "; "));
    }

    std::string remarks() const {
        std::string words;
        words += joins();
        if (writer_.fabric(cuts_.fabric).one_way)
            words +=
                "One-way print: no piece is turned on the cloth; what lies sideways in the quilt shows it "
                "sideways. ";
        if (cuts_.buy.ticks > 0) {
            if (const int waste = static_cast<int>(cuts_.plan.waste_share * 100 + 0.5); waste > 0)
                words += fmt::format("Offcuts: {} percent of the length cut. ", waste);
            if (cuts_.spare.ticks > 0)
                words += fmt::format("Left over: {} of the full width.", writer_.length(cuts_.spare));
        }
        return words;
    }

    /// Runs of one width share their strips.
    std::string joins() const {
        std::string words;
        const cutting::Joined* before = nullptr;
        for (const cutting::Joined& run : cuts_.joined) {
            const cutting::Need& need =
                writer_.of.cutting.take_off.needs.at(static_cast<std::size_t>(run.need));
            const std::string cut = fmt::format("{} of {} ({})", need.count,
                                                writer_.length(std::max(need.width, need.length)), need.name);
            if (run.along)
                words += fmt::format("{}: cut along the cloth, nothing to join. ", capital(need.name));
            else if (before && before->strips == run.strips && before->length == run.length)
                words.replace(words.size() - 2, 2, fmt::format("; and {}. ", cut));
            else
                words += fmt::format("Join {} end to end and cut from the length {}. ",
                                     counted(run.strips, "strip"), cut);
            before = run.along ? nullptr : &run;
        }
        return words;
    }

    std::string spoken() const {
        std::string words;
        for (const EqualSheets& group : equal_sheets(cuts_)) words += from_sheet(group) + " ";
        for (const render::EqualStrips& group : render::equal_strips(cuts_.plan.strips))
            words += from_strip(group) + " ";
        return words;
    }

    const Writer& writer_;
    const FabricCuts& cuts_;
    std::vector<palette::FabricId> fabrics_; ///< By letter.
};

/// In the order of the letters, a shared one where its first comes.
std::vector<FabricCard> cards_of(const Writer& writer) {
    std::vector<const FabricCuts*> order;
    for (const FabricCuts& cuts : writer.of.cutting.fabrics) order.push_back(&cuts);
    std::sort(order.begin(), order.end(), [&](const FabricCuts* a, const FabricCuts* b) {
        return writer.rank(a->fabric) < writer.rank(b->fabric);
    });
    std::vector<FabricCard> cards;
    std::map<std::string, std::size_t> known;
    for (const FabricCuts* cuts : order) {
        const FabricCard card(writer, *cuts);
        const std::string likeness = card.likeness();
        const auto same = known.find(likeness);
        if (same != known.end()) {
            cards[same->second].join(cuts->fabric);
            continue;
        }
        known[likeness] = cards.size();
        cards.push_back(card);
    }
    return cards;
}

} // namespace

void write_cutting(const Writer& writer) {
    render::Pages& pages = writer.pages;
    pages.part(names::cutting);
    pages.say(
        "Each fabric has its card, or shares one with others that are cut alike; the cards come in the order "
        "of the letters. On each are the pieces with their small letters, then the cuts in the order in "
        "which "
        "they are made, the widest strip first. The drawings are to scale; what is hatched is left over. "
        "What is on hand is cut before anything that is bought.");
    if (const measure::Length ends = writer.plan().making_up.cloth.ends; ends.ticks > 0)
        pages.say(
            fmt::format("Square the end of each length first; {} is counted for it.", writer.length(ends)));
    pages.caution(
        "Close the rotary cutter at every pause, cut away from your hand with your fingers off the "
        "ruler's edge, and keep it out of children's reach.");
    for (const FabricCard& card : cards_of(writer))
        pages.card([&](double width) { return card.words(width); },
                   [&](double width) { return card.drawing(width); });
}

} // namespace motley::handout
