#pragma once
// Judges a cutting plan without a look at how it was made, and finds the best plan of a tiny list by trying
// everything.

#include <algorithm>
#include <array>
#include <cstdint>
#include <limits>
#include <map>
#include <string>
#include <utility>
#include <vector>

#include "cutting/cut_plan.h"

namespace motley::oracle {

/// A list in few words, for messages.
inline std::string told(const cutting::CutList& list) {
    std::string text =
        std::to_string(list.usable_width.in_inches()) + " wide, " + std::to_string(list.stages) + " stages";
    for (const cutting::CutListPiece& piece : list.pieces)
        text += ", " + std::to_string(piece.count) + " of " + std::to_string(piece.width.in_inches()) +
                " x " + std::to_string(piece.height.in_inches()) + (piece.turn ? "" : " fixed");
    for (const cutting::Sheet& sheet : list.sheets)
        text += "; " + std::to_string(sheet.count) + " sheets " + std::to_string(sheet.width.in_inches()) +
                " x " + std::to_string(sheet.length.in_inches());
    return text;
}

/// A rectangle on the cloth, x across it or along it as the strips run.
struct PlacedPiece {
    std::int64_t x, y, width, height;
};

/// Lays strips of one cloth out and says what is wrong with them, or nothing. Counts each piece it meets.
inline std::string trouble_with_strips(const cutting::CutList& list,
                                       const std::vector<cutting::Strip>& strips, std::int64_t across,
                                       std::int64_t most_high, bool along, std::vector<std::int64_t>& met) {
    std::vector<PlacedPiece> placed;
    std::int64_t y = 0;
    for (std::size_t s = 0; s < strips.size(); ++s) {
        const cutting::Strip& strip = strips[s];
        if (strip.segments.empty()) return "an empty strip";
        if (s > 0 && strip.height > strips[s - 1].height) return "a strip is taller than the one before it";
        std::int64_t x = 0, tallest = 0;
        for (std::size_t g = 0; g < strip.segments.size(); ++g) {
            const cutting::Segment& segment = strip.segments[g];
            if (segment.pieces.empty()) return "an empty segment";
            if (list.stages == 2 && segment.pieces.size() > 1) return "a stack in two stages";
            if (g > 0 && segment.width > strip.segments[g - 1].width) return "a longer segment comes later";
            std::int64_t up = 0;
            for (const cutting::LaidPiece& laid : segment.pieces) {
                if (laid.piece < 0 || static_cast<std::size_t>(laid.piece) >= list.pieces.size())
                    return "a piece that is not in the list";
                const cutting::CutListPiece& piece = list.pieces[static_cast<std::size_t>(laid.piece)];
                // On the cloth: `width` across, `height` along it.
                const std::int64_t on_width = along ? laid.height.ticks : laid.width.ticks;
                const std::int64_t on_height = along ? laid.width.ticks : laid.height.ticks;
                const bool straight = on_width == piece.width.ticks && on_height == piece.height.ticks;
                const bool turned = on_width == piece.height.ticks && on_height == piece.width.ticks;
                if (!straight && !turned) return "a piece of another size";
                if (!straight && !piece.turn) return "a piece is turned that may not be";
                if (laid.turned == straight)
                    return "a piece says it is turned and is not, or the other way round";
                if (laid.width > segment.width) return "a piece is wider than its segment";
                placed.push_back({x, y + up, laid.width.ticks, laid.height.ticks});
                up += laid.height.ticks;
                ++met[static_cast<std::size_t>(laid.piece)];
            }
            tallest = std::max(tallest, up);
            x += segment.width.ticks;
        }
        if (tallest > strip.height.ticks) return "a stack is taller than its strip";
        if (x > across) return "a strip is longer than the cloth is wide";
        y += strip.height.ticks;
    }
    if (y > most_high) return "the strips are higher than the cloth is long";
    for (std::size_t a = 0; a < placed.size() && placed.size() < 400; ++a)
        for (std::size_t b = a + 1; b < placed.size(); ++b)
            if (placed[a].x < placed[b].x + placed[b].width && placed[b].x < placed[a].x + placed[a].width &&
                placed[a].y < placed[b].y + placed[b].height && placed[b].y < placed[a].y + placed[a].height)
                return "two pieces lie on each other";
    return {};
}

/// What is wrong with a plan, or nothing.
inline std::string trouble(const cutting::CutList& list, const cutting::CutPlan& plan) {
    std::vector<std::int64_t> met(list.pieces.size());
    std::vector<int> used(list.sheets.size());
    constexpr std::int64_t endless = std::numeric_limits<std::int64_t>::max();
    for (std::size_t i = 0; i < plan.sheets.size(); ++i) {
        const cutting::SheetCuts& cuts = plan.sheets[i];
        if (i > 0 && cuts.sheet < plan.sheets[i - 1].sheet) return "sheets out of order";
        const cutting::Sheet& sheet = list.sheets.at(static_cast<std::size_t>(cuts.sheet));
        if (++used[static_cast<std::size_t>(cuts.sheet)] > sheet.count) return "more sheets than there are";
        if (cuts.strips.empty()) return "a sheet without strips";
        const std::int64_t across = cuts.along ? sheet.length.ticks : sheet.width.ticks;
        const std::int64_t high = cuts.along ? sheet.width.ticks : sheet.length.ticks;
        const std::string wrong = trouble_with_strips(list, cuts.strips, across, high, cuts.along, met);
        if (!wrong.empty()) return "sheet: " + wrong;
    }
    const std::string wrong =
        trouble_with_strips(list, plan.strips, list.usable_width.ticks, endless, false, met);
    if (!wrong.empty()) return wrong;
    for (std::size_t p = 0; p < met.size(); ++p)
        if (met[p] != list.pieces[p].count)
            return "piece " + std::to_string(p) + " is there " + std::to_string(met[p]) + " times";
    measure::Length sum;
    for (const cutting::Strip& strip : plan.strips) sum = sum + strip.height;
    if (!plan.strips.empty()) sum = sum + list.ends;
    if (sum != plan.length) return "the length is not the sum of the strips";
    const measure::Length step = list.step.ticks > 0
                                     ? list.step
                                     : (list.measure == measure::System::inch ? measure::Length{8128 * 9 / 2}
                                                                              : measure::Length{32000});
    const auto bought = [&](measure::Length length) {
        if (length.ticks == 0) return std::int64_t{0};
        return (length.ticks + list.slack.ticks + step.ticks - 1) / step.ticks * step.ticks;
    };
    if (plan.buy.ticks != bought(plan.length)) return "what is bought is not the length in steps";
    if (plan.bound > plan.length) return "the bound is above the length";
    if (plan.proved != (bought(plan.bound) == plan.buy.ticks)) return "proved does not follow from the bound";
    if (plan.waste_share < 0 || plan.waste_share > 1) return "a waste that is no share";
    return {};
}

/// The shortest plan of a tiny list (at most 9 pieces in all), every way tried. Ticks, without ends.
class ShortestPlan {
public:
    explicit ShortestPlan(const cutting::CutList& list) : list_(list) {
        for (const cutting::CutListPiece& piece : list.pieces)
            for (int i = 0; i < piece.count; ++i) pieces_.push_back(piece);
    }

