#include "cutting/cut_file.h"

#include <fmt/format.h>

#include <set>

#include "cutting/cut_check.h"
#include "layout/complaints.h"
#include "palette/palette.h"

namespace motley::cutting {

namespace {

using document::in_quotes;
using document::Json;
using document::Node;
using measure::Length;

constexpr Length smallest{Length::per_inch / 8};        // Nothing smaller can be cut with a rotary cutter.
constexpr Length longest_side{Length::per_inch * 1800}; // 50 yd
constexpr Length widest{Length::per_inch * 400};
constexpr std::size_t most_kinds = 2000;
constexpr std::size_t longest_name = 200;

void check_format(const Node& root) {
    const auto format = root.find("format");
    if (!format || format->text() == cuts_format) return;
    format->refuse(fmt::format("this file is not a cut list: its format is {}", in_quotes(format->text())),
                   fmt::format("this version of motley reads {}", in_quotes(cuts_format)));
}

/// The list as a palette has it, read as the stock of a fabric; complaints name the place in this file.
std::vector<palette::StockPiece> read_stock(const Node& node, measure::System measure) {
    const Json fabrics{{{"id", "cloth"}, {"colour", {{"srgb", {128, 128, 128}}}}, {"stock", node.json()}}};
    try {
        return palette::read_fabrics(Node(fabrics, node.file()), measure).front().stock;
    } catch (const Fault& fault) {
        const std::string there = Node(fabrics, node.file(), "/0/stock").where();
        std::vector<Problem> problems = fault.problems();
        for (Problem& problem : problems)
            if (problem.where.starts_with(there))
                problem.where = node.where() + problem.where.substr(there.size());
        throw Fault(fault.cause(), std::move(problems));
    }
}

std::string name_of(const palette::StockPiece& stock, measure::System measure) {
    static constexpr const char* words[] = {"strip", "square", "scrap", "fat quarter", "yardage"};
    const auto sides = measure::print_sides(stock.width, stock.length, measure);
    return fmt::format("{} {} x {}", words[static_cast<std::size_t>(stock.piece)], sides[0], sides[1]);
}

Sheet sheet_of(const palette::StockPiece& stock, measure::System measure) {
    Sheet sheet{name_of(stock, measure), stock.width, stock.length, stock.count};
    // A strip's length lies across the cloth.
    if (stock.piece == palette::StockPiece::Piece::strip) std::swap(sheet.width, sheet.length);
    return sheet;
}

class Reader {
public:
    explicit Reader(const Node& root) : root_(root) {}

    CutList read() {
        if (!root_.is_object()) root_.allow_only({});
        check_format(root_);
        complaints_.attempt(
            [&] { root_.allow_only({"format", "name", "measure", "fabric", "stages", "stock", "pieces"}); });
        complaints_.optional(root_, "name", [](const Node& node) { (void)node.text(); });
        complaints_.optional(root_, "measure", [&](const Node& node) {
            list_.measure =
                node.choice({"inch", "metric"}) == 0 ? measure::System::inch : measure::System::metric;
        });
        list_.step = usual_step(list_.measure);
        complaints_.required(root_, "fabric", [&](const Node& node) { read_fabric(node); });
        complaints_.optional(root_, "stages",
                             [&](const Node& node) { list_.stages = static_cast<int>(node.integer(2, 3)); });
        complaints_.optional(root_, "stock", [&](const Node& node) {
            for (const palette::StockPiece& stock : read_stock(node, list_.measure))
                list_.sheets.push_back(sheet_of(stock, list_.measure));
        });
        complaints_.required(root_, "pieces", [&](const Node& node) { read_pieces(node); });
        complaints_.raise();
        return std::move(list_);
    }

private:
    void read_fabric(const Node& fabric) {
        if (!fabric.is_object()) fabric.allow_only({});
        complaints_.attempt([&] { fabric.allow_only({"usable_width", "ends", "slack", "step"}); });
        complaints_.required(fabric, "usable_width", [&](const Node& node) {
            list_.usable_width = palette::read_length(node, list_.measure, Length{Length::per_inch}, widest);
        });
        const auto length = [&](const char* key, Length least, Length& into) {
            complaints_.optional(fabric, key, [&](const Node& node) {
                into = palette::read_length(node, list_.measure, least, Length{Length::per_inch * 360});
            });
        };
        length("ends", {}, list_.ends);
        length("slack", {}, list_.slack);
        length("step", smallest, list_.step);
    }

