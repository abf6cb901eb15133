#include "render/bolt.h"

#include <algorithm>
#include <cmath>
#include <set>
#include <utility>

#include "fault/fault.h"
#include "render/chance.h"
#include "render/cloth.h"
#include "render/continued.h"
#include "render/crew.h"

namespace motley::render {

namespace {

/// Widest bolt a photo is unrolled to, in cells: room for some 25 patches side by side.
constexpr int most_cells_wide = 5;

/// How much of a fabric a top uses.
struct Use {
    int patches = 0;
    double cells = 0; ///< That the patches cover together.
};

std::vector<Use> uses(const layout::Layout& layout) {
    const unit::Form& recipe = form_of(layout);
    std::vector<Use> all(layout.fabrics.size());
    const std::vector<palette::FabricId>& patches = layout.assignment.patches;
    for (std::size_t i = 0; i < patches.size(); ++i) {
        Use& use = all[palette::index(patches[i])];
        ++use.patches;
        use.cells += recipe.patches[i % recipe.patches.size()].area;
    }
    return all;
}

/// Whether cloth has room enough for `count` patches of `side` pixels, each a fifth of a patch away
/// from the next.
bool roomy(int width, int height, int side, int count) {
    if (width < side || height < side) return false;
    if (count <= 1) return true;
    const double step = side / 5.0;
    const double places = ((width - side) / step + 1) * ((height - side) / step + 1);
    return places >= std::min(count, 16);
}

/// Side of a bolt of solid.
int solid_side(int side, const Use& use) {
    if (use.patches <= 1) return side;
    const double wide = std::clamp(0.4 + 0.6 * std::sqrt(use.cells), 4.0 / 3.0, 3.4);
    const int room = static_cast<int>(std::ceil(std::sqrt(use.patches))); // A place of its own for each.
    return std::max(static_cast<int>(side * wide), side + room);
}

/// The bolt of fewest whole copies of a photo that has room enough; beyond one copy more than a patch needs,
/// places would only come again.
photo::LinearImage lengthened(const photo::LinearImage& cloth, int side, int count) {
    const Repeat repeat = repeat_of(cloth);
    const int step_x = repeat.across.x, step_y = repeat.down.y;
    int width = cloth.width, height = cloth.height;
    while (width < side) width += step_x;
    while (height < side) height += step_y;
    const int most_width = side + step_x, most_height = side + step_y;
    while (!roomy(width, height, side, count) && (width < most_width || height < most_height)) {
        if (height >= most_height || (width < most_width && width - side <= height - side))
            width += step_x;
        else
            height += step_y;
    }
    return continued(cloth, repeat, std::min(width, most_width), std::min(height, most_height));
}

photo::LinearImage unroll_one(const palette::Fabric& fabric, const Cloth& cloth, const Grid& grid, int side,
                              const Use& use, std::uint64_t seed) {
    photo::LinearImage photographed = scaled_cloth(cloth, grid.ppi, most_cells_wide * side);
    if (photographed.width == 0) {
        const colour::LinearRgb colour =
            cloth.picture.width > 0 ? mean(cloth.picture) : colour::linear(fabric.colour->lab);
        const int wide = solid_side(side, use);
        return solid_cloth(colour, grid.ppi, wide, wide, seed);
    }
    if (roomy(photographed.width, photographed.height, side, use.patches)) return photographed;
    return lengthened(photographed, side, use.patches);
}

} // namespace

std::vector<Cut> spread_places(int count, int free_x, int free_y, std::uint64_t seed) {
    expects(count >= 0 && free_x >= 0 && free_y >= 0);
    constexpr double plastic = 1.32471795724474602596;
    const std::int64_t places = (static_cast<std::int64_t>(free_x) + 1) * (free_y + 1);
    double u = static_cast<double>(share(scrambled(seed, 11))),
           v = static_cast<double>(share(scrambled(seed, 12)));
    std::set<std::pair<int, int>> taken;
    std::vector<Cut> cuts;
    while (static_cast<int>(cuts.size()) < count) {
        if (static_cast<std::int64_t>(taken.size()) == places) taken.clear();
        u += 1 / plastic;
        v += 1 / (plastic * plastic);
        u -= std::floor(u);
        v -= std::floor(v);
        Cut cut{static_cast<int>(u * (free_x + 1)), static_cast<int>(v * (free_y + 1))};
        while (!taken.emplace(cut.x, cut.y).second) { // Taken: the next free one, row by row.
            cut.x = cut.x == free_x ? 0 : cut.x + 1;
            if (cut.x == 0) cut.y = cut.y == free_y ? 0 : cut.y + 1;
        }
        cuts.push_back(cut);
    }
    return cuts;
}

Bolts unroll(std::span<const layout::Layout> layouts, const std::vector<Cloth>& cloths, const Grid& grid,
             int margin, int threads) {
    expects(!layouts.empty() && margin >= 0);
    const std::vector<palette::Fabric>& fabrics = layouts.front().fabrics;
    expects(cloths.size() == fabrics.size());
    std::vector<Use> most(fabrics.size());
    for (const layout::Layout& layout : layouts) {
        expects(layout.fabrics.size() == fabrics.size());
        const std::vector<Use> used = uses(layout);
        for (std::size_t f = 0; f < used.size(); ++f)
            most[f] = {std::max(most[f].patches, used[f].patches), std::max(most[f].cells, used[f].cells)};
    }
    Bolts bolts{std::vector<photo::LinearImage>(fabrics.size()), margin};
    share_out(threads, static_cast<int>(fabrics.size()), [&](int i) {
        const auto f = static_cast<std::size_t>(i);
        if (most[f].patches == 0) return;
        const std::uint64_t seed = scrambled(layouts.front().seed, fabrics[f].id);
        bolts.cloth[f] = unroll_one(fabrics[f], cloths[f], grid, grid.cell + 2 * margin, most[f], seed);
    });
    return bolts;
}

std::vector<Cut> cut_out(const layout::Layout& layout, const Grid& grid, const Bolts& bolts) {
    const int side = grid.cell + 2 * bolts.margin;
    const std::vector<palette::FabricId>& patches = layout.assignment.patches;
    std::vector<std::vector<std::size_t>> wanted(layout.fabrics.size());
    for (std::size_t i = 0; i < patches.size(); ++i) wanted[palette::index(patches[i])].push_back(i);
    std::vector<Cut> cuts(patches.size());
    for (std::size_t f = 0; f < wanted.size(); ++f) {
        if (wanted[f].empty()) continue;
        const photo::LinearImage& cloth = bolts.cloth[f];
        const std::uint64_t seed = scrambled(layout.seed, layout.fabrics[f].id);
        const std::vector<Cut> places =
            spread_places(static_cast<int>(wanted[f].size()), cloth.width - side, cloth.height - side, seed);
        for (std::size_t k = 0; k < places.size(); ++k)
            cuts[wanted[f][k]] = {places[k].x + bolts.margin, places[k].y + bolts.margin};
    }
    return cuts;
}

} // namespace motley::render
