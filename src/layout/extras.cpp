#include "layout/extras.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <map>
#include <numeric>
#include <set>
#include <tuple>

#include "layout/image.h"
#include "layout/top.h"

namespace motley::layout {

namespace {

using unit::Point;

unit::Box around(const std::vector<Point>& outline) {
    unit::Box box{HUGE_VAL, HUGE_VAL, -HUGE_VAL, -HUGE_VAL};
    for (const Point p : outline) {
        box.left = std::min(box.left, p.x), box.right = std::max(box.right, p.x);
        box.top = std::min(box.top, p.y), box.bottom = std::max(box.bottom, p.y);
    }
    return box;
}

/// The shapes of a top, found by where they lie.
class Neighbourhood {
public:
    explicit Neighbourhood(const Layout& layout)
        : top_(top_of(layout)),
          rules_(layout.plan.rules),
          least_edge_(rules_.least_contact.in_inches()),
          step_(layout.plan.finished.in_inches()) {
        for (std::size_t s = 0; s < top_.shapes.size(); ++s) {
            boxes_.push_back(around(top_.shapes[s].outline));
            each_field(boxes_.back(), [&](std::pair<int, int> field) { at_[field].push_back(s); });
        }
    }

    const Top& top() const { return top_; }
    const Shape& shape(std::size_t s) const { return top_.shapes[s]; }

    /// Shapes that touch as the rule counts it, rising.
    std::vector<std::size_t> touching(std::size_t s) const {
        std::set<std::size_t> found;
        if (rules_.touching == Touching::free) return {};
        each_field(boxes_[s], [&](std::pair<int, int> field) {
            const auto there = at_.find(field);
            if (there == at_.end()) return;
            for (const std::size_t other : there->second)
                if (other != s && near(boxes_[s], boxes_[other]) && touch(s, other)) found.insert(other);
        });
        return {found.begin(), found.end()};
    }

private:
    static constexpr double close = 1e-6;

    static bool near(const unit::Box& a, const unit::Box& b) {
        return a.left <= b.right + close && b.left <= a.right + close && a.top <= b.bottom + close &&
               b.top <= a.bottom + close;
    }

    bool touch(std::size_t a, std::size_t b) const {
        const Contact contact = contact_of(shape(a).outline, shape(b).outline, least_edge_);
        return contact == Contact::edge ||
               (contact == Contact::corner && rules_.touching == Touching::corner);
    }

    template <class Visit>
    void each_field(const unit::Box& box, Visit visit) const {
        const auto field = [this](double inches) { return static_cast<int>(std::floor(inches / step_)); };
        for (int y = field(box.top - close); y <= field(box.bottom + close); ++y)
            for (int x = field(box.left - close); x <= field(box.right + close); ++x) visit({x, y});
    }

    Top top_;
    const Rules& rules_;
    double least_edge_, step_;
    std::vector<unit::Box> boxes_;
    std::map<std::pair<int, int>, std::vector<std::size_t>> at_;
};

/// The fabrics that a list names, rising; "*" is all that no other list names.
std::vector<FabricId> named(const std::vector<std::string>& ids, const std::vector<std::string>& by_others,
                            const std::vector<palette::Fabric>& all) {
    const auto lists = [](const std::vector<std::string>& list, const std::string& id) {
        return std::find(list.begin(), list.end(), id) != list.end();
    };
    std::vector<FabricId> found;
    for (std::size_t f = 0; f < all.size(); ++f)
        if (lists(ids, all[f].id) || (lists(ids, "*") && !lists(by_others, all[f].id)))
            found.push_back(FabricId{static_cast<std::uint16_t>(f)});
    return found;
}

/// A cornerstone that the plan mixes, or a patch of a pieced border.
bool filled_later(const Shape& shape) {
    return shape.part == Part::cornerstone || (shape.part == Part::border && shape.cell >= 0);
}

int unit_in_border(const Plan& plan, const Shape& shape) {
    const Border& border = plan.setting.borders[static_cast<std::size_t>(shape.cell)];
    const int each = border.units ? static_cast<int>(border.units->form().patches.size()) : 1;
    return shape.patch / each;
}

Extra extra(const Layout& layout, const Shape& shape) {
    const Setting& setting = layout.plan.setting;
    Extra made;
    made.middle = unit::centre(shape.outline);
    if (shape.part == Part::cornerstone) {
        made.number = shape.cell;
        made.takes = named(setting.sashing->cornerstones, {}, layout.fabrics);
        return made;
    }
    made.border = shape.cell;
    made.number = shape.patch;
    const Border& border = setting.borders[static_cast<std::size_t>(shape.cell)];
    if (border.units) {
        const auto& patches = border.units->form().patches;
        const unit::Patch& patch = patches[static_cast<std::size_t>(shape.patch) % patches.size()];
        const std::string& role = patch.role;
        made.input = patch.input;
        std::vector<std::string> others;
        for (const auto& [other, list] : border.units->roles)
            if (other != role) others.insert(others.end(), list.begin(), list.end());
        made.takes = named(border.units->fabrics(role), others, layout.fabrics);
        if (made.takes.empty()) made.takes = named({"*"}, {}, layout.fabrics); // All are named by others.
    } else {
        made.takes = named(border.fabrics, {}, layout.fabrics);
    }
    return made;
}

/// Extras that must show one fabric: patches of one piece, and each other's images.
class Folding {
public:
    Folding(const Layout& layout, const Top& top, const std::vector<Extra>& extras)
        : layout_(layout), middle_{top.width / 2, top.height / 2}, extras_(extras), parent_(extras.size()) {
        std::iota(parent_.begin(), parent_.end(), std::size_t{0});
    }

