#include "painter/photograph.h"

#include <algorithm>
#include <array>
#include <cmath>

#include "fault/fault.h"
#include "painter/canvas.h"

namespace motley::painter {
namespace {

using Row = std::vector<float>;

/// Linear sRGB to linear Display P3. Primaries of SMPTE RP 431-2 with white D65; product of the two matrices
/// that chromaticities give (Lindbloom, "RGB/XYZ matrices": the method; from memory), so neutral colours stay
/// as they are.
struct Matrix {
    std::array<std::array<double, 3>, 3> m{};
};

Matrix product(const Matrix& a, const Matrix& b) {
    Matrix c;
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) {
            for (std::size_t k = 0; k < 3; ++k) c.m[i][j] += a.m[i][k] * b.m[k][j];
        }
    }
    return c;
}

Matrix inverse(const Matrix& a) {
    const auto& m = a.m;
    const auto minor = [&](std::size_t i, std::size_t j) {
        const std::size_t r = (j + 1) % 3, s = (j + 2) % 3, c = (i + 1) % 3, d = (i + 2) % 3;
        return m[r][c] * m[s][d] - m[r][d] * m[s][c];
    };
    const double determinant = m[0][0] * minor(0, 0) + m[0][1] * minor(1, 0) + m[0][2] * minor(2, 0);
    Matrix result;
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) result.m[i][j] = minor(i, j) / determinant;
    }
    return result;
}

Matrix to_xyz(const std::array<std::array<double, 2>, 3>& primaries) {
    Matrix columns;
    for (std::size_t k = 0; k < 3; ++k) {
        const auto [x, y] = primaries[k];
        columns.m[0][k] = x / y;
        columns.m[1][k] = 1;
        columns.m[2][k] = (1 - x - y) / y;
    }
    const std::array<double, 3> white{0.3127 / 0.3290, 1, (1 - 0.3127 - 0.3290) / 0.3290};
    const Matrix back = inverse(columns);
    for (std::size_t k = 0; k < 3; ++k) {
        const double share = back.m[k][0] * white[0] + back.m[k][1] * white[1] + back.m[k][2] * white[2];
        for (auto& row : columns.m) row[k] *= share;
    }
    return columns;
}

Matrix matrix_of(Gamut gamut) {
    const Matrix srgb = to_xyz({{{0.64, 0.33}, {0.30, 0.60}, {0.15, 0.06}}});
    const Matrix p3 = to_xyz({{{0.680, 0.320}, {0.265, 0.690}, {0.150, 0.060}}});
    return product(inverse(gamut == Gamut::srgb ? srgb : p3), srgb);
}

/// sRGB code values of 16-bit linear light.
std::vector<std::uint8_t> code_table() {
    std::vector<std::uint8_t> table(65536);
    for (std::size_t k = 0; k < table.size(); ++k) {
        table[k] =
            static_cast<std::uint8_t>(std::lround(255 * colour::encode(static_cast<double>(k) / 65535.0)));
    }
    return table;
}

/// The light that falls on each place; its mean is 1, up to the exposure.
class Light {
public:
    Light(const Camera& camera, int width, int height)
        : camera_(camera),
          width_(width),
          height_(height),
          folds_(camera.seed, 1, static_cast<double>(height) / width, 0.45, 2) {
        constexpr int samples = 32;
        double sum = 0;
        for (int j = 0; j < samples; ++j) {
            for (int i = 0; i < samples; ++i)
                sum += raw((i + 0.5) / samples * width_, (j + 0.5) / samples * height_);
        }
        scale_ = camera.exposure * samples * samples / sum;
    }

    void row(int y, Row& light) const {
        // Slow enough to be taken every eighth pixel.
        constexpr int stride = 8;
        double left = raw(0.5, y + 0.5);
        for (int x = 0; x < width_; x += stride) {
            const double right = raw(x + stride + 0.5, y + 0.5);
            for (int k = 0; k < stride && x + k < width_; ++k)
                light[static_cast<std::size_t>(x + k)] =
                    static_cast<float>(scale_ * std::lerp(left, right, k / 8.0));
            left = right;
        }
    }

private:
    double raw(double x, double y) const {
        const double across = x / width_ - 0.5, down = (y - height_ / 2.0) / width_;
        const double near = across * std::sin(camera_.direction) - down * std::cos(camera_.direction);
        const double corner = (across * across + down * down) * 2;
        const double shade = folds_.at(x / width_, y / width_);
        return (1 + camera_.falloff * (near + 0.35 * near * near)) * (1 - camera_.vignette * corner) *
               (1 + camera_.waves * shade);
    }

    Camera camera_;
    int width_, height_;
    Field folds_;
    double scale_ = 1;
};

/// One row as it reaches the sensor, with noise.
void expose(const photo::LinearImage& picture, const Camera& camera, const Light& light, int y,
            Row& light_row, float* out) {
    light.row(y, light_row);
    const auto columns = static_cast<std::size_t>(picture.width);
    const float* pixels = picture.pixels.data() + 3 * columns * static_cast<std::size_t>(y);
    const std::array<float, 3> balance{static_cast<float>(1 + camera.warmth), 1.0F,
                                       static_cast<float>(1 - 1.4 * camera.warmth)};
    const auto grain = static_cast<float>(camera.noise);
    const std::uint64_t seed = mixed(camera.seed, static_cast<std::uint64_t>(y) + 77);
    for (std::size_t x = 0; x < columns; ++x, pixels += 3, out += 3) {
        const std::uint64_t bits = scramble(seed + x);
        // Four bytes added are close to a bell curve of standard deviation 147.8.
        const auto bell = [&](int shift) {
            const std::uint64_t part = bits >> shift;
            return (static_cast<float>((part & 255) + ((part >> 8) & 255) + ((part >> 16) & 255) +
                                       ((part >> 24) & 255)) -
                    510.0F) /
                   147.8F;
        };
        const float luma = bell(0), tint = 0.4F * bell(32);
        const float strength = grain * std::sqrt(0.02F + std::max(0.0F, pixels[1]));
        const std::array<float, 3> off{luma + tint, luma, luma - tint};
        for (std::size_t c = 0; c < 3; ++c)
            out[c] = pixels[c] * light_row[x] * balance[c] + strength * off[c];
    }
}

