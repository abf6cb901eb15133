#include "assembly/assembly.h"

namespace motley::assembly {

Assembly assemble(const layout::Layout& layout) {
    Assembly made;
    made.letters = letters(layout);
    made.rows = rows_of(layout);
    made.steps = steps_of(layout, made.rows);
    made.pressing = press(layout, made.rows);
    made.cards = cards_of(layout);
    return made;
}

} // namespace motley::assembly
