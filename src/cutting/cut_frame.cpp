#include "cutting/cut_frame.h"

#include <algorithm>
#include <array>
#include <numeric>
#include <tuple>

namespace motley::cutting {

namespace {

using measure::Length;

/// Beyond so many units a coarser one is taken.
constexpr std::int64_t most_wide = 2700; // 1/64 in on cloth of 42 in
constexpr std::int64_t most_high = 3000;
/// Lists of more kinds than this have coarser units in proportion, down to a quarter.
constexpr std::int64_t many_kinds = 30;
/// What a look at every strip may cost: widths times units of width times units of height.
constexpr std::int64_t most_cells = 12'000'000;

/// The coarsest unit that keeps all sizes whole, or else the one that keeps most of them, none finer than
/// `least`.
std::int64_t unit_for(const std::vector<std::int64_t>& sizes, std::int64_t least) {
    std::int64_t exact = 0;
    for (const std::int64_t size : sizes) exact = std::gcd(exact, size);
    if (exact >= std::max<std::int64_t>(least, 1)) return exact;
    // 1/64 in, 1 mm and their multiples that rulers show.
    constexpr std::array<std::int64_t, 9> rulers{127, 254, 320, 508, 640, 1016, 1600, 2032, 4064};
    std::int64_t best = 0;
    std::ptrdiff_t most = -1;
    for (const std::int64_t unit : rulers) {
        if (unit < least) continue;
        const auto kept =
            std::count_if(sizes.begin(), sizes.end(), [unit](std::int64_t size) { return size % unit == 0; });
        if (kept > most) {
            most = kept;
            best = unit;
        }
    }
    return best > 0 ? best : std::max<std::int64_t>(least, 1);
}

int in_units(std::int64_t ticks, std::int64_t unit, Rounding rounding) {
    const std::int64_t whole = rounding == Rounding::up ? (ticks + unit - 1) / unit : ticks / unit;
    return static_cast<int>(whole);
}

/// Every way to lie that fits, in ticks.
std::vector<Lie> ways_to_lie(const std::vector<Kind>& kinds, const Cloth& cloth) {
    std::vector<Lie> lies;
    const auto add = [&](std::size_t kind, std::int64_t width, std::int64_t height) {
        if (width <= cloth.across && height <= cloth.most_high)
            lies.push_back({static_cast<int>(kind), 0, 0, width, height});
    };
    for (std::size_t k = 0; k < kinds.size(); ++k) {
        const Kind& kind = kinds[k];
        if (!cloth.along || kind.turn) add(k, kind.width, kind.height);
        if (cloth.along || kind.turn) add(k, kind.height, kind.width);
    }
    return lies;
}

} // namespace

std::vector<Kind> kinds_of(const std::vector<CutListPiece>& pieces) {
    std::vector<Kind> kinds;
    for (std::size_t p = 0; p < pieces.size(); ++p) {
        std::int64_t width = pieces[p].width.ticks;
        std::int64_t height = pieces[p].height.ticks;
        const bool turn = pieces[p].turn && width != height;
        if (turn && width < height) std::swap(width, height);
        const auto same = std::find_if(kinds.begin(), kinds.end(), [&](const Kind& kind) {
            return kind.width == width && kind.height == height && kind.turn == turn;
        });
        Kind& kind = same != kinds.end() ? *same : kinds.emplace_back(Kind{width, height, turn, 0, {}});
        kind.count += pieces[p].count;
        kind.pieces.push_back(static_cast<int>(p));
    }
    return kinds;
}

Frame make_frame(const std::vector<Kind>& kinds, const Cloth& cloth, int stages, Rounding rounding) {
    Frame frame;
    frame.stacks = stages == 3;
    frame.ticks_wide = cloth.across;
    frame.ticks_high = cloth.most_high;
    frame.lies = ways_to_lie(kinds, cloth);
    if (frame.lies.empty()) return frame;
    std::vector<std::int64_t> wide, high;
    for (const Lie& lie : frame.lies) {
        wide.push_back(lie.ticks_wide);
        high.push_back(lie.ticks_high);
    }
    const std::int64_t crowd =
        std::clamp<std::int64_t>(static_cast<std::int64_t>(kinds.size()) / many_kinds, 1, 4);
    std::int64_t coarse = 1;
    for (;; coarse *= 2) {
        frame.unit_wide =
            unit_for(wide, std::max(cloth.across * crowd / most_wide, coarse > 1 ? 127 * coarse : 1));
        frame.unit_high =
            unit_for(high, std::max(cloth.most_high * crowd / most_high, coarse > 1 ? 127 * coarse : 1));
        const std::int64_t cells = cloth.across / frame.unit_wide * (cloth.most_high / frame.unit_high);
        std::sort(wide.begin(), wide.end());
        const auto different = std::unique(wide.begin(), wide.end()) - wide.begin();
        wide.resize(static_cast<std::size_t>(different));
        // Of wide lists only the few widths that pay at a height are looked at.
        if (cells * std::min<std::int64_t>(different, 12) <= most_cells || coarse > (1 << 20)) break;
    }
    frame.width = static_cast<int>(cloth.across / frame.unit_wide);
    frame.height = static_cast<int>(cloth.most_high / frame.unit_high);
    std::vector<char> too_small(kinds.size());
    for (Lie& lie : frame.lies) {
        // What fits in ticks fits alone, however the cloth was rounded.
        lie.width = std::min(in_units(lie.ticks_wide, frame.unit_wide, rounding), frame.width);
        lie.height = std::min(in_units(lie.ticks_high, frame.unit_high, rounding), frame.height);
        frame.exact =
            frame.exact && lie.ticks_wide % frame.unit_wide == 0 && lie.ticks_high % frame.unit_high == 0;
        if (lie.width == 0 || lie.height == 0) too_small[static_cast<std::size_t>(lie.kind)] = 1;
    }
    std::erase_if(frame.lies,
                  [&](const Lie& lie) { return too_small[static_cast<std::size_t>(lie.kind)] != 0; });
    std::sort(frame.lies.begin(), frame.lies.end(), [](const Lie& a, const Lie& b) {
        return std::tie(a.width, a.height, a.kind) < std::tie(b.width, b.height, b.kind);
    });
    for (std::size_t i = 0; i < frame.lies.size(); ++i) {
        if (frame.widths.empty() || frame.widths.back() != frame.lies[i].width) {
            frame.widths.push_back(frame.lies[i].width);
            frame.ends.push_back(0);
        }
        frame.ends.back() = static_cast<int>(i + 1);
    }
    return frame;
}

} // namespace motley::cutting
