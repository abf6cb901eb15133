// The bench's cuts: sections of a set, lines through all layers, trimming to size; and turning.
#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "document/document.h"
#include "unit/bench.h"

namespace motley::unit {

namespace {

constexpr double fits = 1e-6;

double cloth_in(const Flat& flat) {
    return showing(flat) + allowances(flat);
}
double cloth_in(const Stack& stack) {
    return showing(stack) + allowances(stack);
}
double cloth_in(const Thing& thing) {
    if (const auto* flat = std::get_if<Flat>(&thing)) return cloth_in(*flat);
    if (const auto* stack = std::get_if<Stack>(&thing)) return cloth_in(*stack);
    return 0;
}
double shown(const Thing& thing) {
    if (const auto* flat = std::get_if<Flat>(&thing)) return showing(*flat);
    return showing(std::get<Stack>(thing).bottom);
}
Thing right_of(const Thing& thing, const Line& line) {
    if (const auto* flat = std::get_if<Flat>(&thing)) return right_of(*flat, line);
    return right_of(std::get<Stack>(thing), line);
}
Box box(const Thing& thing) {
    return std::holds_alternative<Flat>(thing) ? box(std::get<Flat>(thing)) : box(std::get<Stack>(thing));
}

/// Rows first, then from the left, as one reads.
bool reads_before(const Thing& a, const Thing& b) {
    const Point p = box(a).middle(), q = box(b).middle();
    if (std::abs(p.y - q.y) > fits) return p.y < q.y;
    return p.x < q.x - fits;
}

} // namespace

template <class Layered>
Layered Bench::keep(const Layered& thing, const Line& line) {
    trimmings_ += cloth_in(right_of(thing, opposite(line)));
    return right_of(thing, line);
}
template Flat Bench::keep(const Flat&, const Line&);
template Stack Bench::keep(const Stack&, const Line&);

void Bench::cross_cut(const std::string& name, double every, const std::string& as) {
    if (!(every > 0) || !std::isfinite(every))
        refuse("the sections to be cut from " + document::in_quotes(name) + " come to no length",
               "ask for a larger unit, or write a larger size");
    for (Thing& thing : take(name)) {
        Flat rest = flat(std::move(thing), name);
        const Box whole = box(rest);
        const auto sections = static_cast<int>(std::floor((whole.width() + fits) / every));
        if (sections < 1 || sections > 999)
            refuse(fmt::format("a cut that misses: {} is {} long, and sections of {} were to be cut from it",
                               document::in_quotes(name), said_(whole.width()), said_(every)),
                   "make the set longer or the sections shorter");
        std::vector<Mark> marks;
        for (int i = 1; i <= sections; ++i)
            if (const double x = whole.left + i * every; x < whole.right - fits)
                marks.push_back({{{x, whole.top}, {x, whole.bottom}}, Mark::Kind::cut});
        show_before(name, rest, marks);
        std::vector<Flat> made;
        for (int i = 1; i <= sections; ++i) {
            const double x = whole.left + i * every;
            const Line blade{{x, whole.top}, {0, 1}}; // Its right, looking down, is what lies to the left.
            if (Flat section = unit::right_of(rest, blade); !section.scraps.empty()) {
                made.push_back(std::move(section));
                rest = unit::right_of(rest, opposite(blade));
            }
            if (x < whole.right - fits)
                marks.push_back({{{x, whole.top}, {x, whole.bottom}}, Mark::Kind::cut});
        }
        trimmings_ += cloth_in(rest);
        for (Flat& section : made) {
            if (showing(section) <= 0)
                refuse("a section of " + document::in_quotes(name) + " shows no cloth",
                       "cut longer sections");
            show_after(as, section);
            put(as, std::move(section));
        }
    }
}

std::vector<Thing> Bench::parts(Thing whole, const std::vector<Line>& lines) {
    std::vector<Thing> found{std::move(whole)};
    for (const Line& line : lines) {
        std::vector<Thing> next;
        bool cuts = false;
        for (const Thing& part : found) {
            Thing right = right_of(part, line), left = right_of(part, opposite(line));
            const bool is_right = cloth_in(right) > 0, is_left = cloth_in(left) > 0;
            cuts = cuts || (is_right && is_left);
            if (is_right) next.push_back(std::move(right));
            if (is_left) next.push_back(std::move(left));
        }
        if (!cuts && !seeking_)
            refuse(fmt::format("a cut that misses: it runs along the edge of what is cut, {}",
                               said_(box(found[0]).width(), box(found[0]).height())),
                   "cut through the cloth");
        found = std::move(next);
    }
    return found;
}

void Bench::cut(const CutLines& how, const std::string& as) {
    std::vector<Thing> made;
    for (Thing& thing : take(how.thing)) {
        if (std::holds_alternative<Strip>(thing))
            refuse(document::in_quotes(how.thing) + " is a strip, from which nothing has been cut",
                   "sew it into a strip set, and cross-cut that");
        const Box around =
            std::holds_alternative<Flat>(thing) ? box(thing) : box(std::get<Stack>(thing).bottom);
        std::vector<Line> lines;
        std::vector<Mark> marks;
        for (const Guide along : how.along) {
            const Segment blade = guide(around, along);
            lines.push_back(line_through(blade));
            marks.push_back({blade, Mark::Kind::cut});
        }
        show_before(how.thing, thing, marks);
        std::vector<Thing> cut = parts(std::move(thing), lines);
        // What shows nothing is a snippet of an allowance.
        const auto snippets =
            std::stable_partition(cut.begin(), cut.end(), [](const Thing& part) { return shown(part) > 0; });
        for (auto part = snippets; part != cut.end(); ++part) trimmings_ += cloth_in(*part);
        cut.erase(snippets, cut.end());
        std::stable_sort(cut.begin(), cut.end(), reads_before);
        for (Thing& part : cut) made.push_back(std::move(part));
    }
    for (Thing& part : made) {
        show_after(as, part);
        put(as, std::move(part));
    }
}

void Bench::trim(const Trim& how, std::optional<double> width, std::optional<double> height,
                 const std::string& as) {
    for (Thing& thing : take(how.thing)) {
        Flat made = flat(std::move(thing), how.thing);
        const Box around = box(made);
        const double w = width.value_or(around.width()), h = height.value_or(around.height());
        if (!seeking_ && (!(w > 0) || !(h > 0) || w > around.width() + fits || h > around.height() + fits))
            refuse(fmt::format("a trim larger than the piece: {} measures {}, and {} is wanted",
                               document::in_quotes(how.thing), said_(around.width(), around.height()),
                               said_(w, h)),
                   is_of_strips(made) ? "use more strips or wider ones, or ask for a smaller finished size"
                                      : "start from larger pieces, or ask for a smaller size");
        Point middle = around.middle();
        if (how.about == Trim::About::seam) {
            if (made.seams.empty()) refuse("there is no seam to trim about", "trim about the centre");
            const Line seam = line_through(made.seams.back());
            middle = seam.from + seam.along * dot(middle - seam.from, seam.along);
        } else if (how.about == Trim::About::top_left) {
            middle = {around.left + w / 2, around.top + h / 2};
        } else if (how.about == Trim::About::top) {
            middle.y = around.top + h / 2;
        }
        if (seeking_ && (w > around.width() || h > around.height()))
            // A size is being tried that this piece is too small for: as if it were large enough.
            made = {{{Box{middle.x - w / 2, middle.y - h / 2, middle.x + w / 2, middle.y + h / 2}.outline(),
                      made.scraps[0].input, 0, Motion{}, false}},
                    {}};
        const Box wanted{middle.x - w / 2, middle.y - h / 2, middle.x + w / 2, middle.y + h / 2};
        std::vector<Mark> marks;
        std::vector<Side> sides;
        if (height || how.ears) sides.insert(sides.end(), {Side::top, Side::bottom});
        if (width || how.ears) sides.insert(sides.end(), {Side::right, Side::left});
        for (const Side side : sides)
            if (const Line blade = line_through(edge(wanted, side));
                !unit::right_of(made, beside(opposite(blade), fits)).scraps.empty())
                marks.push_back({edge(wanted, side), Mark::Kind::cut});
        show_before(how.thing, made, marks);
        for (const Side side : sides) made = keep(made, line_through(edge(wanted, side)));
        if (showing(made) <= 0)
            refuse("nothing is left of " + document::in_quotes(how.thing), "ask for a larger size");
        const bool whole_size = width && height;
        if (!seeking_ && whole_size && std::abs(showing(made) - w * h) > fits * w * h)
            refuse(fmt::format("{} does not fill {}: {:.3f} sq in of it are missing",
                               document::in_quotes(how.thing), said_(w, h), w * h - showing(made)),
                   "start from larger pieces");
        step_.taken_off_width = std::max(step_.taken_off_width, around.width() - w);
        step_.taken_off_height = std::max(step_.taken_off_height, around.height() - h);
        show_after(as, made);
        put(as, std::move(made));
    }
}

void Bench::turn(const Turn& how, const std::vector<int>& inputs, const std::string& as) {
    for (Thing& thing : take(how.thing)) {
        const Flat lying = flat(std::move(thing), how.thing);
        show_before(how.thing, lying);
        Flat best;
        if (inputs.empty()) {
            best = moved(lying, rotated(how.by));
        } else {
            // Upright first: the turn with the smallest box; of those the one that brings the input nearest.
            double best_room = 0, best_pull = 0;
            for (int degrees = 0; degrees < 360; degrees += 45) {
                Flat turned = moved(lying, rotated(degrees));
                const Box around = box(turned);
                Point sum;
                double shows = 0;
                for (const Scrap& scrap : turned.scraps) {
                    if (scrap.hidden || std::find(inputs.begin(), inputs.end(), scrap.input) == inputs.end())
                        continue;
                    shows += area(scrap.outline);
                    sum = sum + centre(scrap.outline) * area(scrap.outline);
                }
                if (shows <= 0) refuse(document::in_quotes(how.put) + " does not show in it", "");
                const Point way = sum * (1 / shows) - around.middle();
                const double pull = way.x * how.across + way.y * how.down;
                const double room = around.width() * around.height();
                const bool smaller = room < best_room * (1 - fits);
                const bool as_small = room < best_room * (1 + fits);
                if (degrees > 0 && !smaller && !(as_small && pull > best_pull + fits)) continue;
                best = std::move(turned);
                best_room = room;
                best_pull = pull;
            }
        }
        show_after(as, best);
        put(as, std::move(best));
    }
}

} // namespace motley::unit
