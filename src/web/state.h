#pragma once
/// What a project is at one moment: plan, fabrics, and the top that hangs on the wall. Plain values; a step
/// from one to the next is a `Change` (change.h).

#include <cstdint>
#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "document/document.h"
#include "layout/layout.h"
#include "palette/palette.h"

namespace motley::web {

/// A layout without its plan and palette; FabricIds index the palette beside it.
struct Laid {
    std::uint64_t seed = 1;
    layout::Assignment assignment;
    std::vector<layout::FabricId> cornerstones;
    std::vector<std::vector<layout::FabricId>> borders;
    std::vector<char> pinned, sewn;
    bool operator==(const Laid&) const = default;
};

struct State {
    document::Json plan;
    palette::Palette palette; ///< Measured; may hold no fabric yet.
    std::optional<Laid> laid;
};

/// What follows from a state.
struct Outlook {
    layout::Plan plan;
    std::optional<layout::Brief> brief;   ///< Empty where there is no fabric, or `problems` say why.
    std::vector<Problem> problems;        ///< Why the plan cannot be made exact.
    layout::AimPicture picture;           ///< That the plan aims at, if it does.
    std::optional<layout::Layout> layout; ///< What hangs on the wall, judged by the plan as it is now.
};

/// `folder` is the plan's. Faults where the plan itself is not readable.
layout::Plan read_plan(const document::Json& plan, const std::filesystem::path& file);

/// Everything; `plan` as read from the state's.
Outlook look_at(const State& state, layout::Plan plan, const layout::AimPicture& aim);

/// The brief with the fabrics as people call them, for sentences.
layout::Brief said_by_name(layout::Brief brief, const palette::Palette& palette);

/// The layout as it lies, not judged. Expects a laid top that fits the plan.
layout::Layout hang(const State& state, const layout::Plan& plan);
Laid taken_down(const layout::Layout& layout);

/// Whether a top, as it lies, fits a plan: as many cells and patches, the same forms and batches, every
/// fabric in the palette.
bool fits(const Laid& laid, const layout::Plan& plan, const palette::Palette& palette);

/// The same top with its fabrics numbered as another palette does; nothing when one is missing there.
std::optional<Laid> renumbered(const Laid& laid, const std::vector<palette::Fabric>& from,
                               const std::vector<palette::Fabric>& to);

/// Marks as pinned what the plan pins.
void mark_pins(Laid& laid, const layout::Plan& plan);

} // namespace motley::web
