#include "placement/arrange_wall.h"

#include <algorithm>
#include <cmath>
#include <map>
#include <utility>

#include "fault/fault.h"
#include "placement/arrange_seam.h"

namespace motley::placement {

namespace {

constexpr int steps[8][2] = {{0, 1}, {1, -1}, {1, 0}, {1, 1}, {0, -1}, {-1, 1}, {-1, 0}, {-1, -1}};
constexpr int forward_steps = 4; // The other four are their opposites, in the same order.

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

std::int32_t pull_at(double squared_distance) {
    if (squared_distance < 1e-9) return 0;
    return static_cast<std::int32_t>(std::floor((1 << Wall::pull_bits) / squared_distance + 0.5));
}

} // namespace

Wall::Wall(const layout::Brief& b)
    : brief(b), kit(b.kit.value()), columns(b.columns), rows(b.rows), cells(b.cells()), light_map(b) {
    for (int cell = 0; cell < cells; ++cell)
        if (b.board.present(cell)) places.push_back(cell);
    expects(kit.units.size() >= places.size());
    const bool free = std::any_of(b.turns.begin(), b.turns.end(), [](int t) { return t < 0; });
    for (int t = 0; t < 4; ++t)
        if (free || std::find(b.turns.begin(), b.turns.end(), t) != b.turns.end()) {
            turn_number_[at(t)] = turns();
            turns_.push_back(t);
        }
    find_parts();
    find_neighbours();
    lay_out_ways();
    lay_out_far();
    find_stripes();
}

/// Patches are one part when no unit of the form tells them apart.
void Wall::find_parts() {
    for (int form = 0; form < static_cast<int>(brief.forms.size()); ++form) {
        const std::size_t patches = brief.forms[at(form)].patches.size();
        std::vector<std::vector<int>> slots(patches); // [patch][unit of this form]
        for (const layout::KitUnit& unit : kit.units)
            if (unit.form == form)
                for (std::size_t p = 0; p < patches; ++p) slots[p].push_back(unit.slots[p]);
        std::map<std::vector<int>, std::vector<int>> by_slots;
        for (std::size_t p = 0; p < patches; ++p) by_slots[slots[p]].push_back(static_cast<int>(p));
        std::vector<std::vector<int>> parts;
        for (auto& [key, part] : by_slots) parts.push_back(std::move(part));
        std::sort(parts.begin(), parts.end());
        most_parts_ = std::max(most_parts_, static_cast<int>(parts.size()));
        parts_.push_back(std::move(parts));
    }
    expects(most_parts_ > 0 && most_parts_ < 256);
}

void Wall::find_neighbours() {
    around_.resize(at(cells));
    for (const int cell : places)
        for (int k = 0; k < 8; ++k) {
            const int r = cell / columns + steps[k][0], c = cell % columns + steps[k][1];
            if (r < 0 || r >= rows || c < 0 || c >= columns || !brief.board.present(r * columns + c))
                continue;
            Neighbours& around = around_[at(cell)];
            around.list[at(around.count++)] = {r * columns + c, parity(cell) * 8 + k};
        }
    const int zone = brief.rules.apart - 1;
    for (int parity = 0; parity < brief.board.parities(); ++parity)
        for (int dr = -zone; dr <= zone; ++dr)
            for (int dc = -zone; dc <= zone; ++dc)
                if ((dr != 0 || dc != 0) && brief.board.apart(parity, dr, dc) < brief.rules.apart)
                    apart_steps_[at(parity)].emplace_back(dr, dc);
}

int Wall::way(int from, int to) const {
    const int dr = to / columns - from / columns, dc = to % columns - from % columns;
    if (std::abs(dr) > 1 || std::abs(dc) > 1 || from == to) return -1;
    constexpr int number[9] = {7, 6, 5, 4, -1, 0, 1, 2, 3};
    return parity(from) * 8 + number[(dr + 1) * 3 + dc + 1];
}

bool Wall::apart(int a, int b) const {
    const int dr = b / columns - a / columns, dc = b % columns - a % columns;
    if (brief.rules.line && (dr == 0 || dc == 0)) return a != b;
    const int zone = brief.rules.apart - 1;
    return std::abs(dr) <= zone && std::abs(dc) <= zone && a != b &&
           brief.board.apart(parity(a), dr, dc) <= zone;
}

// ---- neighbours, part by part
// ------------------------------------------------------------------------------------

void Wall::lay_out_ways() {
    const layout::Contacts contacts(brief.forms, brief.board, brief.least_edge);
    const int parities = brief.board.parities();
    pulls_.assign(at(parities * 8 * poses() * poses()) * parts_squared(), 0);
    for (int parity = 0; parity < parities; ++parity)
        for (int k = 0; k < 8; ++k) {
            const unit::Point step = brief.board.close_step(parity, steps[k][0], steps[k][1]);
            const double x = std::abs(step.x), y = std::abs(step.y);
            meet_[at(parity * 8 + k)] = x <= 1 + 1e-9 && y <= 1 + 1e-9;
            beside_[at(parity * 8 + k)] = (x < 1 - 1e-9 && y <= 1 + 1e-9) || (y < 1 - 1e-9 && x <= 1 + 1e-9);
            if (k < forward_steps) lay_out_pair(parity * 8 + k, parity, steps[k][0], steps[k][1], contacts);
        }
    list_touches(contacts);
}

/// Forward and, the same figures seen from the other side, backward.
void Wall::lay_out_pair(int way, int parity, int row_step, int column_step,
                        const layout::Contacts& contacts) {
    const int back_parity = brief.board.bricks() && row_step % 2 != 0 ? 1 - parity : parity;
    const int back = back_parity * 8 + way % 8 + forward_steps;
    for (int one = 0; one < poses(); ++one)
        for (int other = 0; other < poses(); ++other) {
            const std::size_t there = pair(way, one, other), here = pair(back, other, one);
            const auto& parts = parts_[at(one / turns())];
            const auto& others = parts_[at(other / turns())];
            for (std::size_t i = 0; i < parts.size(); ++i)
                for (std::size_t j = 0; j < others.size(); ++j) {
                    std::int32_t sum = 0;
                    for (const int p : parts[i])
                        for (const int q : others[j])
                            sum += pull_at(contacts.distance_squared(parity, row_step, column_step, p,
                                                                     laid(one), q, laid(other)));
                    const std::size_t many = at(most_parts_);
                    pulls_[there * parts_squared() + i * many + j] = sum;
                    pulls_[here * parts_squared() + j * many + i] = sum;
                }
        }
}

void Wall::list_touches(const layout::Contacts& contacts) {
    const layout::Touching rule = brief.rules.touching;
    touches_from_.push_back(0);
    for (int way = 0; way < brief.board.parities() * 8; ++way)
        for (int one = 0; one < poses(); ++one)
            for (int other = 0; other < poses(); ++other) {
                const auto& parts = parts_[at(one / turns())];
                const auto& others = parts_[at(other / turns())];
                for (std::size_t i = 0; i < parts.size(); ++i)
                    for (std::size_t j = 0; j < others.size(); ++j) {
                        bool touch = false;
                        for (const int p : parts[i])
                            for (const int q : others[j]) {
                                const layout::Contact contact =
                                    contacts.between(way / 8, steps[way % 8][0], steps[way % 8][1], p,
                                                     laid(one), q, laid(other));
                                touch =
                                    touch || contact == layout::Contact::edge ||
                                    (contact == layout::Contact::corner && rule == layout::Touching::corner);
                            }
                        if (touch && rule != layout::Touching::free)
                            touches_.push_back({static_cast<std::uint8_t>(i), static_cast<std::uint8_t>(j)});
                    }
                touches_from_.push_back(touches_.size());
            }
    touches_.emplace_back(); // So that the end of the last list has an address.
}

// ---- further away
// -------------------------------------------------------------------------------------------------

void Wall::lay_out_far() {
    for (int parity = 0; parity < brief.board.parities(); ++parity)
        for (int dr = -reach; dr <= reach; ++dr)
            for (int dc = -reach; dc <= reach; ++dc) {
                const unit::Point step = brief.board.step(parity, dr, dc);
                const double squared = step.x * step.x + step.y * step.y;
                const bool neighbour = std::abs(dr) <= 1 && std::abs(dc) <= 1;
                all_.push_back(pull_at(squared));
                far_.push_back(neighbour ? 0 : all_.back());
                constexpr double near = 9 + 1e-9; // layout/score.h: colour looks at d <= 3.
                if (!neighbour && squared <= near) near_steps_[at(parity)].push_back({dr, dc, far_.back()});
            }
}

std::int32_t Wall::pull(int a, int b) const {
    const int dr = b / columns - a / columns, dc = b % columns - a % columns;
    if (std::abs(dr) > reach || std::abs(dc) > reach) return 0;
    return all_[at((parity(a) * side + dr + reach) * side + dc + reach)];
}

std::int32_t Wall::near_pull(int a, int b) const {
    const int dr = b / columns - a / columns, dc = b % columns - a % columns;
    if (std::abs(dr) > 4 || std::abs(dc) > 4) return 0;
    for (const NearStep& step : near_steps(a))
        if (step.row_step == dr && step.column_step == dc) return step.pull;
    return 0;
}

// ---- stripes
// ------------------------------------------------------------------------------------------------------

/// A form has stripes when the seams between patches of one role all run one way.
void Wall::find_stripes() {
    const double half = std::acos(-1.0);
    std::vector<double> directions;
    for (const unit::Form& form : brief.forms) {
        double way = -1;
        bool mixed = false;
        for (std::size_t p = 0; p < form.patches.size(); ++p)
            for (std::size_t q = p + 1; q < form.patches.size(); ++q) {
                if (form.patches[p].role != form.patches[q].role) continue;
                const auto seam = seam_between(form.patches[p].outline, form.patches[q].outline);
                if (!seam) continue;
                mixed = mixed || (way >= 0 && std::abs(*seam - way) > 1e-6);
                way = *seam;
            }
        for (int number = 0; number < turns(); ++number) {
            if (way < 0 || mixed) {
                stripes_.push_back(-1);
                continue;
            }
            double turned = way + (turns_[at(number)] % 2 == 1 ? half / 2 : 0);
            if (turned > half - 1e-6) turned -= half;
            const auto known = std::find_if(directions.begin(), directions.end(),
                                            [&](double d) { return std::abs(d - turned) < 1e-6; });
            stripes_.push_back(static_cast<int>(known - directions.begin()));
            if (known == directions.end()) directions.push_back(turned);
        }
    }
}

} // namespace motley::placement
