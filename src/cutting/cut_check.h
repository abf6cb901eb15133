#pragma once
/// What a cut list must be to be planned. Private to this folder.

#include "cutting/cut_plan.h"

namespace motley::cutting {

/// Most pieces a list may ask for in all.
inline constexpr std::int64_t most_pieces = 1'000'000;

/// Why a piece can be cut neither from cloth of this width nor from a sheet, or empty.
std::string trouble_with_piece(const CutListPiece& piece, const CutList& list);

/// Throws Fault(Cause::input, "", ...) with everything that is wrong.
void check(const CutList& list);

} // namespace motley::cutting
