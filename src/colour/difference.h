#pragma once
#include "colour/space.h"

namespace motley::colour {

/// CIEDE2000 with kL = kC = kH = 1 (CIE 142-2001; Sharma, Wu, Dalal, Color Research & Application 30(1),
/// 2005). Symmetric, zero for equal colours; about 1 is the least a trained eye sees side by side.
double ciede2000(Lab one, Lab other);

} // namespace motley::colour
