#include "unit/stack.h"

#include <algorithm>

namespace motley::unit {

Stack right_of(const Stack& stack, const Line& line) {
    Stack kept{right_of(stack.bottom, line), {}, {}};
    for (const Flat& top : stack.tops) {
        Flat part = right_of(top, line);
        if (showing(part) > 0)
            kept.tops.push_back(std::move(part));
        else // A snippet of an allowance: no layer of its own.
            kept.bottom.scraps.insert(kept.bottom.scraps.end(), part.scraps.begin(), part.scraps.end());
    }
    for (const Stitches& stitches : stack.stitches) {
        const Flat only = right_of(Flat{{}, {stitches.at}}, line);
        if (!only.seams.empty()) kept.stitches.push_back({only.seams[0], stitches.seam});
    }
    return kept;
}

double showing(const Stack& stack) {
    double sum = showing(stack.bottom);
    for (const Flat& top : stack.tops) sum += showing(top);
    return sum;
}

double allowances(const Stack& stack) {
    double sum = allowances(stack.bottom);
    for (const Flat& top : stack.tops) sum += allowances(top);
    return sum;
}

Box box(const Stack& stack) {
    // All layers as one flat thing: a layer of which only an allowance is left does not count.
    Flat all = stack.bottom;
    for (const Flat& top : stack.tops)
        all.scraps.insert(all.scraps.end(), top.scraps.begin(), top.scraps.end());
    return box(all);
}

const Stitches* hinge(const Stack& stack) {
    constexpr double within = 1e-7;
    for (const Stitches& candidate : stack.stitches) {
        const bool holds =
            std::all_of(stack.stitches.begin(), stack.stitches.end(), [&](const Stitches& other) {
                return candidate.seam.side(other.at.from) <= within &&
                       candidate.seam.side(other.at.to) <= within;
            });
        if (holds) return &candidate;
    }
    return nullptr;
}

Flat opened(const Stack& stack, const Stitches& hinge, Press press) {
    std::vector<Flat> turned_back;
    for (const Flat& top : stack.tops) turned_back.push_back(moved(top, mirrored_in(hinge.at)));
    return opened(stack.bottom, turned_back, hinge.seam, press);
}

} // namespace motley::unit
