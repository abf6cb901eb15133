#include "layout/heap.h"

#include <algorithm>
#include <utility>

#include "layout/brief.h"

namespace motley::layout {

Layout heaped(const Plan& asked, const std::vector<palette::Fabric>& fabrics) {
    Plan plan = asked;
    plan.pins.clear();
    plan.wishes.aim = Aim::even;
    constexpr int plenty = 1'000'000;
    const Brief brief = make_brief(plan, fabrics, std::vector<int>(fabrics.size(), plenty));
    std::vector<std::vector<FabricId>> heaps; // By role.
    for (const std::vector<int>& share : brief.shares) {
        std::vector<FabricId> heap;
        for (std::size_t f = 0; f < fabrics.size(); ++f) // Without the fabric that is none.
            heap.insert(heap.end(), static_cast<std::size_t>(std::max(0, share[f])),
                        FabricId{static_cast<std::uint16_t>(f)});
        heaps.push_back(std::move(heap));
    }
    std::vector<std::size_t> taken(heaps.size(), 0);
    const auto next = [&](std::size_t role) {
        return heaps[role].empty() ? brief.none() : heaps[role][taken[role]++ % heaps[role].size()];
    };
    Layout top;
    top.fabrics = fabrics;
    const std::size_t cells = static_cast<std::size_t>(brief.cells());
    top.assignment.turns.assign(cells, 0);
    if (brief.kit) {
        for (const Slot& slot : brief.kit->slots)
            top.assignment.slots.push_back(next(static_cast<std::size_t>(slot.role)));
        int unit = 0;
        for (std::size_t cell = 0; cell < cells; ++cell)
            top.assignment.units.push_back(brief.board.present(static_cast<int>(cell)) ? unit++ : -1);
        spell_out(*brief.kit, brief.patches_per_unit(), brief.none(), top.assignment);
    } else {
        for (std::size_t cell = 0; cell < cells; ++cell)
            for (int p = 0; p < brief.patches_per_unit(); ++p)
                top.assignment.patches.push_back(brief.board.present(static_cast<int>(cell))
                                                     ? next(static_cast<std::size_t>(p))
                                                     : brief.none());
    }
    top.plan = std::move(plan);
    return top;
}

} // namespace motley::layout
