#include "placement/arrange_units.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "layout/score.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

Units::Units(const Wall& w, const std::vector<layout::FabricId>& cloth)
    : wall(w),
      slots(cloth),
      fabrics(static_cast<int>(w.brief.names.size())),
      same_(layout::same_fabric(w.brief)) {
    expects(slots.size() == wall.kit.slots.size());
    for (const layout::KitUnit& unit : wall.kit.units) {
        Made made;
        made.form = unit.form;
        made.twins = unit.twins;
        const auto& parts_of = wall.parts(unit.form);
        made.parts = static_cast<int>(parts_of.size());
        double light = 0;
        for (const std::vector<int>& part : parts_of) {
            const int slot = unit.slots[at(part.front())];
            const int f = static_cast<int>(layout::index(slots[at(slot)]));
            fabric_.push_back(f);
            double area = 0;
            for (const int p : part) area += wall.brief.forms[at(unit.form)].patches[at(p)].area;
            light += area * wall.brief.labs[at(f)].l;
            if (exempt(f)) continue;
            made.fabrics |= std::uint64_t{1} << (f % 64);
            for (int g = 0; g < fabrics; ++g)
                if (same(f, g)) made.alike |= std::uint64_t{1} << (g % 64);
        }
        fabric_.resize(at((static_cast<int>(made_.size()) + 1) * wall.most_parts()), 0);
        made.light = static_cast<std::int32_t>(std::floor(light * LightMap::steps + 0.5));
        if (made.twins >= static_cast<int>(groups_.size())) groups_.resize(at(made.twins + 1));
        groups_[at(made.twins)].push_back(count());
        made_.push_back(made);
    }
}

bool Units::identical(int u, int v) const {
    if (form(u) != form(v)) return false;
    for (int i = 0; i < parts(u); ++i)
        if (fabric(u, i) != fabric(v, i)) return false;
    return true;
}

int Units::rule_breaks(int u, int pose_u, int a, int v, int pose_v, int b, int way) const {
    if ((made_[at(u)].fabrics & made_[at(v)].alike) == 0) return 0;
    int broken = 0;
    const bool zone = wall.brief.rules.apart > 1 || wall.brief.rules.line;
    if (zone && wall.apart(a, b)) {
        for (int i = 0; i < parts(u); ++i)
            for (int j = 0; j < parts(v); ++j) broken += same(fabric(u, i), fabric(v, j));
        return broken;
    }
    if (way < 0) return 0;
    for (const Wall::Touch touch : wall.touches(way, pose_u, pose_v))
        broken += same(fabric(u, touch.part), fabric(v, touch.other));
    return broken;
}

std::int64_t Units::shared(int u, int v) const {
    if ((made_[at(u)].fabrics & made_[at(v)].fabrics) == 0) return 0;
    std::int64_t sum = 0;
    for (int i = 0; i < parts(u); ++i)
        for (int j = 0; j < parts(v); ++j)
            if (fabric(u, i) == fabric(v, j) && !exempt(fabric(u, i)))
                sum += std::int64_t{patches(u, i)} * patches(v, j);
    return sum;
}

} // namespace motley::placement
