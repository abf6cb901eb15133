#pragma once
/// In which order a placed top is sewn, and which way its seams are pressed.
/// In: a layout. Out: plain data, texts ready for people in the plan's measure; nothing is drawn here.
/// Words: as in the headers below. Threads: pure functions.

#include <string>
#include <vector>

#include "assembly/cards.h"
#include "assembly/letters.h"
#include "assembly/pressing.h"
#include "assembly/rows.h"
#include "assembly/steps.h"

namespace motley::assembly {

struct Assembly {
    std::vector<std::string> letters; ///< By FabricId.
    Rows rows;
    std::vector<AssemblyStep> steps;
    Pressing pressing;
    Cards cards;
};

Assembly assemble(const layout::Layout& layout);

} // namespace motley::assembly