    /// Yardage only, or with the list's sheets used as well as can be.
    std::int64_t ticks() {
        const unsigned all = (1U << pieces_.size()) - 1;
        const std::vector<std::int64_t> yardage = shortest(list_.usable_width.ticks, false);
        std::vector<char> can_be_left(all + 1, 0); // What may remain for the yardage.
        can_be_left[all] = 1;
        for (const cutting::Sheet& sheet : list_.sheets) {
            const std::vector<std::int64_t> across = shortest(sheet.width.ticks, false);
            const std::vector<std::int64_t> along = shortest(sheet.length.ticks, true);
            for (int copy = 0; copy < sheet.count; ++copy) {
                std::vector<char> next = can_be_left;
                for (unsigned left = 1; left <= all; ++left) {
                    if (!can_be_left[left]) continue;
                    for (unsigned part = left; part > 0; part = (part - 1) & left)
                        if (across[part] <= sheet.length.ticks || along[part] <= sheet.width.ticks)
                            next[left & ~part] = 1;
                }
                can_be_left = std::move(next);
            }
        }
        std::int64_t best = never;
        for (unsigned left = 0; left <= all; ++left)
            if (can_be_left[left]) best = std::min(best, yardage[left]);
        return best;
    }

private:
    static constexpr std::int64_t never = std::numeric_limits<std::int64_t>::max() / 4;
    using Box = std::array<std::int64_t, 2>; ///< Width, height.

    /// Of each set of pieces the least height in strips of this length.
    std::vector<std::int64_t> shortest(std::int64_t across, bool along) const {
        const unsigned sets = 1U << pieces_.size();
        std::vector<std::vector<Box>> columns(sets), rows(sets);
        std::vector<std::int64_t> strip(sets, never), total(sets, never);
        total[0] = 0;
        rows[0] = {{0, 0}};
        for (unsigned set = 1; set < sets; ++set) columns[set] = boxes_of_column(set, along);
        for (unsigned set = 1; set < sets; ++set) {
            const unsigned low = set & (~set + 1);
            for (unsigned part = set; part > 0; part = (part - 1) & set) {
                if (!(part & low)) continue;
                for (const Box& column : columns[part])
                    for (const Box& rest : rows[set & ~part])
                        if (column[0] + rest[0] <= across)
                            keep(rows[set], {column[0] + rest[0], std::max(column[1], rest[1])});
            }
            for (const Box& row : rows[set]) strip[set] = std::min(strip[set], row[1]);
        }
        for (unsigned set = 1; set < sets; ++set) {
            const unsigned low = set & (~set + 1);
            for (unsigned part = set; part > 0; part = (part - 1) & set)
                if (part & low) total[set] = std::min(total[set], strip[part] + total[set & ~part]);
        }
        return total;
    }

    std::vector<Box> boxes_of_column(unsigned set, bool along) const {
        std::vector<Box> boxes{{0, 0}};
        int count = 0;
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            if (!(set >> p & 1U)) continue;
            ++count;
            std::vector<Box> next;
            for (const Box& box : boxes)
                for (const bool turned : {false, true}) {
                    if (turned && !pieces_[p].turn) continue;
                    std::int64_t width = pieces_[p].width.ticks, height = pieces_[p].height.ticks;
                    if (turned != along) std::swap(width, height);
                    keep(next, {std::max(box[0], width), box[1] + height});
                }
            boxes = std::move(next);
        }
        if (list_.stages == 2 && count > 1) return {};
        return boxes;
    }

    static void keep(std::vector<Box>& boxes, const Box& box) {
        for (const Box& other : boxes)
            if (other[0] <= box[0] && other[1] <= box[1]) return;
        std::erase_if(boxes, [&](const Box& other) { return box[0] <= other[0] && box[1] <= other[1]; });
        boxes.push_back(box);
    }

    const cutting::CutList& list_;
    std::vector<cutting::CutListPiece> pieces_;
};

} // namespace motley::oracle
