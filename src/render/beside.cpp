#include "render/beside.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <utility>

#include "fault/fault.h"
#include "render/join.h"

namespace motley::render {

namespace {

/// Rows of the next copy that lie beside the one before it.
struct Rows {
    int from = 0, to = 0;
};
Rows common(int height, Step step) {
    return {std::max(0, -step.y), std::min(height, height - step.y)};
}

} // namespace

Beside::Beside(std::vector<Codes> levels, Dyes dyes, double contrast)
    : levels_(std::move(levels)), contrast_(contrast), all_(most_dyes) {
    for (const Codes& level : levels_) outlines_.push_back(outlines(level));
    const std::size_t row = static_cast<std::size_t>(dyes.width) + 1;
    before_.resize(row * static_cast<std::size_t>(dyes.height) * most_dyes);
    std::size_t at = 0;
    for (int dye = 0; dye < most_dyes; ++dye)
        for (std::size_t y = 0; y < static_cast<std::size_t>(dyes.height); ++y, ++at) {
            for (std::size_t x = 0; x < static_cast<std::size_t>(dyes.width); ++x, ++at)
                before_[at + 1] =
                    before_[at] + (dyes.at[y * static_cast<std::size_t>(dyes.width) + x] == dye ? 1 : 0);
            all_[static_cast<std::size_t>(dye)] += before_[at];
        }
}

Line Beside::line(int level, int x, int y) const {
    const Codes& codes = levels_[static_cast<std::size_t>(level)];
    return {codes.at(x, y), &outlines_[static_cast<std::size_t>(level)]
                                      [static_cast<std::size_t>(y) * static_cast<std::size_t>(codes.width) +
                                       static_cast<std::size_t>(x)]};
}

double Beside::overlap(int level, Step step) const {
    const Codes& codes = levels_[static_cast<std::size_t>(level)];
    const auto [from, to] = common(codes.height, step);
    const auto count = static_cast<std::size_t>(codes.width - step.x) * 3;
    std::int64_t sum = 0;
    for (int y = from; y < to; ++y)
        sum += difference({codes.at(0, y), count}, {codes.at(step.x, y + step.y), count});
    const double places = static_cast<double>(codes.width - step.x) * (to - from);
    return std::min(1.0, static_cast<double>(sum) / (places * contrast_));
}

std::vector<int> Beside::cut(int level, Step step, double* cost) const {
    const Codes& codes = levels_[static_cast<std::size_t>(level)];
    const auto [from, to] = common(codes.height, step);
    Overlap overlap{codes.width - step.x, to - from, {}};
    overlap.cost.reserve(static_cast<std::size_t>(overlap.across) * static_cast<std::size_t>(overlap.along));
    for (int y = from; y < to; ++y)
        compare(line(level, step.x, y + step.y), line(level, 0, y), overlap.across, overlap.cost);
    lean_to_middle(overlap);
    Join join = least_cut(overlap);
    *cost = join.cost / (to - from);
    return std::move(join.at);
}

double Beside::join(int level, Step step) const {
    double cost = 0;
    cut(level, step, &cost);
    return std::min(1.0, std::sqrt(cost / contrast_));
}

double Beside::drift(Step step, const std::vector<int>& cut) const {
    const Codes& codes = levels_.back();
    const auto [from, to] = common(codes.height, step);
    const std::size_t row = static_cast<std::size_t>(codes.width) + 1;
    std::array<double, most_dyes> shown{};
    double sum = 0;
    for (std::size_t dye = 0; dye < most_dyes; ++dye) {
        const int* before = &before_[dye * row * static_cast<std::size_t>(codes.height)];
        int hidden = 0;
        for (int y = from; y < to; ++y) {
            const int at = cut[static_cast<std::size_t>(y - from)];
            const int* next = before + static_cast<std::size_t>(y) * row;
            const int* last = before + static_cast<std::size_t>(y + step.y) * row;
            hidden += next[at] + last[codes.width] - last[step.x + at];
        }
        shown[dye] = std::max(0.0, all_[dye] - static_cast<double>(hidden) * codes.height / (to - from));
        sum += shown[dye];
    }
    double wrong = 0;
    const double places = static_cast<double>(codes.width) * codes.height;
    for (std::size_t dye = 0; dye < most_dyes; ++dye)
        wrong += std::abs(shown[dye] / sum - all_[dye] / places) / 2;
    return wrong;
}

Fit Beside::fit(Step step) const {
    double cost = 0;
    const std::vector<int> at = cut(top(), step, &cost);
    return {std::min(1.0, std::sqrt(cost / contrast_)), overlap(top(), step), drift(step, at)};
}

} // namespace motley::render