    /// By extra: the first of those.
    std::vector<std::size_t> run() {
        join_inputs();
        join_images();
        std::vector<std::size_t> firsts;
        for (std::size_t i = 0; i < parent_.size(); ++i) firsts.push_back(root(i));
        return firsts;
    }

private:
    std::size_t root(std::size_t i) const {
        while (parent_[i] != i) i = parent_[i];
        return i;
    }
    void join(std::size_t i, std::size_t j) {
        const std::size_t a = root(i), b = root(j);
        parent_[std::max(a, b)] = std::min(a, b);
    }

    void join_inputs() {
        std::map<std::tuple<int, int, int>, std::size_t> first;
        for (std::size_t i = 0; i < extras_.size(); ++i) {
            if (extras_[i].border < 0) continue;
            const auto& units =
                layout_.plan.setting.borders[static_cast<std::size_t>(extras_[i].border)].units;
            if (!units) continue;
            const int each = static_cast<int>(units->form().patches.size());
            const unit::Patch& patch =
                units->form().patches[static_cast<std::size_t>(extras_[i].number % each)];
            join(first.try_emplace({extras_[i].border, extras_[i].number / each, patch.input}, i)
                     .first->second,
                 i);
        }
    }

    void join_images() {
        const auto key = [&](const Extra& one, Point p) {
            constexpr double fine = 97.31; // To an inch; no length of a ruler falls between two of these.
            return std::tuple(one.border, one.takes, std::lround(p.x * fine), std::lround(p.y * fine));
        };
        std::map<decltype(key(extras_.front(), Point{})), std::size_t> at;
        for (std::size_t i = 0; i < extras_.size(); ++i) at[key(extras_[i], extras_[i].middle - middle_)] = i;
        for (const Image& image : images_of(layout_.plan.setting.symmetry, false))
            for (std::size_t i = 0; i < extras_.size(); ++i)
                if (const auto there = at.find(key(extras_[i], image(extras_[i].middle - middle_)));
                    there != at.end())
                    join(i, there->second);
    }

