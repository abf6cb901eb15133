#include "assembly/pressing.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "assembly/borders.h"
#include "assembly/lie.h"
#include "assembly/seams.h"
#include "assembly/told.h"
#include "layout/top.h"

namespace motley::assembly {

namespace {

using unit::Point;

/// What ends at a point on the seam between two rows, or between two neighbours.
struct Meeting {
    unit::Point at;
    int above = -1, below = -1;   ///< Upstanding seams whose lower or upper end it is.
    std::array<int, 4> towards{}; ///< Of an inner seam, by the side of its unit that it ends at.
    std::array<char, 4> inner{};
    int corners = 0; ///< Inner seams that run into a corner of their unit.

    void add(const Meeting& other) {
        above = std::max(above, other.above);
        below = std::max(below, other.below);
        corners += other.corners;
        for (std::size_t side = 0; side < inner.size(); ++side) {
            if (!other.inner[side]) continue;
            inner[side] = 1;
            towards[side] = other.towards[side];
        }
    }
};

class Presser {
public:
    Presser(const layout::Layout& layout, const Rows& rows)
        : layout_(layout),
          rows_(rows),
          to_top_(to_rows(rows.diagonal).inverse()),
          upstanding_(upstanding_seams(layout, rows)) {}

    Pressing run() {
        gather();
        choose();
        joints();
        match_points();
        long_seams();
        const std::vector<PressedSeam> around = border_seams(layout_);
        made_.seams.insert(made_.seams.end(), around.begin(), around.end());
        tell(layout_, rows_, made_);
        return std::move(made_);
    }

private:
    /// A direction of the rows on the top.
    Point turned(Point direction) const { return to_top_(direction) - to_top_(Point{}); }

    /// Everything that ends at one point comes together.
    void gather() {
        struct End {
            Spot spot;
            Point at;
            Meeting meeting;
        };
        std::vector<End> ends;
        for (std::size_t i = 0; i < upstanding_.size(); ++i) {
            const Upstanding& seam = upstanding_[i];
            const Point lower{seam.x, seam.bottom}, upper{seam.x, seam.top};
            ends.push_back({spot(lower), lower, {}});
            ends.back().meeting.above = static_cast<int>(i);
            ends.push_back({spot(upper), upper, {}});
            ends.back().meeting.below = static_cast<int>(i);
        }
        for (const Ending& ending : endings(layout_, rows_)) {
            ends.push_back({spot(ending.at), ending.at, {}});
            Meeting& meeting = ends.back().meeting;
            if (ending.side < 0) {
                meeting.corners = 1;
                continue;
            }
            meeting.inner[static_cast<std::size_t>(ending.side)] = 1;
            meeting.towards[static_cast<std::size_t>(ending.side)] = ending.towards;
        }
        std::stable_sort(ends.begin(), ends.end(),
                         [](const End& a, const End& b) { return a.spot < b.spot; });
        for (std::size_t i = 0; i < ends.size(); ++i) {
            if (i == 0 || ends[i].spot != ends[i - 1].spot) {
                meetings_.push_back(ends[i].meeting);
                meetings_.back().at = ends[i].at;
            } else {
                meetings_.back().add(ends[i].meeting);
            }
        }
    }

    /// Ways of all upstanding seams; chains lead through the meetings.
    void choose() {
        std::vector<Loose> loose(upstanding_.size());
        for (std::size_t i = 0; i < loose.size(); ++i) {
            loose[i].fixed = upstanding_[i].fixed;
            if (loose[i].fixed < 0) loose[i].darker = upstanding_[i].darker();
        }
        constexpr std::size_t upper_side = 0, lower_side = 2;
        for (const Meeting& meeting : meetings_) {
            if (meeting.above >= 0 && meeting.below >= 0) {
                loose[static_cast<std::size_t>(meeting.above)].below = meeting.below;
                continue;
            }
            // A seam from above meets one of the unit below, at that unit's upper side; and the other way.
            const auto meet = [&](int seam, std::size_t side) {
                if (seam < 0 || meeting.towards[side] == 0) return;
                ++loose[static_cast<std::size_t>(seam)].met[meeting.towards[side] > 0 ? left : right];
            };
            meet(meeting.above, upper_side);
            meet(meeting.below, lower_side);
        }
        ways_ = most_nests(loose);
        for (std::size_t i = 0; i < upstanding_.size(); ++i) add(upstanding_[i], ways_[i]);
    }

    void add(const Upstanding& from, Way way) {
        PressedSeam seam;
        seam.at = to_top_(unit::Segment{{from.x, from.top}, {from.x, from.bottom}});
        seam.back = way == left;
        seam.to = turned({seam.back ? -1.0 : 1.0, 0});
        seam.row = from.row;
        seam.before = from.before;
        seam.fixed = from.fixed >= 0;
        seam.lighter = seam.back ? -from.lighter : from.lighter;
        if (!seam.fixed && from.darker() >= 0) ++(from.darker() == way ? made_.to_darker : made_.to_lighter);
        made_.seams.push_back(seam);
    }

