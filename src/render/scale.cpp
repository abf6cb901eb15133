#include "render/scale.h"

#include <algorithm>
#include <cmath>
#include <utility>
#include <vector>

#include "fault/fault.h"
#include "layout/top.h"

namespace motley::render {

namespace {

constexpr double whole_within = 1e-6;

double off_whole(double pixels) {
    const double off = std::abs(pixels - std::round(pixels));
    return off < whole_within ? 0 : off;
}

/// What should come out whole, in shares of the length that does.
struct Wanted {
    std::vector<double> strips;
    std::vector<double> patches; ///< Upright and level edges inside the units.
    bool even = false;
};

Wanted wanted(const layout::Plan& plan, double whole) {
    const layout::Setting& setting = plan.setting;
    Wanted found;
    if (setting.sashing)
        found.strips.push_back(setting.sashing->width.in_inches() / plan.finished.in_inches());
    for (const layout::Border& border : setting.borders) {
        found.strips.push_back(border.width.in_inches() / whole);
        if (border.level) found.strips.push_back(border.level->in_inches() / whole);
    }
    found.even = setting.arrangement == layout::Arrangement::brick;
    if (setting.arrangement == layout::Arrangement::on_point) return found;
    for (const unit::Form& form : plan.forms())
        for (const unit::Patch& patch : form.patches)
            for (std::size_t i = 0; i < patch.outline.size(); ++i) {
                const unit::Point from = patch.outline[i], to = patch.outline[(i + 1) % patch.outline.size()];
                const bool upright = std::abs(from.x - to.x) < whole_within,
                           level = std::abs(from.y - to.y) < whole_within;
                if (upright) found.patches.push_back(from.x);
                if (level) found.patches.push_back(from.y);
                found.even = found.even || (!upright && !level);
            }
    return found;
}

/// Of the counts of pixels that are large enough the one that suits best; of equals the largest.
int best_count(const Wanted& wanted, int most, int least) {
    int best = std::max(most, least);
    if (wanted.even) best += best % 2 == 0 ? 0 : best > least ? -1 : 1;
    std::pair<double, bool> least_off{1e300, true};
    const double enough = most * (wanted.strips.empty() ? 0.9 : 0.8);
    for (int count = best; count >= std::max<double>(least, enough); count -= wanted.even ? 2 : 1) {
        std::pair<double, bool> off{0, false};
        for (const double strip : wanted.strips) off.first += off_whole(strip * count);
        for (const double edge : wanted.patches) off.second = off.second || off_whole(edge * count) > 0;
        if (!(off < least_off)) continue;
        least_off = off;
        best = count;
    }
    return best;
}

} // namespace

Scale scale_of(const layout::Plan& plan, int longest_side) {
    expects(longest_side >= 64 && longest_side <= 20000);
    expects(plan.finished.ticks > 0);
    const layout::Extent extent = layout::extent_of(plan);
    const bool on_point = plan.setting.arrangement == layout::Arrangement::on_point;
    const double side = plan.finished.in_inches(), whole = on_point ? side * std::sqrt(0.5) : side;
    const int most =
        static_cast<int>(longest_side * whole / std::max(extent.width, extent.height) + whole_within);
    const int count = best_count(wanted(plan, whole), most, on_point ? 3 : 4);
    const double ppi = count / whole;
    const auto pixels = [ppi](double inches) {
        return std::max(1, static_cast<int>(std::floor(inches * ppi + 0.5 - whole_within)));
    };
    return {ppi, on_point ? side * ppi : count, pixels(extent.width), pixels(extent.height)};
}

} // namespace motley::render