    const Layout& layout_;
    Point middle_;
    const std::vector<Extra>& extras_;
    std::vector<std::size_t> parent_;
};

} // namespace

std::vector<Extra> extras_of(const Layout& layout) {
    const Neighbourhood near(layout);
    std::vector<std::pair<Extra, std::size_t>> found; // With their shapes.
    for (std::size_t s = 0; s < near.top().shapes.size(); ++s)
        if (filled_later(near.shape(s))) found.emplace_back(extra(layout, near.shape(s)), s);
    std::sort(found.begin(), found.end(), [](const auto& a, const auto& b) {
        return std::tie(a.first.border, a.first.number) < std::tie(b.first.border, b.first.number);
    });
    std::map<std::size_t, int> number_of;
    std::vector<Extra> extras;
    for (auto& [one, s] : found) {
        number_of[s] = static_cast<int>(extras.size());
        extras.push_back(std::move(one));
    }
    if (extras.empty()) return extras;
    const std::vector<std::size_t> firsts = Folding(layout, near.top(), extras).run();
    for (std::size_t i = 0; i < extras.size(); ++i) extras[i].same_as = static_cast<int>(firsts[i]);
    for (const auto& [s, number] : number_of) {
        Extra& one = extras[static_cast<std::size_t>(number)];
        std::set<FabricId> beside;
        for (const std::size_t other : near.touching(s)) {
            const Shape& shape = near.shape(other);
            if (!filled_later(shape)) {
                beside.insert(shape.fabric);
                continue;
            }
            const int its = number_of.at(other);
            const Extra& neighbour = extras[static_cast<std::size_t>(its)];
            const bool one_unit =
                one.border >= 0 && one.border == neighbour.border &&
                unit_in_border(layout.plan, near.shape(s)) == unit_in_border(layout.plan, shape);
            const bool background = one.takes.size() < 2 && neighbour.takes.size() < 2;
            if (!one_unit && !background && one.same_as != neighbour.same_as) one.touches.push_back(its);
        }
        one.beside.assign(beside.begin(), beside.end());
        std::sort(one.touches.begin(), one.touches.end());
    }
    return extras;
}

std::vector<std::pair<int, FabricId>> patches_at_borders(const Layout& layout) {
    const auto& borders = layout.plan.setting.borders;
    const auto& exempt = layout.plan.rules.exempt;
    std::vector<std::pair<int, FabricId>> found;
    if (borders.empty() || borders.front().pieced || layout.plan.rules.touching == Touching::free ||
        std::find(exempt.begin(), exempt.end(), borders.front().fabrics.front()) != exempt.end())
        return found;
    const Neighbourhood near(layout);
    const std::size_t places = layout.assignment.patches.size() / layout.assignment.turns.size();
    for (std::size_t s = 0; s < near.top().shapes.size(); ++s) {
        const Shape& strip = near.shape(s);
        if (strip.part != Part::border) continue;
        for (const std::size_t other : near.touching(s))
            if (const Shape& shape = near.shape(other); shape.part == Part::unit)
                found.emplace_back(shape.cell * static_cast<int>(places) + shape.patch, strip.fabric);
    }
    std::sort(found.begin(), found.end());
    found.erase(std::unique(found.begin(), found.end()), found.end());
    return found;
}

std::vector<std::string> broken_borders(const Layout& layout) {
    const std::vector<char> same = same_fabric(layout.plan.rules, layout.fabrics);
    const auto alike = [&](FabricId f, FabricId g) {
        return same[index(f) * layout.fabrics.size() + index(g)] != 0;
    };
    const auto name = [&](FabricId f) { return layout.fabrics[index(f)].id; };
    std::vector<std::string> sentences;
    if (layout.plan.setting.borders.empty()) return sentences;
    const Board board = layout.plan.board();
    const std::size_t places = layout.assignment.patches.size() / layout.assignment.turns.size();
    for (const auto& [patch, strip] : patches_at_borders(layout)) {
        const FabricId shown = layout.assignment.patches[static_cast<std::size_t>(patch)];
        if (alike(shown, strip))
            sentences.push_back(fmt::format("touching: {} at {} and the border of {}", name(shown),
                                            board.place(patch / static_cast<int>(places)), name(strip)));
    }
    const std::vector<Extra> extras = extras_of(layout);
    const auto fabric = [&](const Extra& one) {
        return layout.borders[static_cast<std::size_t>(one.border)][static_cast<std::size_t>(one.number)];
    };
    std::map<std::pair<int, FabricId>, int> times;
    for (std::size_t i = 0; i < extras.size(); ++i) {
        const Extra& one = extras[i];
        if (one.border < 0) continue;
        for (const int other : one.touches)
            if (const Extra& its = extras[static_cast<std::size_t>(other)];
                its.border >= 0 && other > static_cast<int>(i) && alike(fabric(one), fabric(its)))
                ++times[{one.border, fabric(one)}];
        if (one.takes.size() < 2) continue;
        for (const FabricId beside : one.beside)
            times[{one.border, fabric(one)}] += alike(fabric(one), beside);
    }
    for (const auto& [where, many] : times)
        if (many > 0)
            sentences.push_back(fmt::format("touching: {} at the pieced border {} in {} place{}",
                                            name(where.second), where.first + 1, many, many == 1 ? "" : "s"));
    return sentences;
}

} // namespace motley::layout
