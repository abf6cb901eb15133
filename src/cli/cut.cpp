// `motley cut`: the cutting plan of a cut list, told as one cuts it.

#include <fmt/format.h>

#include <algorithm>

#include "cli/commands.h"
#include "cutting/cut_file.h"
#include "document/document.h"

namespace motley::cli {

namespace {

using cutting::CutList;
using cutting::CutPlan;
using cutting::LaidPiece;
using cutting::Segment;
using cutting::Strip;
using measure::Length;

bool alike(const LaidPiece& a, const LaidPiece& b) {
    return a.piece == b.piece && a.width == b.width && a.height == b.height;
}
bool alike(const Segment& a, const Segment& b) {
    return a.width == b.width &&
           std::equal(a.pieces.begin(), a.pieces.end(), b.pieces.begin(), b.pieces.end(),
                      [](const auto& x, const auto& y) { return alike(x, y); });
}
bool alike(const Strip& a, const Strip& b) {
    return a.height == b.height &&
           std::equal(a.segments.begin(), a.segments.end(), b.segments.begin(), b.segments.end(),
                      [](const auto& x, const auto& y) { return alike(x, y); });
}

/// Runs of neighbours that are alike: where each ends.
template <class Item>
std::vector<std::size_t> runs(const std::vector<Item>& items) {
    std::vector<std::size_t> ends;
    for (std::size_t i = 1; i <= items.size(); ++i)
        if (i == items.size() || !alike(items[i], items[i - 1])) ends.push_back(i);
    return ends;
}

class Telling {
public:
    Telling(const CutList& list, const CutPlan& plan, std::ostream& out)
        : list_(list), plan_(plan), out_(out) {}

    void tell() {
        tell_purchase();
        out_ << "Close the rotary cutter's blade at every pause, cut away from your hand, and keep it out of "
                "children's reach.\n";
        tell_sheets();
        if (plan_.strips.empty()) return;
        out_ << fmt::format("\nFrom the cloth that is bought, strips across it, in cutting order:\n");
        if (list_.ends.ticks > 0)
            out_ << fmt::format("First square the end: {} comes off.\n", said(list_.ends));
        tell_strips(plan_.strips);
    }

private:
    std::string said(Length length) const { return measure::print(length, list_.measure); }

    std::string by_shop(Length length) const {
        if (list_.measure == measure::System::inch && length.ticks % (Length::per_inch * 9 / 2) == 0)
            return fmt::format("{} yd ({})",
                               measure::print_bare(Length{length.ticks / 36}, measure::System::inch),
                               said(length));
        return said(length);
    }

    void tell_purchase() {
        if (plan_.length.ticks == 0) {
            out_ << "Nothing needs to be bought: what is on hand is enough.\n";
            return;
        }
        out_ << fmt::format("Buy {} of cloth with a usable width of {}; the plan takes {}",
                            by_shop(plan_.buy), said(list_.usable_width), said(plan_.length));
        const Length spare = plan_.buy - plan_.length;
        out_ << (spare.ticks > 0 ? fmt::format(" and leaves {} to spare.\n", said(spare))
                                 : std::string(" and leaves nothing to spare.\n"));
        const std::string bound = plan_.bound.ticks > 0
                                      ? fmt::format("No plan can do with less than {}", said(plan_.bound))
                                      : std::string("How little would do is not known");
        out_ << bound
             << (plan_.proved ? ", so buying less is impossible.\n"
                              : "; whether a plan exists that buys less is not settled.\n");
        out_ << fmt::format("{:.1f} % of what the plan takes is waste.\n", plan_.waste_share * 100);
    }

    void tell_sheets() {
        const auto& sheets = plan_.sheets;
        for (std::size_t i = 0; i < sheets.size();) {
            std::size_t end = i + 1;
            while (end < sheets.size() && sheets[end].sheet == sheets[i].sheet &&
                   sheets[end].along == sheets[i].along &&
                   std::equal(
                       sheets[i].strips.begin(), sheets[i].strips.end(), sheets[end].strips.begin(),
                       sheets[end].strips.end(), [](const auto& a, const auto& b) { return alike(a, b); }))
                ++end;
            out_ << fmt::format("\nFrom the stock: {}{}, strips {}:\n",
                                list_.sheets[static_cast<std::size_t>(sheets[i].sheet)].name,
                                end - i > 1 ? fmt::format(", {} of them cut alike", end - i) : "",
                                sheets[i].along ? "along the length of the cloth" : "across the cloth");
            tell_strips(sheets[i].strips);
            i = end;
        }
    }

    void tell_strips(const std::vector<Strip>& strips) {
        std::size_t begin = 0;
        for (const std::size_t end : runs(strips)) {
            const std::string which =
                end - begin == 1 ? fmt::format("Strip {}", begin + 1)
                                 : fmt::format("Strips {} to {} (cut {} alike)", begin + 1, end, end - begin);
            out_ << fmt::format("{}: {} tall. Cut it into:\n", which, said(strips[begin].height));
            tell_segments(strips[begin]);
            begin = end;
        }
    }

    void tell_segments(const Strip& strip) {
        std::size_t begin = 0;
        for (const std::size_t end : runs(strip.segments)) {
            const Segment& segment = strip.segments[begin];
            out_ << fmt::format("    {} x {} long: {}\n", end - begin, said(segment.width),
                                contents(segment));
            begin = end;
        }
    }

    /// The pieces of a stack from one end.
    std::string contents(const Segment& segment) const {
        std::string text;
        std::size_t begin = 0;
        for (const std::size_t end : runs(segment.pieces)) {
            const LaidPiece& laid = segment.pieces[begin];
            const auto sides = measure::print_sides(laid.width, laid.height, list_.measure);
            if (!text.empty()) text += ", then ";
            if (segment.pieces.size() > 1) text += fmt::format("{} of ", end - begin);
            text += fmt::format("{} ({} x {}{})",
                                document::shortened(list_.pieces[static_cast<std::size_t>(laid.piece)].name),
                                sides[0], sides[1], laid.turned ? ", turned" : "");
            begin = end;
        }
        return segment.pieces.size() > 1 ? "a stack: " + text : text;
    }

    const CutList& list_;
    const CutPlan& plan_;
    std::ostream& out_;
};

} // namespace

int cut(const Words& words, const Streams& streams) {
    const std::string file = words.input.string();
    const document::Json json = document::parse(document::read_text(words.input), file);
    const CutList list = cutting::read_cut_list(document::Node(json, file));
    const CutPlan plan = cutting::plan_cuts(list);
    if (words.json)
        streams.out << document::print(cutting::plan_json(list, plan));
    else
        Telling(list, plan, streams.out).tell();
    return 0;
}

} // namespace motley::cli
