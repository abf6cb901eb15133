#pragma once
/// Tells checks and plaids from other prints that repeat both ways.

#include "swatch/echo.h"

namespace motley::swatch {

/// Whether one repeat is bands one way and bands the other way laid together: means along its two steps
/// explain nearly all of it, and each way a good part. `one` and `other` are the steps of the repeat.
bool is_checked(const Sketch& sketch, Move one, Move other);

} // namespace motley::swatch
