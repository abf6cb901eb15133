#include "render/relief.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "render/chance.h"

namespace motley::render {

namespace {

// Widths in inches; a patchwork seam is a thread's breadth, the cloth rises from it over its allowance
// (common practice: 1/4 in).
constexpr double narrow_reach = 0.055;
constexpr double broad_reach = 0.26;
constexpr double allowance = 0.25;
constexpr double allowance_end = 0.36;

constexpr float narrow_depth = 0.0035f, broad_depth = 0.012f, allowance_lift = 0.0022f;
constexpr float narrow_shadow = 0.34f, broad_shadow = 0.10f;
constexpr float tilt = 2.1f; ///< How strongly light answers to slope.

/// A soft hump: `height` in the middle, 0 from its reach on. No narrower than the pixels can show, and
/// shallower for it.
struct Hump {
    explicit Hump(double reach) {
        constexpr double least = 1.25;
        height = static_cast<float>(std::min(1.0, reach / least));
        const double wide = std::max(reach, least);
        by_square = static_cast<float>(1 / (wide * wide));
    }
    float at(float distance_squared) const {
        const float v = std::max(0.0f, 1 - distance_squared * by_square);
        return height * v * v * v;
    }

    float height = 1, by_square = 1;
};

/// 1 over the seam allowance, falling to 0 past its raw edge.
float over_allowance(float inches) {
    const float u = std::clamp(
        (inches - static_cast<float>(allowance)) * static_cast<float>(1 / (allowance_end - allowance)), 0.0f,
        1.0f);
    return 1 - u * u * (3 - 2 * u);
}

double pixels(double inches, const Draft& draft) {
    return std::max(2.0, inches * draft.scale().ppi);
}

} // namespace

Relief::Relief(const Draft& draft, int beyond, double reach)
    : draft_(draft),
      beyond_(beyond),
      reach_(pixels(allowance_end, draft) + 1.42 * reach),
      bands_(-beyond - 1, draft.scale().height + beyond + 1),
      pucker_(scrambled(draft.layout().seed, 32), pixels(0.55, draft), pixels(0.55, draft)),
      drape_(scrambled(draft.layout().seed, 33), pixels(3.1, draft), pixels(3.1, draft)) {
    const Ripple firmness(scrambled(draft.layout().seed, 31), pixels(0.35, draft), 1);
    for (std::size_t s = 0; s < draft.seams().size(); ++s) {
        const Seam& seam = draft.seams()[s];
        std::vector<float>& firm =
            firm_.emplace_back(static_cast<std::size_t>(seam.to - seam.from) + 2, 0.0f);
        firmness.add_row(0, static_cast<double>(s) * 8, 0.12f, firm);
        const double y = (seam.line.b * -seam.line.c),
                     dy = seam.along.y; // Of its start: off the line's foot.
        const double top = y + std::min(dy * seam.from, dy * seam.to),
                     bottom = y + std::max(dy * seam.from, dy * seam.to);
        bands_.add(s, top - reach_, bottom + reach_);
    }
}

/// Presses one seam into a row.
void Relief::press(std::size_t number, int y, Form& form) const {
    const Seam& seam = draft_.seams()[number];
    const double middle = y + 0.5;
    double from = -beyond_, to = draft_.scale().width + beyond_; // Where the row is within reach.
    const auto narrow_down = [&](double slope, double here, double least, double most) {
        if (std::abs(slope) < 1e-9) {
            if (here < least || here > most) to = from;
            return;
        }
        const double one = (least - here) / slope, other = (most - here) / slope;
        from = std::max(from, std::min(one, other));
        to = std::min(to, std::max(one, other));
    };
    narrow_down(seam.line.a, seam.line.depth(0, middle), -reach_, reach_);
    narrow_down(seam.along.x, seam.place(0, middle), seam.from - reach_, seam.to + reach_);
    if (!(from < to)) return;
    const Hump narrow(narrow_reach * draft_.scale().ppi), broad(broad_reach * draft_.scale().ppi);
    const auto to_inches = static_cast<float>(1 / draft_.scale().ppi);
    const std::vector<float>& firm = firm_[number];
    const auto a = static_cast<float>(seam.line.a), b = static_cast<float>(seam.line.b);
    const auto length = static_cast<float>(seam.to - seam.from);
    const int begin = static_cast<int>(std::ceil(from - 0.5)), end = static_cast<int>(std::ceil(to - 0.5));
    const std::size_t row = static_cast<std::size_t>(y - form.first) *
                            static_cast<std::size_t>(draft_.scale().width + 2 * beyond_);
    std::size_t at = row + static_cast<std::size_t>(begin + beyond_);
    std::size_t stretch = 0;
    for (int x = begin; x < end; ++x, ++at) {
        const double place = seam.place(x + 0.5, middle);
        while (stretch + 1 < seam.stretches.size() && place > seam.stretches[stretch].to) ++stretch;
        const Stretch& here = seam.stretches[stretch];
        const float along = static_cast<float>(place - seam.from);
        const float past = std::max({0.0f, -along, along - length});
        const float aside =
            static_cast<float>(seam.line.depth(x + 0.5, middle)) + a * form.right[at] + b * form.below[at];
        const float squared = aside * aside + past * past;
        const float pressed =
            (here.outer ? 0.4f : 0.85f) + firm[static_cast<std::size_t>(std::clamp(along, 0.0f, length))];
        form.narrow[at] *= 1 - pressed * narrow.at(squared);
        form.broad[at] *= 1 - pressed * broad.at(squared);
        if (here.under != 0 && (aside > 0) == (here.under > 0))
            form.lifted[at] *= 1 - over_allowance(std::sqrt(squared) * to_inches);
    }
}

void Relief::rows(int y, int count, std::span<const float> right, std::span<const float> below,
                  std::span<float> light) const {
    const auto width = static_cast<std::size_t>(draft_.scale().width + 2 * beyond_);
    const auto rows = static_cast<std::size_t>(count) + 2;
    expects(right.size() == rows * width && below.size() == rows * width &&
            light.size() == (rows - 2) * width);
    const std::vector<float> plain(rows * width, 1.0f);
    Form form{y - 1, right, below, plain, plain, plain};
    bands_.each(form.first, form.first + count + 2, [&](std::size_t seam, int from, int to) {
        for (int row = from; row < to; ++row) press(seam, row, form);
    });
    std::vector<float> height(rows * width);
    for (std::size_t k = 0; k < rows; ++k) {
        const std::span<float> line(&height[k * width], width);
        pucker_.add_row(-beyond_, form.first + static_cast<int>(k), 0.0022f, line);
        drape_.add_row(-beyond_, form.first + static_cast<int>(k), 0.020f, line);
    }
    for (std::size_t i = 0; i < height.size(); ++i)
        height[i] += narrow_depth * form.narrow[i] + broad_depth * form.broad[i] +
                     allowance_lift * (1 - form.lifted[i]);
    // Rising towards lower right faces the light. Two pixels of the diagonal are 2 sqrt 2 / ppi inches.
    const auto to_slope = static_cast<float>(draft_.scale().ppi / (2 * std::sqrt(2.0)));
    for (std::size_t k = 0; k + 2 < rows; ++k) {
        const float *above = &height[k * width], *under = &height[(k + 2) * width];
        const float *narrow = &form.narrow[(k + 1) * width], *broad = &form.broad[(k + 1) * width];
        float* out = &light[k * width];
        for (std::size_t i = 0; i < width; ++i) {
            const std::size_t before = i > 0 ? i - 1 : i, after = i + 1 < width ? i + 1 : i;
            const float slope = (under[after] - above[before]) * to_slope;
            const float open = 1 - narrow_shadow * (1 - narrow[i]) - broad_shadow * (1 - broad[i]);
            out[i] = open * (1 + tilt * std::clamp(slope, -0.25f, 0.25f));
        }
    }
}

} // namespace motley::render
