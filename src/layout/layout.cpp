#include "layout/layout.h"

namespace motley::layout {

void spell_out(const Kit& kit, int places, FabricId none, Assignment& assignment) {
    const std::size_t cells = assignment.units.size();
    assignment.patches.assign(cells * static_cast<std::size_t>(places), none);
    assignment.forms.assign(cells, 0);
    for (std::size_t cell = 0; cell < cells; ++cell) {
        if (assignment.units[cell] < 0) continue;
        const KitUnit& unit = kit.units.at(static_cast<std::size_t>(assignment.units[cell]));
        assignment.forms[cell] = static_cast<std::uint8_t>(unit.form);
        for (std::size_t p = 0; p < unit.slots.size(); ++p)
            assignment.patches[cell * static_cast<std::size_t>(places) + p] =
                assignment.slots[static_cast<std::size_t>(unit.slots[p])];
    }
}

} // namespace motley::layout
