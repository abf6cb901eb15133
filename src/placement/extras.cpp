#include "placement/extras.h"

#include <algorithm>

#include "layout/top.h"
#include "placement/chance.h"

namespace motley::placement {

namespace {

using Fabrics = std::vector<layout::FabricId>;

/// The fabrics that a list names; "*" is all there are.
Fabrics named(const std::vector<std::string>& ids, const std::vector<palette::Fabric>& all) {
    Fabrics found;
    for (std::size_t f = 0; f < all.size(); ++f)
        if (std::any_of(ids.begin(), ids.end(),
                        [&](const std::string& id) { return id == "*" || id == all[f].id; }))
            found.push_back(layout::FabricId{static_cast<std::uint16_t>(f)});
    return found;
}

/// Place after place one of the fabrics used least so far that the places just before do not show.
Fabrics mixed(const Fabrics& fabrics, int count, Chance& chance) {
    const int near = std::min(2, static_cast<int>(fabrics.size()) - 1);
    constexpr int beside_itself = 1000; // Above any difference of uses that this can come to.
    Fabrics chosen;
    std::vector<int> used(fabrics.size());
    for (int i = 0; i < count; ++i) {
        std::vector<std::size_t> best;
        int least = 0;
        for (std::size_t f = 0; f < fabrics.size(); ++f) {
            int cost = used[f];
            for (int k = 1; k <= near && k <= i; ++k)
                if (chosen[static_cast<std::size_t>(i - k)] == fabrics[f])
                    cost += beside_itself * (near + 1 - k);
            if (best.empty() || cost < least) best.clear(), least = cost;
            if (cost == least) best.push_back(f);
        }
        const std::size_t f = best[static_cast<std::size_t>(chance.below(static_cast<int>(best.size())))];
        ++used[f];
        chosen.push_back(fabrics[f]);
    }
    return chosen;
}

} // namespace

void mix_extras(layout::Layout& top) {
    constexpr std::uint64_t stream = 1'000'000; // No restart has this number.
    Chance chance(top.seed, stream);
    const layout::Setting& setting = top.plan.setting;
    if (setting.sashing && !setting.sashing->cornerstones.empty())
        top.cornerstones =
            mixed(named(setting.sashing->cornerstones, top.fabrics), layout::cornerstones(top.plan), chance);
    const bool pieced = std::any_of(setting.borders.begin(), setting.borders.end(),
                                    [](const layout::Border& border) { return border.pieced; });
    for (std::size_t i = 0; pieced && i < setting.borders.size(); ++i) {
        top.borders.emplace_back();
        if (setting.borders[i].pieced)
            top.borders.back() = mixed(named(setting.borders[i].fabrics, top.fabrics),
                                       layout::border_patches(top.plan, i), chance);
    }
}

} // namespace motley::placement