    void joints() {
        for (const Meeting& meeting : meetings_) {
            if (meeting.above < 0 || meeting.below < 0) continue;
            const Upstanding& above = upstanding_[static_cast<std::size_t>(meeting.above)];
            const bool nests = ways_[static_cast<std::size_t>(meeting.above)] !=
                               ways_[static_cast<std::size_t>(meeting.below)];
            made_.joints.push_back(
                {to_top_(Point{above.x, above.bottom}), meeting.above, meeting.below, nests});
            made_.nested += nests;
        }
    }

    /// +1 where an upstanding seam is pressed to the right.
    int lie(int seam) const { return ways_[static_cast<std::size_t>(seam)] == right ? 1 : -1; }

    void match_points() {
        constexpr std::size_t top = 0, on_right = 1, bottom = 2, on_left = 3;
        for (const Meeting& meeting : meetings_) {
            const auto add = [&](int one, int other) {
                MatchPoint point{to_top_(meeting.at), MatchPoint::Sides::unknown};
                if (one != 0 && other != 0)
                    point.sides = one == other ? MatchPoint::Sides::same : MatchPoint::Sides::nest;
                made_.match_points.push_back(point);
            };
            const auto& inner = meeting.inner;
            const auto& towards = meeting.towards;
            if (inner[bottom] && inner[top]) add(towards[bottom], towards[top]);
            if (inner[bottom] && meeting.below >= 0) add(towards[bottom], lie(meeting.below));
            if (inner[top] && meeting.above >= 0) add(towards[top], lie(meeting.above));
            if (inner[on_right] && inner[on_left]) add(towards[on_right], towards[on_left]);
            if (meeting.corners > 1) add(0, 0);
        }
    }

    void add_long(int row, double y, double from, double to, bool down) {
        PressedSeam seam;
        seam.of = SeamOf::rows;
        seam.at = to_top_(unit::Segment{{from, y}, {to, y}});
        seam.to = turned({0, down ? 1.0 : -1.0});
        seam.row = row;
        seam.fixed = true;
        made_.seams.push_back(seam);
    }

    /// How far the cloth above (or below) a line between rows reaches along it. With sashing on point a
    /// triangle reaches there from the row beyond the strips.
    unit::Box along(std::size_t row, bool above, double y) const {
        unit::Box reach{1e9, y, -1e9, y};
        const std::size_t beyond =
            above ? std::max<std::size_t>(row, 1) - 1 : std::min(row + 1, rows_.rows.size() - 1);
        for (const std::size_t r : {row, beyond})
            for (const Place& place : rows_.rows[r].places) {
                const unit::Polygon outline = unit::moved(place.outline, to_rows(rows_.diagonal));
                const unit::Box box = box_of(outline);
                if (std::abs((above ? box.bottom : box.top) - y) > same_edge) continue;
                for (const Point p : outline) {
                    if (std::abs(p.y - y) > same_edge) continue;
                    reach.left = std::min(reach.left, p.x);
                    reach.right = std::max(reach.right, p.x);
                }
            }
        return reach;
    }

    double edge(const Row& row, bool lower) const {
        const auto plain = std::find_if(row.places.begin(), row.places.end(), [&](const Place& place) {
            return !triangle(rows_.kinds[static_cast<std::size_t>(place.kind)].part);
        });
        const unit::Box box = box_of(unit::moved(plain->outline, to_rows(rows_.diagonal)));
        return lower ? box.bottom : box.top;
    }

    /// Rows press down, but always towards a row of strips; the last corners outwards.
    void long_seams() {
        for (std::size_t r = 0; r + 1 < rows_.rows.size(); ++r) {
            const Row& upper = rows_.rows[r];
            const double y = edge(upper, true);
            const unit::Box a = along(r, true, y), b = along(r + 1, false, y);
            add_long(static_cast<int>(r), y, std::max(a.left, b.left), std::min(a.right, b.right),
                     !upper.sashing);
        }
        for (const Place& corner : rows_.last) {
            const unit::Box box = box_of(unit::moved(corner.outline, to_rows(rows_.diagonal)));
            const bool below = std::abs(box.top - edge(rows_.rows.back(), true)) < same_edge;
            add_long(below ? static_cast<int>(rows_.rows.size()) - 1 : 0, below ? box.top : box.bottom,
                     box.left, box.right, below);
        }
    }

    const layout::Layout& layout_;
    const Rows& rows_;
    const unit::Motion to_top_;
    const std::vector<Upstanding> upstanding_;
    std::vector<Meeting> meetings_; ///< From the top, then from the left.
    std::vector<Way> ways_;
    Pressing made_;
};

} // namespace

Pressing press(const layout::Layout& layout, const Rows& rows) {
    return Presser(layout, rows).run();
}

} // namespace motley::assembly
