#include "swatch/dyes.h"

#include <algorithm>
#include <cstddef>
#include <limits>
#include <optional>

#include "colour/difference.h"
#include "swatch/mixture.h"
#include "swatch/search.h"

namespace motley::swatch {
namespace {

constexpr std::size_t most_found = 10; // Looked for; the least of them are given up again.
constexpr std::size_t most_dyes = 6;
constexpr double least_share = 0.0075;
constexpr double least_difference = 4.0;    // CIEDE2000.
constexpr float core = 0.04F;               // OKLab distance within which a cell is the dye itself.
constexpr float inside_of_its_own = 0.004F; // Share of the cloth.
constexpr float mixed = 0.06F;
constexpr float flat_says_more = 8.0F;

struct Nearest {
    std::size_t dye = 0;
    float distance = 0;
};

Nearest nearest(const std::vector<Tone>& dyes, const Tone& tone) {
    Nearest best{0, std::numeric_limits<float>::infinity()};
    for (std::size_t d = 0; d < dyes.size(); ++d)
        if (const float far = distance(dyes[d], tone); far < best.distance) best = {d, far};
    return best;
}

// Each dye moves to the linear-light mean of the cells that are it.
void settle(std::vector<Tone>& dyes, const Tally& tally) {
    struct Sum {
        colour::LinearRgb light;
        double weight = 0;
    };
    std::vector<Sum> sums(dyes.size());
    for (const Cell& cell : tally.cells) {
        const Nearest near = nearest(dyes, cell.tone);
        if (near.distance > core) continue;
        const double weight = double{flat_says_more * cell.flat + cell.edge};
        const colour::LinearRgb light = light_of(cell.tone);
        Sum& sum = sums[near.dye];
        sum.light.r += weight * light.r;
        sum.light.g += weight * light.g;
        sum.light.b += weight * light.b;
        sum.weight += weight;
    }
    for (std::size_t d = 0; d < dyes.size(); ++d)
        if (const Sum& sum = sums[d]; sum.weight > 0)
            dyes[d] = tone_of({sum.light.r / sum.weight, sum.light.g / sum.weight, sum.light.b / sum.weight});
}

// A mixture of two dyes by their places in the list.
struct Blend {
    std::size_t one, other;
    Mixture mixture;
};

std::vector<Blend> blends(const std::vector<Tone>& dyes) {
    std::vector<Blend> blends;
    for (std::size_t one = 0; one < dyes.size(); ++one)
        for (std::size_t other = one + 1; other < dyes.size(); ++other)
            blends.push_back({one, other, Mixture(dyes[one], dyes[other])});
    return blends;
}

std::vector<double> shares(const std::vector<Tone>& dyes, const Tally& tally) {
    const std::vector<Blend> all = blends(dyes);
    std::vector<double> pixels(dyes.size(), 0.0);
    for (const Cell& cell : tally.cells) {
        const Nearest near = nearest(dyes, cell.tone);
        pixels[near.dye] += double{cell.flat};
        if (cell.edge == 0) continue;
        const Blend* best = nullptr;
        Mixture::Fit fit{near.distance, 0};
        for (const Blend& blend : all) {
            if (fit.distance < core / 2) break;
            const Mixture::Fit next = blend.mixture.fit(cell.tone);
            if (next.distance >= fit.distance) continue;
            fit = next;
            best = &blend;
        }
        if (best == nullptr) {
            pixels[near.dye] += double{cell.edge};
        } else {
            pixels[best->one] += double{cell.edge} * (1.0 - double{fit.share});
            pixels[best->other] += double{cell.edge} * double{fit.share};
        }
    }
    for (double& share : pixels) share /= double{tally.pixels};
    return pixels;
}

// Has the dye so little inside that it may be the edge between two others?
bool is_ghost(const std::vector<Tone>& dyes, std::size_t suspect, const Tally& tally) {
    float inside = 0;
    for (const Cell& cell : tally.cells)
        if (const Nearest near = nearest(dyes, cell.tone); near.dye == suspect && near.distance < core)
            inside += cell.flat;
    if (inside >= inside_of_its_own * tally.pixels) return false;
    std::vector<Tone> others = dyes;
    others.erase(others.begin() + static_cast<std::ptrdiff_t>(suspect));
    for (const Blend& blend : blends(others))
        if (blend.mixture.fit(dyes[suspect]).distance < mixed) return true;
    return false;
}

void drop_ghosts(std::vector<Tone>& dyes, const Tally& tally) {
    for (std::size_t d = dyes.size(); d-- > 0;)
        if (is_ghost(dyes, d, tally)) dyes.erase(dyes.begin() + static_cast<std::ptrdiff_t>(d));
}

struct Close {
    std::size_t one = 0, other = 0;
    double difference = std::numeric_limits<double>::infinity();
};

Close closest(const std::vector<Tone>& dyes) {
    Close best;
    for (std::size_t one = 0; one < dyes.size(); ++one)
        for (std::size_t other = one + 1; other < dyes.size(); ++other) {
            const double difference =
                colour::ciede2000(colour::lab(light_of(dyes[one])), colour::lab(light_of(dyes[other])));
            if (difference < best.difference) best = {one, other, difference};
        }
    return best;
}

// The dye that will be missed least: its share times the squared distance to the dye that would take its
// place.
std::size_t least_missed(const std::vector<Tone>& dyes, const std::vector<double>& share) {
    std::size_t least = 0;
    double least_loss = std::numeric_limits<double>::infinity();
    for (std::size_t d = 0; d < dyes.size(); ++d) {
        double loss = std::numeric_limits<double>::infinity();
        for (std::size_t other = 0; other < dyes.size(); ++other)
            if (other != d)
                loss = std::min(loss, share[d] * double{dot(dyes[d] - dyes[other], dyes[d] - dyes[other])});
        if (loss < least_loss) {
            least_loss = loss;
            least = d;
        }
    }
    return least;
}

// One dye out of two, at their linear-light mean; the second is erased.
void merge(std::vector<Tone>& dyes, const std::vector<double>& share, const Close& pair) {
    const colour::LinearRgb one = light_of(dyes[pair.one]), other = light_of(dyes[pair.other]);
    const double all = share[pair.one] + share[pair.other];
    const double part = all > 0 ? share[pair.other] / all : 0.5;
    dyes[pair.one] = tone_of({one.r + part * (other.r - one.r), one.g + part * (other.g - one.g),
                              one.b + part * (other.b - one.b)});
    dyes.erase(dyes.begin() + static_cast<std::ptrdiff_t>(pair.other));
}

// Gives up one dye too many, too small or too like another. Says whether there was one.
bool thin_out(std::vector<Tone>& dyes, const std::vector<double>& share) {
    if (dyes.size() < 2) return false;
    if (const Close pair = closest(dyes); pair.difference < least_difference) {
        merge(dyes, share, pair);
        return true;
    }
    const auto smallest = std::min_element(share.begin(), share.end());
    if (*smallest < least_share) {
        dyes.erase(dyes.begin() + (smallest - share.begin()));
        return true;
    }
    if (dyes.size() <= most_dyes) return false;
    dyes.erase(dyes.begin() + static_cast<std::ptrdiff_t>(least_missed(dyes, share)));
    return true;
}

} // namespace

std::vector<Dye> find_dyes(const Tally& tally) {
    Search search(tally);
    while (search.found().size() < most_found) {
        const std::optional<Tone> tone = search.next();
        if (!tone) break;
        search.add(*tone);
    }
    std::vector<Tone> tones = search.found();
    if (tones.empty()) return {};
    settle(tones, tally);
    drop_ghosts(tones, tally);
    std::vector<double> share = shares(tones, tally);
    while (thin_out(tones, share)) share = shares(tones, tally);
    settle(tones, tally);
    std::vector<Dye> dyes;
    for (std::size_t d = 0; d < tones.size(); ++d) dyes.push_back({tones[d], share[d]});
    std::stable_sort(dyes.begin(), dyes.end(),
                     [](const Dye& one, const Dye& other) { return one.share > other.share; });
    return dyes;
}

} // namespace motley::swatch
