#pragma once
/// What finished units look like: their patches, and which units are alike up to turning. Private to this
/// folder.

#include <vector>

#include "unit/flat.h"
#include "unit/sewn.h"

namespace motley::unit {

/// The form of one flat unit, with its lies in inches; patches in the order of inputs, then as one reads.
/// `finished`: its side without the seam allowances around it, inches. Expects a square of finished + 2 seam.
Form look(const Flat& flat, double finished, double seam, const std::vector<Input>& inputs);

/// Adds a unit to the forms, or to the count of one that it equals when turned; returns it as a copy.
Copy enter(std::vector<Form>& forms, const Form& unit, double finished);

/// Finds which of the forms are mirror images of earlier ones.
void pair_mirrored(std::vector<Form>& forms);

} // namespace motley::unit
