#include "layout/ring.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "layout/image.h"

namespace motley::layout {

namespace {

using measure::Length;
using unit::Box;
using unit::Point;

/// A side that is off by no more than this is eased in over its whole length.
constexpr double eased_in = 1.0 / 16;

/// How many patches fill a side.
int places_along(double length, double wanted) {
    return std::max(1, static_cast<int>(std::lround(length / wanted)));
}

bool fits(double length, double unit) {
    return std::abs(places_along(length, unit) * unit - length) <= eased_in + 1e-9;
}

/// The turn that the plan says; `along` counts the units of a side, the corner before it is -1.
int turn_said(const BorderUnits& units, int side, int along) {
    const int at = std::max(0, along);
    switch (units.turns) {
        case BorderTurns::fixed:
        case BorderTurns::from_middle:
            return side;
        case BorderTurns::alternate:
            return (side + at % 2) % 4;
        case BorderTurns::list:
            break;
    }
    return (side + units.turn_list[static_cast<std::size_t>(at) % units.turn_list.size()]) % 4;
}

void add_side(Ring& ring, const Box& inner, double g, int side, int many, const BorderUnits* units) {
    const double step = (side % 2 == 0 ? inner.width() : inner.height()) / many;
    for (int i = 0; i < many; ++i) {
        const double from = i * step, to = i + 1 == many ? many * step : (i + 1) * step;
        const Box boxes[] = {{inner.left + from, inner.top - g, inner.left + to, inner.top},
                             {inner.right, inner.top + from, inner.right + g, inner.top + to},
                             {inner.right - to, inner.bottom, inner.right - from, inner.bottom + g},
                             {inner.left - g, inner.bottom - to, inner.left, inner.bottom - from}};
        ring.places.push_back({boxes[side], side, false, units ? turn_said(*units, side, i) : 0});
    }
}

/// Gives the images of each unit the turn that looks like it. Strictly: one that is no image of itself, where
/// it would have to be, is told; else it stays as it is.
void turn_with_images(Ring& ring, const unit::Form& form, const std::vector<Image>& images, Point middle,
                      bool strictly) {
    const auto key = [middle](Point p) {
        constexpr double fine = 97.31; // To an inch; no length of a ruler falls between two of these.
        return std::pair(std::lround((p.x - middle.x) * fine), std::lround((p.y - middle.y) * fine));
    };
    std::map<std::pair<long, long>, std::size_t> at;
    for (std::size_t i = 0; i < ring.places.size(); ++i) at[key(ring.places[i].box.middle())] = i;
    std::vector<char> done(ring.places.size(), 0);
    for (std::size_t i = 0; i < ring.places.size(); ++i) {
        if (std::exchange(done[i], 1)) continue;
        for (const Image& image : images) {
            const Ways ways = ways_to_see(form, image);
            const auto there = at.find(key(middle + image(ring.places[i].box.middle() - middle)));
            const auto turn = static_cast<std::size_t>(ring.places[i].turn);
            if (ways.empty() || there == at.end()) {
                if (strictly && !ring.broken) ring.broken = ring.places[i].box;
                continue;
            }
            RingPlace& other = ring.places[there->second];
            const bool looks = std::any_of(ways[turn].begin(), ways[turn].end(),
                                           [&](const Seen& way) { return way.turn == other.turn; });
            if (!looks && !done[there->second]) other.turn = ways[turn].front().turn;
            if (!looks && done[there->second] && strictly && !ring.broken) ring.broken = other.box;
            done[there->second] = 1;
        }
    }
}

/// Finished widths near `asked` whose units fill both sides, nearest first.
std::vector<Length> widths_that_fit(const Plan& plan, const Box& inner, Length asked) {
    const bool inch = plan.measure == measure::System::inch;
    const Length step{inch ? Length::per_inch / 4 : Length::per_millimetre * 5};
    std::vector<Length> found;
    for (Length width = step; width <= asked * 3; width = width + step)
        if (width > plan.seam * 4 && fits(inner.width(), width.in_inches()) &&
            fits(inner.height(), width.in_inches()))
            found.push_back(width);
    std::stable_sort(found.begin(), found.end(), [asked](Length a, Length b) {
        return std::abs(a.ticks - asked.ticks) < std::abs(b.ticks - asked.ticks);
    });
    constexpr std::size_t most = 4;
    if (found.size() > most) found.resize(most);
    return found;
}

/// Width of a plain border on both ends of a stretch that makes it a whole number of units long; at least 1/2
/// in or 1 cm, by the ruler's marks.
Length spacer(const Plan& plan, double length, double unit) {
    const bool inch = plan.measure == measure::System::inch;
    const double least = Length{inch ? Length::per_inch / 2 : Length::per_millimetre * 10}.in_inches();
    const std::int64_t mark = inch ? Length::per_inch / 16 : Length::per_millimetre;
    const double units = std::ceil((length + 2 * least) / unit - 1e-9);
    const double exact = (units * unit - length) / 2;
    return {std::llround(exact * Length::per_inch / static_cast<double>(mark)) * mark};
}

} // namespace

Box inside_border(const Plan& plan, const Frame& frame, std::size_t border) {
    double aside = 0, above = 0;
    for (std::size_t i = 0; i < border; ++i) {
        aside += plan.setting.borders[i].width.in_inches();
        above += plan.setting.borders[i].level_width().in_inches();
    }
    return {-aside, -above, frame.width() + aside, frame.height() + above};
}

Ring ring_of(const Plan& plan, const Frame& frame, std::size_t border) {
    const Border& asked = plan.setting.borders[border];
    const BorderUnits* units = asked.units ? &*asked.units : nullptr;
    const Box inner = inside_border(plan, frame, border);
    const double g = asked.width.in_inches();
    const bool squares = asked.corners == Corners::squares && !asked.corner.empty();
    const int many[] = {places_along(inner.width(), g), places_along(inner.height(), g)};
    const Box corners[] = {{inner.left - g, inner.top - g, inner.left, inner.top},
                           {inner.right, inner.top - g, inner.right + g, inner.top},
                           {inner.right, inner.bottom, inner.right + g, inner.bottom + g},
                           {inner.left - g, inner.bottom, inner.left, inner.bottom + g}};
    Ring ring;
    for (int side = 0; side < 4; ++side) {
        if (squares)
            ring.corners.push_back(corners[side]);
        else
            ring.places.push_back({corners[side], side, true, units ? turn_said(*units, side, -1) : 0});
        add_side(ring, inner, g, side, many[side % 2], units);
    }
    if (!units) return ring;
    if (units->turns == BorderTurns::from_middle)
        turn_with_images(ring, units->form(), images_of(Symmetry::mirror_both, false), inner.middle(), false);
    turn_with_images(ring, units->form(), images_of(plan.setting.symmetry, false), inner.middle(), true);
    return ring;
}

std::optional<Problem> ring_misfit(const Plan& plan, std::size_t border) {
    const Border& asked = plan.setting.borders[border];
    const Box inner = inside_border(plan, Frame(plan), border);
    const double g = asked.width.in_inches();
    const auto say = [&](double inches) {
        return measure::print_measured(Length::inches(inches), plan.measure);
    };
    if (!fits(inner.width(), g) || !fits(inner.height(), g)) {
        const Length aside = spacer(plan, inner.width(), g), above = spacer(plan, inner.height(), g);
        const auto bare = [&](Length length) {
            return fmt::format("\"{}\"", measure::print_exact(length, plan.measure));
        };
        std::string remedy =
            fmt::format("put a plain border of \"width\": {} before it",
                        aside == above ? bare(aside) : fmt::format("[{}, {}]", bare(aside), bare(above)));
        std::vector<std::string> sizes;
        for (const Length width : widths_that_fit(plan, inner, asked.width)) sizes.push_back(bare(width));
        if (!sizes.empty()) remedy += fmt::format(", or make it {} wide", fmt::join(sizes, ", "));
        return Problem{
            plan.where(fmt::format("/setting/borders/{}/width", border)),
            fmt::format("units of {} do not fill the sides of this border: they are {} and {} long", say(g),
                        say(inner.width()), say(inner.height())),
            remedy};
    }
    if (const Ring ring = ring_of(plan, Frame(plan), border); ring.broken)
        return Problem{plan.where(fmt::format("/setting/borders/{}/pieced", border)),
                       fmt::format("with this symmetry the units of the border cannot look the same on both "
                                   "sides: not the one {} from the left and {} from the top",
                                   say(ring.broken->middle().x - inner.left + g),
                                   say(ring.broken->middle().y - inner.top + g)),
                       "use a unit that is its own mirror image, an even number of units along each side, "
                       "or name a fabric for \"corner\""};
    return std::nullopt;
}

} // namespace motley::layout
