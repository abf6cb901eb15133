#include "unit/form.h"

namespace motley::unit {

Point turned(Point point, int turn) {
    switch (turn & 3) {
        case 1:
            return {1 - point.y, point.x};
        case 2:
            return {1 - point.x, 1 - point.y};
        case 3:
            return {point.y, 1 - point.x};
        default:
            return point;
    }
}

} // namespace motley::unit