std::vector<float> bell_curve(double deviation) {
    std::vector<float> weights{1.0F};
    const int reach = deviation > 0 ? static_cast<int>(std::ceil(2.6 * deviation)) : 0;
    double total = 1;
    for (int k = 1; k <= reach; ++k) {
        const double weight = std::exp(-0.5 * k * k / (deviation * deviation));
        weights.push_back(static_cast<float>(weight));
        total += 2 * weight;
    }
    for (float& weight : weights) weight = static_cast<float>(weight / total);
    return weights;
}

/// out = the weighted sum of the rows around, then along the row; borders repeat.
void soften(const std::vector<float>& rows, int y, int height, std::size_t length,
            const std::vector<float>& weights, Row& between, Row& out) {
    const auto row = [&](int k) {
        return rows.data() + static_cast<std::size_t>(std::clamp(k, 0, height - 1)) * length;
    };
    const float* middle = row(y);
    for (std::size_t k = 0; k < length; ++k) between[k] = weights[0] * middle[k];
    for (int step = 1; step < static_cast<int>(weights.size()); ++step) {
        const float *above = row(y - step), *below = row(y + step),
                    weight = weights[static_cast<std::size_t>(step)];
        for (std::size_t k = 0; k < length; ++k) between[k] += weight * (above[k] + below[k]);
    }
    for (std::size_t k = 0; k < length; ++k) out[k] = weights[0] * between[k];
    const std::size_t pixels = length / 3;
    for (std::size_t step = 1; step < weights.size(); ++step) {
        const float weight = weights[step];
        const auto far = [&](std::size_t x, std::size_t c) {
            const std::size_t left = x >= step ? x - step : 0, right = std::min(x + step, pixels - 1);
            return weight * (between[3 * left + c] + between[3 * right + c]);
        };
        const std::size_t inner = std::min(step, pixels), outer = std::max(inner, pixels - inner);
        for (std::size_t x = 0; x < inner; ++x) {
            for (std::size_t c = 0; c < 3; ++c) out[3 * x + c] += far(x, c);
        }
        for (std::size_t k = 3 * inner; k < 3 * outer; ++k)
            out[k] += weight * (between[k - 3 * step] + between[k + 3 * step]);
        for (std::size_t x = outer; x < pixels; ++x) {
            for (std::size_t c = 0; c < 3; ++c) out[3 * x + c] += far(x, c);
        }
    }
}

} // namespace

Camera phone(std::uint64_t seed) {
    Chance chance(mixed(seed, 90));
    Camera camera;
    camera.falloff = chance.between(0.03, 0.12);
    camera.direction = chance.between(0, 2 * pi);
    camera.vignette = chance.between(0.02, 0.06);
    camera.waves = chance.between(0.008, 0.02);
    camera.blur = chance.between(0.65, 0.95);
    camera.noise = chance.between(0.008, 0.014);
    camera.warmth = chance.around(0.003, 0.014);
    camera.exposure = chance.between(0.95, 1.03);
    camera.seed = mixed(seed, 91);
    return camera;
}

Photo photograph(const Cloth& cloth, const Camera& camera) {
    const int width = cloth.picture.width, height = cloth.picture.height;
    expects(width > 0 && height > 0 && camera.blur >= 0 && camera.blur <= 3);
    const std::size_t length = 3 * static_cast<std::size_t>(width);
    const Light light(camera, width, height);
    std::vector<float> exposed(length * static_cast<std::size_t>(height));
    each_row(height, [&](int y) {
        Row light_row(static_cast<std::size_t>(width));
        expose(cloth.picture, camera, light, y, light_row,
               exposed.data() + length * static_cast<std::size_t>(y));
    });

    const std::vector<float> weights = bell_curve(camera.blur);
    const std::vector<std::uint8_t> codes = code_table();
    std::array<std::array<float, 3>, 3> m{};
    const Matrix exact = matrix_of(camera.gamut);
    for (std::size_t i = 0; i < 3; ++i) {
        for (std::size_t j = 0; j < 3; ++j) m[i][j] = static_cast<float>(exact.m[i][j]);
    }
    Photo result{.raster = {.width = width, .height = height, .channels = 3, .pixels = {}},
                 .gamut = camera.gamut};
    result.raster.pixels.resize(exposed.size());
    each_row(height, [&](int y) {
        Row between(length), soft(length);
        soften(exposed, y, height, length, weights, between, soft);
        std::uint8_t* out = result.raster.pixels.data() + length * static_cast<std::size_t>(y);
        for (std::size_t k = 0; k < length; k += 3) {
            for (std::size_t c = 0; c < 3; ++c) {
                const float value = m[c][0] * soft[k] + m[c][1] * soft[k + 1] + m[c][2] * soft[k + 2];
                out[k + c] = codes[static_cast<std::size_t>(std::clamp(value, 0.0F, 1.0F) * 65535.0F + 0.5F)];
            }
        }
    });
    return result;
}

} // namespace motley::painter
