#include "placement/model.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"

namespace motley::placement {

Model::Model(const layout::Brief& b)
    : brief(b),
      contacts(b.forms, b.board, b.least_edge),
      columns(b.columns),
      rows(b.rows),
      cells(b.cells()),
      places(b.patches_per_unit()),
      patches(b.patches()),
      fabrics(static_cast<int>(b.names.size())),
      stride_(2 * b.columns - 1),
      plane_((2 * b.rows - 1) * (2 * b.columns - 1)),
      reach_(std::max(b.rules.touching == layout::Touching::free ? 0 : 1, b.rules.apart - 1)) {
    lay_out_pulls();
    lay_out_near_steps();
    lay_out_fabrics();
    const bool open = std::any_of(brief.turns.begin(), brief.turns.end(), [](int t) { return t < 0; });
    turns_matter_ = open && places > 1;
}

void Model::lay_out_pulls() {
    for (int place = 0; place < places; ++place)
        for (int pose = 0; pose < contacts.poses(); ++pose) {
            const unit::Point p = contacts.centre(place, pose);
            const auto known = std::find_if(centre_points_.begin(), centre_points_.end(), [&](unit::Point q) {
                return std::abs(p.x - q.x) < 1e-9 && std::abs(p.y - q.y) < 1e-9;
            });
            centre_of_.push_back(static_cast<int>(known - centre_points_.begin()));
            if (known == centre_points_.end()) centre_points_.push_back(p);
        }
    centres_ = static_cast<int>(centre_points_.size());
    const layout::Board& board = brief.board;
    pulls_.resize(static_cast<std::size_t>(board.parities()) * static_cast<std::size_t>(centres_) *
                  static_cast<std::size_t>(centres_) * static_cast<std::size_t>(plane_));
    std::size_t at = 0;
    for (int parity = 0; parity < board.parities(); ++parity)
        for (const unit::Point a : centre_points_)
            for (const unit::Point b : centre_points_)
                for (int dr = 1 - rows; dr < rows; ++dr)
                    for (int dc = 1 - columns; dc < columns; ++dc, ++at) {
                        const unit::Point step = board.step(parity, dr, dc);
                        const double dx = b.x - a.x + step.x, dy = b.y - a.y + step.y;
                        const double d2 = dx * dx + dy * dy;
                        pulls_[at] =
                            d2 < 1e-9
                                ? 0
                                : static_cast<std::int32_t>(std::floor((1 << distance_bits) / d2 + 0.5));
                    }
}

std::int32_t Model::site(int patch, int pose) const {
    const int cell = patch / places;
    return centre(patch % places, pose) * plane_ + cell / columns * stride_ + cell % columns;
}

std::int32_t Model::row(int patch, int pose) const {
    const int cell = patch / places;
    const int middle = (rows - 1) * stride_ + columns - 1;
    return (parity(cell) * centres_ + centre(patch % places, pose)) * centres_ * plane_ + middle -
           cell / columns * stride_ - cell % columns;
}

void Model::lay_out_near_steps() {
    constexpr int reach = 3; // layout/score.h: colour looks at d <= 3.
    for (int parity = 0; parity < brief.board.parities(); ++parity) {
        std::vector<NearStep>& steps = near_steps_[static_cast<std::size_t>(parity)];
        for (int dr = -reach - 1; dr <= reach + 1; ++dr)
            for (int dc = -reach - 1; dc <= reach + 1; ++dc) {
                NearStep step{dr, dc, {}};
                bool any = false;
                const unit::Point apart = brief.board.step(parity, dr, dc);
                for (const unit::Point a : centre_points_)
                    for (const unit::Point b : centre_points_) {
                        const double dx = b.x - a.x + apart.x, dy = b.y - a.y + apart.y;
                        const double d2 = dx * dx + dy * dy;
                        const bool near = d2 > 1e-9 && d2 <= reach * reach + 1e-9;
                        step.weight.push_back(
                            near ? static_cast<std::int32_t>(std::floor((1 << near_bits) / d2 + 0.5)) : 0);
                        any = any || near;
                    }
                near_at_[static_cast<std::size_t>(parity)][static_cast<std::size_t>((dr + 4) * 9 + dc + 4)] =
                    any ? static_cast<int>(steps.size()) : -1;
                if (any) steps.push_back(std::move(step));
            }
    }
}

std::int32_t Model::near_weight(int patch, int pose, int other, int other_pose) const {
    const int a = patch / places, b = other / places;
    const int dr = b / columns - a / columns, dc = b % columns - a % columns;
    if (std::abs(dr) > 4 || std::abs(dc) > 4) return 0;
    const std::size_t parity_of_a = static_cast<std::size_t>(parity(a));
    const int step = near_at_[parity_of_a][static_cast<std::size_t>((dr + 4) * 9 + dc + 4)];
    if (step < 0) return 0;
    const int pair = centre(patch % places, pose) * centres_ + centre(other % places, other_pose);
    return near_steps_[parity_of_a][static_cast<std::size_t>(step)].weight[static_cast<std::size_t>(pair)];
}

void Model::lay_out_fabrics() {
    same_ = layout::same_fabric(brief);
    const std::vector<double> like = layout::likeness(brief);
    for (const double x : like)
        likeness_.push_back(static_cast<std::int32_t>(std::floor(x * (1 << likeness_bits) + 0.5)));
    alike_.resize(static_cast<std::size_t>(fabrics));
    for (int f = 0; f < fabrics; ++f)
        for (int g = 0; g < fabrics; ++g) {
            if (same(f, g)) alike_[static_cast<std::size_t>(f)].push_back(g);
            const double step = std::abs(brief.labs[static_cast<std::size_t>(f)].l -
                                         brief.labs[static_cast<std::size_t>(g)].l);
            contrasts_.push_back(step >= brief.rules.contrast);
        }
    const std::vector<unit::Patch>& first = brief.forms.front().patches;
    for (int p = 0; p < places; ++p)
        for (int q = 0; q < places; ++q)
            compared_.push_back(std::max(p, q) < static_cast<int>(first.size()) &&
                                first[static_cast<std::size_t>(p)].role !=
                                    first[static_cast<std::size_t>(q)].role);
    for (const unit::Form& form : brief.forms)
        for (int place = 0; place < places; ++place) {
            const bool there = place < static_cast<int>(form.patches.size());
            const double area = there ? form.patches[static_cast<std::size_t>(place)].area : 0;
            for (int f = 0; f < fabrics; ++f)
                light_.push_back(static_cast<std::int32_t>(
                    std::floor(area * brief.labs[static_cast<std::size_t>(f)].l * light_steps + 0.5)));
        }
    for (const double l : brief.aim)
        aim_.push_back(static_cast<std::int32_t>(std::floor(l * light_steps + 0.5)));
}

bool Model::conflict(int patch, int pose, int other, int other_pose) const {
    const int a = patch / places, b = other / places;
    const int dr = b / columns - a / columns, dc = b % columns - a % columns;
    if (dr == 0 && dc == 0) return false;
    const layout::Rules& rules = brief.rules;
    if (std::max(std::abs(dr), std::abs(dc)) < rules.apart &&
        brief.board.apart(parity(a), dr, dc) < rules.apart)
        return true;
    if (rules.line && (dr == 0 || dc == 0)) return true;
    if (rules.touching == layout::Touching::free) return false;
    const layout::Contact contact =
        contacts.between(parity(a), dr, dc, patch % places, pose, other % places, other_pose);
    return contact == layout::Contact::edge ||
           (contact == layout::Contact::corner && rules.touching == layout::Touching::corner);
}

} // namespace motley::placement
