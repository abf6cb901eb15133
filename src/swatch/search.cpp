#include "swatch/search.h"

#include <algorithm>
#include <cmath>
#include <limits>

namespace motley::swatch {
namespace {

constexpr float explained = 0.05F;       // Nearer than this a dye or a mixture accounts for a colour.
constexpr float surely_apart = 0.13F;    // Beyond this no weave reaches, and no valley is asked for.
constexpr float least_support = 0.0010F; // Of the cloth, within one cell and those around it.
constexpr float valley = 0.7F;
constexpr float aside = 0.03F; // How far from the line between two colours a cell may be and still lie on it.
constexpr float flat_says_more = 8.0F; // An inside tells a colour better than an edge.

} // namespace

Search::Search(const Tally& tally)
    : tally_(&tally),
      to_dye_(tally.cells.size(), std::numeric_limits<float>::infinity()),
      to_any_(tally.cells.size(), std::numeric_limits<float>::infinity()),
      rejected_(tally.cells.size(), 0) {}

Tone Search::most_common() const {
    std::size_t best = 0;
    float most = -1;
    for (std::size_t c = 0; c < tally_->cells.size(); ++c) {
        const Cell& cell = tally_->cells[c];
        float weight = cell.flat + 0.1F * cell.edge;
        for (const int n : cell.near)
            if (n >= 0)
                weight += tally_->cells[static_cast<std::size_t>(n)].flat +
                          0.1F * tally_->cells[static_cast<std::size_t>(n)].edge;
        if (weight <= most) continue;
        most = weight;
        best = c;
    }
    return centre(best);
}

Search::Left Search::left(std::size_t c) const {
    Left left;
    const Cell& cell = tally_->cells[c];
    if (to_dye_[c] >= explained) {
        left.flat = cell.flat;
        left.worth += cell.flat * to_dye_[c] * to_dye_[c];
    }
    if (to_any_[c] >= explained) {
        left.edge = cell.edge;
        left.worth += cell.edge * to_any_[c] * to_any_[c] * to_any_[c] * 4.0F;
    }
    return left;
}

Tone Search::centre(std::size_t c) const {
    Tone sum;
    float weight = 0;
    const auto take = [&](std::size_t n) {
        const Cell& cell = tally_->cells[n];
        const float flat = to_dye_[n] >= explained ? cell.flat : 0.0F;
        const float edge = to_any_[n] >= explained ? cell.edge : 0.0F;
        sum = sum + cell.tone * (flat_says_more * flat + edge);
        weight += flat_says_more * flat + edge;
    };
    take(c);
    for (const int n : tally_->cells[c].near)
        if (n >= 0) take(static_cast<std::size_t>(n));
    return weight > 0 ? sum * (1.0F / weight) : tally_->cells[c].tone;
}

// Are there fewer pixels between the two than at either? The cells along the line, in steps of about one
// cell, say.
bool Search::parted(const Tone& one, const Tone& other) const {
    const Tone along = other - one;
    const float length = dot(along, along);
    const int steps = std::max(4, static_cast<int>(std::lround(std::sqrt(length) / cell_side)));
    const int margin = std::max(1, steps / 4);
    std::vector<float> profile(static_cast<std::size_t>(steps + 2 * margin + 2), 0.0F);
    for (const Cell& cell : tally_->cells) {
        const Tone out = cell.tone - one;
        const float where = dot(out, along) / length;
        const Tone rest = out - along * where;
        const float place = where * static_cast<float>(steps) + static_cast<float>(margin);
        if (dot(rest, rest) > aside * aside || place < 0 || place >= static_cast<float>(steps + 2 * margin))
            continue;
        const auto below = static_cast<std::size_t>(place);
        const float part = place - static_cast<float>(below);
        profile[below] += cell.pixels() * (1.0F - part);
        profile[below + 1] += cell.pixels() * part;
    }
    const auto begin = profile.begin();
    const auto first = std::max_element(begin, begin + 2 * margin + 1);
    const auto last = std::max_element(begin + steps, begin + steps + 2 * margin + 1);
    if (first >= last) return false;
    return *std::min_element(first, last) < valley * std::min(*first, *last);
}

void Search::reject(std::size_t c) {
    rejected_[c] = 1;
    for (const int n : tally_->cells[c].near)
        if (n >= 0) rejected_[static_cast<std::size_t>(n)] = 1;
}

std::optional<Tone> Search::next() {
    if (tally_->cells.empty()) return std::nullopt;
    if (found_.empty()) return most_common();
    std::vector<Left> own;
    own.reserve(tally_->cells.size());
    for (std::size_t c = 0; c < tally_->cells.size(); ++c) own.push_back(left(c));
    std::vector<std::pair<float, std::size_t>> candidates; // Negative worth, so that the best sorts first.
    for (std::size_t c = 0; c < tally_->cells.size(); ++c) {
        if (rejected_[c] != 0) continue;
        Left sum = own[c];
        for (const int n : tally_->cells[c].near)
            if (n >= 0) {
                const Left& other = own[static_cast<std::size_t>(n)];
                sum.flat += other.flat;
                sum.edge += other.edge;
                sum.worth += other.worth;
            }
        if (sum.flat + sum.edge >= least_support * tally_->pixels) candidates.emplace_back(-sum.worth, c);
    }
    std::sort(candidates.begin(), candidates.end());
    for (const auto& [worth, c] : candidates) {
        if (rejected_[c] != 0) continue;
        const Tone tone = centre(c);
        const auto nearest = std::min_element(
            found_.begin(), found_.end(),
            [&](const Tone& one, const Tone& other) { return distance(one, tone) < distance(other, tone); });
        const float apart = distance(*nearest, tone);
        if (apart >= surely_apart || (apart >= explained && parted(*nearest, tone))) return tone;
        reject(c);
    }
    return std::nullopt;
}

void Search::add(const Tone& tone) {
    std::vector<Mixture> mixtures;
    for (const Tone& other : found_) mixtures.emplace_back(other, tone);
    found_.push_back(tone);
    for (std::size_t c = 0; c < tally_->cells.size(); ++c) {
        const Cell& cell = tally_->cells[c];
        to_dye_[c] = std::min(to_dye_[c], distance(cell.tone, tone));
        to_any_[c] = std::min(to_any_[c], to_dye_[c]);
        for (const Mixture& mixture : mixtures) {
            if (to_any_[c] < explained || cell.edge == 0) break;
            to_any_[c] = std::min(to_any_[c], mixture.fit(cell.tone).distance);
        }
    }
}

} // namespace motley::swatch
