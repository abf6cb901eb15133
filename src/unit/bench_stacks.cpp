// The bench's work with right sides together: laying, stitching, trimming the seam, opening.
#include <fmt/format.h>

#include <cmath>

#include "document/document.h"
#include "unit/bench.h"

namespace motley::unit {

namespace {

constexpr double fits = 1e-6;

/// Where the box `of` goes so that it lies as asked on the box `on`.
Point placed(const Box& of, const Box& on, int across, int down) {
    const double x = across < 0   ? on.left - of.left
                     : across > 0 ? on.right - of.right
                                  : on.middle().x - of.middle().x;
    const double y = down < 0   ? on.top - of.top
                     : down > 0 ? on.bottom - of.bottom
                                : on.middle().y - of.middle().y;
    return {x, y};
}

Side side_of(Guide guide) {
    return static_cast<Side>(guide); // The first four guides are the sides.
}

} // namespace

void Bench::lay(const Lay& how, const std::string& as) {
    std::vector<std::string> names{how.bottom};
    for (const Lay::Top& top : how.tops) names.push_back(top.thing);
    for (auto& hand : deal(names)) {
        Stack made{flat(std::move(hand[0]), how.bottom), {}, {}};
        show_before(how.bottom, made.bottom);
        const Box on = box(made.bottom);
        for (std::size_t i = 0; i < how.tops.size(); ++i) {
            const Lay::Top& top = how.tops[i];
            Flat piece = moved(flat(std::move(hand[i + 1]), top.thing), rotated(top.turn));
            show_before(top.thing, piece);
            piece = moved(std::move(piece), flipped());
            const Box of = box(piece);
            if (!seeking_ && (of.width() > on.width() + fits || of.height() > on.height() + fits))
                refuse(fmt::format("{} measures {} and {} on which it is laid {}",
                                   document::in_quotes(top.thing), said_(of.width(), of.height()),
                                   document::in_quotes(how.bottom), said_(on.width(), on.height())),
                       "lay the smaller on the larger, or cut both to one size");
            made.tops.push_back(moved(std::move(piece), shifted(placed(of, on, top.across, top.down))));
        }
        show_after(as, made);
        put(as, std::move(made));
    }
}

void Bench::sew(const SewLines& how, const std::string& as) {
    for (Thing& thing : take(how.thing)) {
        Stack made = stack(std::move(thing), how.thing);
        if (how.on < 0 || static_cast<std::size_t>(how.on) > made.tops.size())
            refuse(fmt::format("there is no layer {} in {}", how.on, document::in_quotes(how.thing)),
                   fmt::format("0 is the bottom, and {} lie on it", made.tops.size()));
        const Box below = box(made.bottom);
        const Box marked = how.on == 0 ? below : box(made.tops[static_cast<std::size_t>(how.on) - 1]);
        const auto stitch = [&](const Line& line, Segment along) {
            const Point shift = line.from - along.from;
            Flat only{{}, {{along.from + shift, along.to + shift}}};
            for (const Side side : {Side::top, Side::right, Side::bottom, Side::left})
                only = right_of(only, line_through(edge(below, side)));
            if (only.seams.empty())
                refuse("the seam misses the cloth",
                       "it must run within " + said_(below.width(), below.height()));
            made.stitches.push_back({only.seams[0], line});
        };
        for (const Guide along : how.along) {
            const Segment mark = guide(marked, along);
            const Line line = line_through(mark);
            if (how.where == SewLines::Where::edge) {
                for (const Flat& top : made.tops) {
                    const Segment upper = edge(box(top), side_of(along)), lower = edge(below, side_of(along));
                    if (!seeking_ && length(upper.from - lower.from) + length(upper.to - lower.to) > fits)
                        refuse(fmt::format("edges that do not match: below {}, on top {}",
                                           said_(length(lower.to - lower.from)),
                                           said_(length(upper.to - upper.from))),
                               "both layers must be cut to one size and lie edge to edge");
                }
                stitch(beside(line, seam_), mark);
            } else if (how.where == SewLines::Where::either_side) {
                stitch(beside(line, seam_), mark);
                stitch(beside(line_through({mark.to, mark.from}), seam_), {mark.to, mark.from});
            } else {
                const double middle = line.side(below.middle());
                if (std::abs(middle) <= fits && !seeking_)
                    refuse("the seam runs through the middle: which half to keep is open",
                           "sew to either side of the line instead");
                if (middle >= 0)
                    stitch(line, mark);
                else
                    stitch(line_through({mark.to, mark.from}), {mark.to, mark.from});
            }
        }
        show_before(how.thing, made);
        put(as, std::move(made));
    }
}

void Bench::trim_seam(const std::string& name, const std::string& as) {
    for (Thing& thing : take(name)) {
        Stack made = stack(std::move(thing), name);
        const Stitches* holding = hinge(made);
        if (!holding) refuse(document::in_quotes(name) + " is not sewn along one seam", "sew it first");
        const Line blade = beside(holding->seam, -seam_);
        const Box around = box(made);
        const double reach = length({around.width(), around.height()});
        const Flat cut = [&] {
            Flat only{{}, {{blade.from - blade.along * reach, blade.from + blade.along * reach}}};
            for (const Side side : {Side::top, Side::right, Side::bottom, Side::left})
                only = right_of(only, line_through(edge(around, side)));
            return only;
        }();
        std::vector<Mark> marks;
        for (const Segment segment : cut.seams) marks.push_back({segment, Mark::Kind::cut});
        show_before(name, made, marks);
        made = keep(made, blade);
        if (showing(made.bottom) <= 0)
            refuse("nothing is left of " + document::in_quotes(name), "sew elsewhere");
        put(as, std::move(made));
    }
}

void Bench::open(const Open& how, const std::string& as) {
    for (Thing& thing : take(how.thing)) {
        Stack closed = stack(std::move(thing), how.thing);
        if (closed.tops.empty() || closed.stitches.empty())
            refuse(document::in_quotes(how.thing) + " falls apart: no seam holds its layers",
                   "sew before you cut, and cut so that each part keeps a seam");
        const Stitches* holding = hinge(closed);
        if (!holding)
            refuse(fmt::format("{} is sewn shut: {} seams cross it", document::in_quotes(how.thing),
                               closed.stitches.size()),
                   "cut it so that each part has one seam outside its allowance");
        Flat made = opened(closed, *holding, how.press);
        const double below = showing(right_of(made, holding->seam));
        if (below <= 0 || showing(made) - below <= 0)
            refuse(fmt::format("the seam swallows {}: nothing of a layer shows beyond an allowance of {}",
                               document::in_quotes(how.thing), said_.set(seam_)),
                   "use larger pieces or a narrower seam");
        show_before(how.thing, closed);
        show_after(as, made);
        put(as, std::move(made));
    }
}

} // namespace motley::unit
