#include "scene/shade.h"

#include <algorithm>
#include <cmath>

#include "scene/ground.h"

namespace motley::scene {

namespace {

constexpr int across = 96;          // Places from side to side.
constexpr int clear = 3;            // Pixels from what lies there, which darkens the ground close by.
constexpr double noticeable = 0.03; // Of the logarithm: less is the light's own unevenness or noise.

} // namespace

Shade::Shade(const photo::LinearImage& picture, const Light& light, const Mask& lying)
    : step_(std::max(4, std::max(picture.width, picture.height) / across)) {
    columns_ = (picture.width + step_ - 1) / step_;
    rows_ = (picture.height + step_ - 1) / step_;
    const auto count = static_cast<std::size_t>(columns_) * static_cast<std::size_t>(rows_);
    logs_.assign(count, 0.0);
    std::vector<std::uint8_t> known(count, 0);
    for (const Known& block : bare_blocks(picture, spread_out(lying, clear, 1), step_)) {
        const Rgb left = light.reflectance(block.seen, block.at);
        const double half = std::max(picture.width, picture.height) / 2.0;
        const auto column = static_cast<std::size_t>((block.at.x * half + picture.width / 2.0) / step_);
        const auto row = static_cast<std::size_t>((block.at.y * half + picture.height / 2.0) / step_);
        const std::size_t i = row * static_cast<std::size_t>(columns_) + column;
        known[i] = 1;
        const double log = std::log(std::max(luminance(left), 0.02));
        logs_[i] = log < -noticeable ? log : 0;
    }
    // Over-relaxed towards the mean of the four around.
    for (int round = 0; round < 300; ++round)
        for (int row = 0; row < rows_; ++row)
            for (int column = 0; column < columns_; ++column) {
                const auto i = static_cast<std::size_t>(row * columns_ + column);
                if (known[i]) continue;
                double sum = 0, sides = 0;
                const auto add = [&](bool there, std::size_t k) {
                    if (!there) return;
                    sum += logs_[k];
                    sides += 1;
                };
                add(column > 0, i - 1);
                add(column + 1 < columns_, i + 1);
                add(row > 0, i - static_cast<std::size_t>(columns_));
                add(row + 1 < rows_, i + static_cast<std::size_t>(columns_));
                logs_[i] += 1.8 * (sum / sides - logs_[i]);
            }
}

double Shade::at(const Point& pixel) const {
    const double x = std::clamp(pixel.x / step_ - 0.5, 0.0, columns_ - 1.0);
    const double y = std::clamp(pixel.y / step_ - 0.5, 0.0, rows_ - 1.0);
    const int left = static_cast<int>(x), top = static_cast<int>(y);
    const int right = std::min(left + 1, columns_ - 1), low = std::min(top + 1, rows_ - 1);
    const auto log = [&](int column, int row) {
        return logs_[static_cast<std::size_t>(row * columns_ + column)];
    };
    const double above = log(left, top) + (log(right, top) - log(left, top)) * (x - left);
    const double below = log(left, low) + (log(right, low) - log(left, low)) * (x - left);
    return std::exp(above + (below - above) * (y - top));
}

} // namespace motley::scene