    void read_pieces(const Node& node) {
        const std::vector<Node> items = node.items();
        if (items.empty()) node.refuse("the list has no pieces", "name at least one piece to cut");
        if (items.size() > most_kinds)
            node.refuse(fmt::format("found {} kinds of pieces", items.size()),
                        fmt::format("give at most {}", most_kinds));
        std::int64_t count = 0;
        for (const Node& item : items) {
            if (complaints_.full()) return;
            complaints_.attempt([&] {
                list_.pieces.push_back(read_piece(item));
                count += list_.pieces.back().count;
            });
        }
        if (count > most_pieces)
            node.refuse(fmt::format("{} pieces are asked for in all", count),
                        fmt::format("give at most {} in one list", most_pieces));
    }

    CutListPiece read_piece(const Node& node) {
        node.allow_only({"name", "width", "height", "count", "turn"});
        CutListPiece piece;
        piece.name = fmt::format("piece {}", ++numbered_);
        if (const auto name = node.find("name")) {
            piece.name = name->text();
            if (piece.name.empty() || piece.name.size() > longest_name)
                name->refuse(fmt::format("found {}", in_quotes(piece.name)),
                             fmt::format("give a name of 1 to {} bytes", longest_name));
        }
        // The plan tells pieces apart by their names alone.
        if (!names_.insert(piece.name).second)
            node.find("name").value_or(node).refuse(
                fmt::format("another piece is named {} too", in_quotes(piece.name)),
                "give each piece a name of its own, or one count to equal pieces");
        piece.width = palette::read_length(node.at("width"), list_.measure, smallest, longest_side);
        piece.height = palette::read_length(node.at("height"), list_.measure, smallest, longest_side);
        if (const auto count = node.find("count"))
            piece.count = static_cast<int>(count->integer(1, most_pieces));
        if (const auto turn = node.find("turn")) piece.turn = turn->boolean();
        if (list_.usable_width.ticks > 0)
            if (const std::string trouble = trouble_with_piece(piece, list_); !trouble.empty())
                node.refuse(trouble, "make it smaller, or take wider cloth");
        return piece;
    }

    const Node& root_;
    CutList list_;
    std::set<std::string> names_;
    int numbered_ = 0; ///< Pieces looked at.
    layout::Complaints complaints_;
};

Json strips_json(const CutList& list, const std::vector<Strip>& strips) {
    const bool inch = list.measure == measure::System::inch;
    const auto number = [inch](Length length) {
        const std::int64_t unit = inch ? Length::per_inch : Length::per_millimetre * 10;
        return static_cast<double>(length.ticks) / static_cast<double>(unit);
    };
    Json all = Json::array();
    for (const Strip& strip : strips) {
        Json segments = Json::array();
        for (const Segment& segment : strip.segments) {
            Json pieces = Json::array();
            for (const LaidPiece& laid : segment.pieces)
                pieces.push_back({{"name", list.pieces[static_cast<std::size_t>(laid.piece)].name},
                                  {"width", number(laid.width)},
                                  {"height", number(laid.height)}});
            segments.push_back({{"width", number(segment.width)}, {"pieces", std::move(pieces)}});
        }
        all.push_back({{"height", number(strip.height)}, {"segments", std::move(segments)}});
    }
    return all;
}

} // namespace

CutList read_cut_list(const Node& root) {
    return Reader(root).read();
}

Json plan_json(const CutList& list, const CutPlan& plan) {
    const bool inch = list.measure == measure::System::inch;
    const auto in_measure = [inch](Length length) {
        const std::int64_t unit = inch ? Length::per_inch : Length::per_millimetre * 10;
        return static_cast<double>(length.ticks) / static_cast<double>(unit);
    };
    Json json{{"length", in_measure(plan.length)}, {"buy_yards", plan.buy.in_inches() / 36}};
    if (!inch) json["buy_metres"] = in_measure(plan.buy) / 100;
    json["bound"] = in_measure(plan.bound);
    json["proved"] = plan.proved;
    json["waste_share"] = plan.waste_share;
    if (!list.sheets.empty()) {
        json["sheets"] = Json::array();
        for (const SheetCuts& cuts : plan.sheets)
            json["sheets"].push_back({{"stock", cuts.sheet},
                                      {"name", list.sheets[static_cast<std::size_t>(cuts.sheet)].name},
                                      {"along", cuts.along},
                                      {"strips", strips_json(list, cuts.strips)}});
    }
    json["strips"] = strips_json(list, plan.strips);
    return json;
}

} // namespace motley::cutting
