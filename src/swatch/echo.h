#pragma once
/// How much a cloth looks like itself when it is moved aside, for every move at once.

#include <vector>

#include "swatch/sketch.h"

namespace motley::swatch {

/// Pixels of a sketch, across and down; down is towards the picture's foot.
struct Move {
    double x = 0, y = 0;

    Move operator+(const Move& other) const { return {x + other.x, y + other.y}; }
    Move operator-(const Move& other) const { return {x - other.x, y - other.y}; }
    Move operator*(double times) const { return {x * times, y * times}; }
};
inline double dot(const Move& one, const Move& other) {
    return one.x * other.x + one.y * other.y;
}
/// The area between two moves, with its sign.
inline double cross(const Move& one, const Move& other) {
    return one.x * other.y - one.y * other.x;
}
double length(const Move& move);

/// For the move s: 2 sum f(x) f(x + s) / sum (f(x)^2 + f(x + s)^2) over all x where both lie on the cloth, f
/// being the colour in OKLab less its mean: 1 where the cloth repeats, about 0 where the two places have
/// nothing to do with each other, -1 where one is the other's negative. Moves reach three fifths of the
/// picture each way. The turned echo is the same with f(s - x) for f(x + s): the cloth against itself turned
/// by half a turn.
class Echo {
public:
    /// Expects a picture of at least one pixel, at most Sketch::most to a side.
    explicit Echo(const Sketch& sketch);

    int reach_x() const { return reach_x_; } ///< Moves across are from -reach_x to reach_x.
    int reach_y() const { return reach_y_; }

    bool within(Move move) const;             ///< With two pixels to spare on every side.
    float at(int x, int y) const;             ///< Expects a move within reach.
    double at(Move move) const;               ///< Between moves (Catmull-Rom); expects `within`.
    double turned() const { return turned_; } ///< The highest of the turned echo near the middle.

private:
    int reach_x_ = 0, reach_y_ = 0;
    std::vector<float> values_; ///< Rows from -reach_y to reach_y.
    double turned_ = 0;
};

} // namespace motley::swatch
