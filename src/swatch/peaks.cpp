#include "swatch/peaks.h"

#include <algorithm>
#include <cmath>

namespace motley::swatch {
namespace {

bool inside(const Echo& echo, int x, int y) {
    return std::abs(x) < echo.reach_x() && std::abs(y) < echo.reach_y();
}

/// To a fraction of a pixel: where a narrow peak falls between pixels must not decide how high it is.
Peak refined(const Echo& echo, int x, int y) {
    const auto value = [&](int i, int j) { return static_cast<double>(echo.at(x + i, y + j)); };
    const double dx = vertex(value(-1, 0), value(0, 0), value(1, 0));
    const double dy = vertex(value(0, -1), value(0, 0), value(0, 1));
    const double rise = (value(1, 0) - value(-1, 0)) * dx / 4 + (value(0, 1) - value(0, -1)) * dy / 4;
    return {{x + dx, y + dy}, std::min(1.0, value(0, 0) + rise)};
}

bool is_peak(const Echo& echo, int x, int y) {
    const float value = echo.at(x, y);
    for (int j = -1; j <= 1; ++j)
        for (int i = -1; i <= 1; ++i)
            if (echo.at(x + i, y + j) > value) return false;
    return true;
}

} // namespace

double vertex(double before, double middle, double after) {
    const double bend = before + after - 2 * middle;
    return bend < -1e-9 ? std::clamp(0.5 * (before - after) / bend, -0.5, 0.5) : 0.0;
}

bool leads_down(Move move) {
    return move.y > 0 || (move.y == 0 && move.x > 0);
}

Move towards_foot(Move move) {
    constexpr double eighth = 0.41421356237309503;
    return move.y + eighth * move.x < 0 ? move * -1 : move;
}

std::optional<Peak> peak_near(const Echo& echo, Move move) {
    const int x = static_cast<int>(std::lround(move.x)), y = static_cast<int>(std::lround(move.y));
    if (!inside(echo, x - 1, y - 1) || !inside(echo, x + 1, y + 1)) return {};
    int best_x = x, best_y = y;
    for (int j = y - 1; j <= y + 1; ++j)
        for (int i = x - 1; i <= x + 1; ++i)
            if (echo.at(i, j) > echo.at(best_x, best_y)) {
                best_x = i;
                best_y = j;
            }
    return refined(echo, best_x, best_y);
}

std::vector<Peak> peaks_of(const Echo& echo) {
    std::vector<Peak> peaks;
    for (int y = 0; y < echo.reach_y(); ++y)
        for (int x = 1 - echo.reach_x(); x < echo.reach_x(); ++x) {
            const Move move{static_cast<double>(x), static_cast<double>(y)};
            if (!leads_down(move) || length(move) < shortest_step || !is_peak(echo, x, y)) continue;
            peaks.push_back(refined(echo, x, y));
        }
    std::stable_sort(peaks.begin(), peaks.end(),
                     [](const Peak& one, const Peak& other) { return length(one.at) < length(other.at); });
    return peaks;
}

} // namespace motley::swatch
