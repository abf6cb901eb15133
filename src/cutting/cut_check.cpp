#include "cutting/cut_check.h"

#include <fmt/format.h>

#include <algorithm>

#include "fault/fault.h"

namespace motley::cutting {

using measure::Length;

namespace {

std::string size_of(const CutListPiece& piece, measure::System measure) {
    const auto sides = measure::print_sides(piece.width, piece.height, measure);
    return fmt::format("{} x {}", sides[0], sides[1]);
}

bool fits(const CutListPiece& piece, const Sheet& sheet) {
    return (piece.width <= sheet.width && piece.height <= sheet.length) ||
           (piece.turn && piece.height <= sheet.width && piece.width <= sheet.length);
}

} // namespace

std::string trouble_with_piece(const CutListPiece& piece, const CutList& list) {
    if (piece.width.ticks <= 0 || piece.height.ticks <= 0) return "a piece has no size";
    const Length narrow = piece.turn ? std::min(piece.width, piece.height) : piece.width;
    if (narrow <= list.usable_width) return {};
    if (std::any_of(list.sheets.begin(), list.sheets.end(),
                    [&](const Sheet& sheet) { return fits(piece, sheet); }))
        return {};
    return fmt::format("a piece of {} is wider than the cloth, whose usable width is {}{}{}",
                       size_of(piece, list.measure), measure::print(list.usable_width, list.measure),
                       piece.turn ? ", even when turned" : " (it may not be turned)",
                       list.sheets.empty() ? "" : ", and fits none of the stock");
}

void check(const CutList& list) {
    std::vector<Problem> problems;
    if (list.stages != 2 && list.stages != 3)
        problems.push_back({"", fmt::format("found {} stages", list.stages), "give 2 or 3"});
    if (list.usable_width.ticks <= 0)
        problems.push_back({"", "the cloth has no usable width", "measure it between the selvages"});
    std::int64_t count = 0;
    for (const CutListPiece& piece : list.pieces) {
        const std::string trouble = trouble_with_piece(piece, list);
        if (!trouble.empty() && list.usable_width.ticks > 0)
            problems.push_back({piece.name, trouble, "make it smaller, or take wider cloth"});
        if (piece.count < 1)
            problems.push_back(
                {piece.name, fmt::format("found a count of {}", piece.count), "give at least 1"});
        count += piece.count;
    }
    if (count > most_pieces)
        problems.push_back({"", fmt::format("{} pieces are asked for in all", count),
                            fmt::format("give at most {}", most_pieces)});
    for (const Sheet& sheet : list.sheets)
        if (sheet.width.ticks <= 0 || sheet.length.ticks <= 0 || sheet.count < 1)
            problems.push_back(
                {sheet.name, "a piece of stock has no size or no count", "measure it, or leave it out"});
    if (!problems.empty()) throw Fault(Cause::input, std::move(problems));
}

} // namespace motley::cutting
