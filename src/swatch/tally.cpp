#include "swatch/tally.h"

#include <algorithm>
#include <cmath>
#include <cstddef>

namespace motley::swatch {
namespace {

struct Count {
    float l = 0, a = 0, b = 0;
    std::int32_t flat = 0, all = 0;
};

// A grid over the colour space that keeps only the blocks of 4 x 4 x 4 cells in which anything is: prints use
// little of the space, and what they use then stays in the processor's cache.
class Grid {
public:
    Grid() : blocks_(static_cast<std::size_t>(across_l * across_ab * across_ab), -1) {}

    struct Place {
        int l, a, b;
    };
    // Far outside what a camera can record the cells at the end take what is left.
    static Place place(float l, float a, float b) {
        return {index(l - low_l, 4 * across_l), index(a - low_ab, 4 * across_ab),
                index(b - low_ab, 4 * across_ab)};
    }
    Count& at(Place p) {
        int& block = blocks_[block_of(p)];
        if (block < 0) {
            block = static_cast<int>(counts_.size() / 64);
            counts_.resize(counts_.size() + 64);
        }
        return counts_[inside(block, p)];
    }
    // The number of the cell's count in the order in which blocks came into use; -1 where nothing is.
    int find(Place p) const {
        if (p.l < 0 || p.a < 0 || p.b < 0 || p.l >= 4 * across_l || p.a >= 4 * across_ab ||
            p.b >= 4 * across_ab)
            return -1;
        const int block = blocks_[block_of(p)];
        if (block < 0) return -1;
        const std::size_t number = inside(block, p);
        return counts_[number].all > 0 ? static_cast<int>(number) : -1;
    }
    const std::vector<Count>& counts() const { return counts_; }

private:
    static constexpr int across_l = 28, across_ab = 40; // Blocks.
    static constexpr float low_l = -0.1F, low_ab = -1.0F;

    static int index(float offset, int count) {
        return std::clamp(static_cast<int>(offset * (1.0F / cell_side)), 0, count - 1);
    }
    static std::size_t block_of(Place p) {
        return static_cast<std::size_t>(((p.l >> 2) * across_ab + (p.a >> 2)) * across_ab + (p.b >> 2));
    }
    static std::size_t inside(int block, Place p) {
        return static_cast<std::size_t>(64 * block + 16 * (p.l & 3) + 4 * (p.a & 3) + (p.b & 3));
    }

    std::vector<int> blocks_;
    std::vector<Count> counts_;
};

Grid count(const Cloth& cloth) {
    Grid grid;
    const std::vector<std::uint8_t> is_flat = flat(cloth);
    for (std::size_t i = 0; i < cloth.l.size(); ++i) {
        if (cloth.shown[i] == 0) continue;
        const float l = cloth.l[i], a = cloth.a[i], b = cloth.b[i];
        Count& count = grid.at(Grid::place(l, a, b));
        count.l += l;
        count.a += a;
        count.b += b;
        count.flat += is_flat[i];
        ++count.all;
    }
    return grid;
}

} // namespace

float distance(const Tone& one, const Tone& other) {
    const Tone step = one - other;
    return std::sqrt(dot(step, step));
}

colour::LinearRgb light_of(const Tone& tone) {
    constexpr auto scale = double{chroma_scale};
    return colour::linear(colour::Oklab{double{tone.l}, double{tone.a} / scale, double{tone.b} / scale});
}

Tone tone_of(colour::LinearRgb light) {
    const colour::Oklab oklab = colour::oklab(light);
    return {static_cast<float>(oklab.l), chroma_scale * static_cast<float>(oklab.a),
            chroma_scale * static_cast<float>(oklab.b)};
}

Tally tally(const Cloth& cloth) {
    const Grid grid = count(cloth);
    Tally tally;
    std::vector<int> cell_of(grid.counts().size(), -1);
    for (std::size_t i = 0; i < grid.counts().size(); ++i) {
        const Count& count = grid.counts()[i];
        if (count.all == 0) continue;
        cell_of[i] = static_cast<int>(tally.cells.size());
        const auto pixels = static_cast<float>(count.all), flat_pixels = static_cast<float>(count.flat);
        tally.cells.push_back({.tone = Tone{count.l, count.a, count.b} * (1.0F / pixels),
                               .flat = flat_pixels,
                               .edge = pixels - flat_pixels,
                               .near = {}});
        tally.pixels += pixels;
    }
    for (Cell& cell : tally.cells) {
        // The mean of a cell's pixels lies in the cell.
        const auto [l, a, b] = Grid::place(cell.tone.l, cell.tone.a, cell.tone.b);
        std::size_t next = 0;
        for (int dl = -1; dl <= 1; ++dl)
            for (int da = -1; da <= 1; ++da)
                for (int db = -1; db <= 1; ++db) {
                    if (dl == 0 && da == 0 && db == 0) continue;
                    const int found = grid.find({l + dl, a + da, b + db});
                    cell.near[next++] = found < 0 ? -1 : cell_of[static_cast<std::size_t>(found)];
                }
    }
    return tally;
}

} // namespace motley::swatch
