#include "scene/view.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"

namespace motley::scene {

Rgb seen(const photo::LinearImage& picture, const Point& at) {
    const double x = std::clamp(at.x - 0.5, 0.0, picture.width - 1.0);
    const double y = std::clamp(at.y - 0.5, 0.0, picture.height - 1.0);
    const int left = static_cast<int>(x), top = static_cast<int>(y);
    const int right = std::min(left + 1, picture.width - 1), low = std::min(top + 1, picture.height - 1);
    const double u = x - left, v = y - top;
    const auto pixel = [&](int column, int row) {
        return picture.pixels.data() +
               3 * (static_cast<std::size_t>(row) * static_cast<std::size_t>(picture.width) +
                    static_cast<std::size_t>(column));
    };
    const float *a = pixel(left, top), *b = pixel(right, top), *c = pixel(left, low), *d = pixel(right, low);
    Rgb out;
    for (std::size_t i = 0; i < 3; ++i) {
        const double above = a[i] * (1 - u) + b[i] * u, below = c[i] * (1 - u) + d[i] * u;
        out[i] = above * (1 - v) + below * v;
    }
    return out;
}

double luminance(const Rgb& rgb) {
    return 0.2126 * rgb[0] + 0.7152 * rgb[1] + 0.0722 * rgb[2];
}

double luminance_at(const photo::LinearImage& picture, const Point& at) {
    return luminance(seen(picture, at));
}

photo::LinearImage thinned(const photo::LinearImage& picture, int factor) {
    expects(factor >= 1 && picture.width >= factor && picture.height >= factor);
    if (factor == 1) return picture;
    photo::LinearImage out{picture.width / factor, picture.height / factor, {}};
    out.pixels.resize(3 * static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
    const float share = 1.0F / static_cast<float>(factor * factor);
    const std::size_t stride = 3 * static_cast<std::size_t>(picture.width);
    float* to = out.pixels.data();
    for (int y = 0; y < out.height; ++y) {
        for (int x = 0; x < out.width; ++x, to += 3) {
            float r = 0, g = 0, b = 0;
            for (int i = 0; i < factor; ++i) {
                const float* from = picture.pixels.data() +
                                    static_cast<std::size_t>(y * factor + i) * stride +
                                    3 * static_cast<std::size_t>(x * factor);
                for (int j = 0; j < factor; ++j, from += 3) {
                    r += from[0];
                    g += from[1];
                    b += from[2];
                }
            }
            to[0] = r * share;
            to[1] = g * share;
            to[2] = b * share;
        }
    }
    return out;
}

Mask spread_out(const Mask& mask, int radius, std::uint8_t wanted) {
    Mask out = mask;
    for (int round = 0; round < radius; ++round) {
        const Mask before = out;
        for (int y = 0; y < mask.height; ++y)
            for (int x = 0; x < mask.width; ++x) {
                if (before.on[before.at(x, y)] == wanted) continue;
                const bool near = (x > 0 && before.on[before.at(x - 1, y)] == wanted) ||
                                  (x + 1 < mask.width && before.on[before.at(x + 1, y)] == wanted) ||
                                  (y > 0 && before.on[before.at(x, y - 1)] == wanted) ||
                                  (y + 1 < mask.height && before.on[before.at(x, y + 1)] == wanted);
                if (near) out.on[out.at(x, y)] = wanted;
            }
    }
    return out;
}

Plane box_mean(const Plane& plane, int radius) {
    const int width = plane.width, height = plane.height;
    Plane across(width, height), out(width, height);
    for (int y = 0; y < height; ++y) {
        const float* row = plane.values.data() + plane.at(0, y);
        double sum = 0;
        for (int x = -radius; x < width; ++x) {
            if (x + radius < width) sum += row[x + radius];
            if (x - radius - 1 >= 0) sum -= row[x - radius - 1];
            if (x < 0) continue;
            const int count = std::min(x + radius, width - 1) - std::max(x - radius, 0) + 1;
            across.values[across.at(x, y)] = static_cast<float>(sum / count);
        }
    }
    std::vector<double> sums(static_cast<std::size_t>(width), 0.0);
    for (int y = -radius; y < height; ++y) {
        const float* in = y + radius < height ? across.values.data() + across.at(0, y + radius) : nullptr;
        const float* gone =
            y - radius - 1 >= 0 ? across.values.data() + across.at(0, y - radius - 1) : nullptr;
        const double count = std::min(y + radius, height - 1) - std::max(y - radius, 0) + 1;
        for (int x = 0; x < width; ++x) {
            double& sum = sums[static_cast<std::size_t>(x)];
            if (in) sum += in[x];
            if (gone) sum -= gone[x];
            if (y >= 0) out.values[out.at(x, y)] = static_cast<float>(sum / count);
        }
    }
    return out;
}

namespace {

/// Takes in all that hangs together with a pixel, row by row.
class Walk {
public:
    Walk(const Mask& mask, std::vector<std::int32_t>& numbers) : mask_(mask), numbers_(numbers) {}

    Patch from(int x, int y, std::int32_t number) {
        Patch patch{x, y, x, y, 0, {}};
        enter(x, y, number);
        while (!open_.empty()) {
            const auto [column, row] = open_.back();
            open_.pop_back();
            ++patch.pixels;
            patch.left = std::min(patch.left, column);
            patch.right = std::max(patch.right, column);
            patch.top = std::min(patch.top, row);
            patch.bottom = std::max(patch.bottom, row);
            enter(column - 1, row, number);
            enter(column + 1, row, number);
            enter(column, row - 1, number);
            enter(column, row + 1, number);
        }
        return patch;
    }

private:
    void enter(int x, int y, std::int32_t number) {
        if (x < 0 || y < 0 || x >= mask_.width || y >= mask_.height) return;
        const std::size_t here = mask_.at(x, y);
        if (!mask_.on[here] || numbers_[here] != 0) return;
        numbers_[here] = number;
        open_.push_back({x, y});
    }

    const Mask& mask_;
    std::vector<std::int32_t>& numbers_;
    std::vector<std::pair<int, int>> open_;
};

void add_rim(Patch& patch, const Mask& mask, const std::vector<std::int32_t>& numbers, std::int32_t number) {
    for (int y = patch.top; y <= patch.bottom; ++y) {
        int first = patch.left, last = patch.right;
        while (first <= last && numbers[mask.at(first, y)] != number) ++first;
        while (last >= first && numbers[mask.at(last, y)] != number) --last;
        if (first > last) continue;
        for (const int down : {0, 1}) {
            patch.rim.push_back({static_cast<double>(first), static_cast<double>(y + down)});
            patch.rim.push_back({static_cast<double>(last + 1), static_cast<double>(y + down)});
        }
    }
}

} // namespace

std::vector<Patch> patches(const Mask& mask, std::int64_t least, std::vector<std::int32_t>* numbers) {
    std::vector<std::int32_t> own(mask.on.size(), 0);
    Walk walk(mask, own);
    std::vector<Patch> found;
    std::vector<std::int32_t> renumbered{0};
    for (int y = 0; y < mask.height; ++y)
        for (int x = 0; x < mask.width; ++x) {
            if (!mask.on[mask.at(x, y)] || own[mask.at(x, y)] != 0) continue;
            const auto number = static_cast<std::int32_t>(renumbered.size());
            Patch patch = walk.from(x, y, number);
            const bool kept = patch.pixels >= least;
            renumbered.push_back(kept ? static_cast<std::int32_t>(found.size()) + 1 : 0);
            if (!kept) continue;
            add_rim(patch, mask, own, number);
            found.push_back(std::move(patch));
        }
    if (numbers) {
        for (std::int32_t& number : own) number = renumbered[static_cast<std::size_t>(number)];
        *numbers = std::move(own);
    }
    return found;
}

std::vector<Point> hull(std::vector<Point> points) {
    std::sort(points.begin(), points.end(), [](const Point& one, const Point& other) {
        return one.x != other.x ? one.x < other.x : one.y < other.y;
    });
    std::vector<Point> out;
    const auto turn = [&](std::size_t least, const Point& point) { // Andrew's monotone chain.
        while (out.size() >= least + 2 &&
               cross(out[out.size() - 1] - out[out.size() - 2], point - out[out.size() - 1]) <= 0)
            out.pop_back();
        out.push_back(point);
    };
    for (const Point& point : points) turn(0, point);
    const std::size_t half = out.size();
    for (std::size_t i = points.size(); i-- > 0;) turn(half - 1, points[i]);
    if (out.size() > 1) out.pop_back();
    return out;
}

Quad largest_quad(const std::vector<Point>& outline) {
    expects(outline.size() >= 4);
    const std::size_t n = outline.size();
    Quad best{};
    double most = -1;
    // For each diagonal, the farthest corner on either side.
    for (std::size_t i = 0; i < n; ++i)
        for (std::size_t k = i + 2; k < n; ++k) {
            const Point along = outline[k] - outline[i];
            double right = 0, left = 0;
            std::size_t on_right = i, on_left = i;
            for (std::size_t p = i + 1; p < k; ++p)
                if (const double far = -cross(along, outline[p] - outline[i]); far > right)
                    right = far, on_right = p;
            for (std::size_t p = k + 1; p < n + i; ++p)
                if (const double far = cross(along, outline[p % n] - outline[i]); far > left)
                    left = far, on_left = p % n;
            if (right <= 0 || left <= 0 || right + left <= most) continue;
            most = right + left;
            best = {outline[i], outline[on_right], outline[k], outline[on_left]};
        }
    return in_order(best);
}

double median(std::vector<double> numbers) {
    expects(!numbers.empty());
    const auto middle = numbers.begin() + static_cast<std::ptrdiff_t>(numbers.size() / 2);
    std::nth_element(numbers.begin(), middle, numbers.end());
    return *middle;
}

} // namespace motley::scene
