#include "layout/pinning.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>
#include <utility>

#include "layout/contact.h"
#include "layout/score.h"

namespace motley::layout {

namespace {

/// A patch whose fabric a pin says.
struct Held {
    int cell = 0, patch = 0;
    std::size_t fabric = 0;
    int pin = 0;
};

std::string place(const Brief& brief, int cell) {
    return brief.board.place(cell);
}

std::string pointer(const Plan& plan, int pin) {
    return plan.where(fmt::format("/pins/{}", pin));
}

/// Reads pin after pin into the brief; remembers which pin said what.
class Pinner {
public:
    Pinner(const Plan& plan, const std::vector<std::vector<char>>& takers, Brief& brief,
           Complaints& complaints)
        : plan_(plan),
          takers_(takers),
          brief_(brief),
          complaints_(complaints),
          fabric_pin_(brief.pinned.size(), -1),
          turn_pin_(brief.pinned_turn.size(), -1) {
        for (std::size_t f = 0; f < brief.names.size(); ++f) by_name_[brief.names[f]] = f;
    }

    /// Every held patch, row by row.
    std::vector<Held> run() {
        for (std::size_t i = 0; i < plan_.pins.size(); ++i) read(static_cast<int>(i), plan_.pins[i]);
        std::vector<Held> all;
        const int patches = brief_.patches_per_unit();
        for (std::size_t at = 0; at < fabric_pin_.size(); ++at)
            if (fabric_pin_[at] >= 0)
                all.push_back({static_cast<int>(at) / patches, static_cast<int>(at) % patches,
                               index(brief_.pinned[at]), fabric_pin_[at]});
        return all;
    }

private:
    void read(int i, const Pin& pin) {
        const Board& board = brief_.board;
        const int cell = board.cell(pin.row, pin.column);
        if (cell < 0) {
            const bool in_list = pin.row >= 0 && pin.row < board.list_rows() && pin.column >= 0 &&
                                 pin.column < board.list_columns(pin.row);
            complaints_.add(
                pointer(plan_, i),
                fmt::format("the pin at row {}, column {} {}", pin.row + 1, pin.column + 1,
                            in_list ? "is on a plain block between the units" : "lies outside the top"),
                fmt::format("the top has {} rows and {} columns{}", board.list_rows(), board.list_columns(0),
                            board.list_rows() > 1 && board.list_columns(1) < board.list_columns(0)
                                ? ", one less in every second row"
                                : ""));
            return;
        }
        if (brief_.kit && !pin.fabrics.empty()) {
            if (std::exchange(told_of_batches_, true)) return;
            complaints_.add(pointer(plan_, i) + "/fabrics",
                            "these units are sewn in batches, so their fabrics are not chosen one by one",
                            "pin only the \"turn\", or use a recipe that makes one unit at a time");
            return;
        }
        for (std::size_t p = 0; p < pin.fabrics.size(); ++p)
            if (pin.fabrics[p]) hold(i, cell, p, *pin.fabrics[p]);
        if (pin.turn) turn(i, static_cast<std::size_t>(cell), *pin.turn);
    }

    void hold(int i, int cell, std::size_t p, const std::string& id) {
        const std::string where = fmt::format("{}/fabrics/{}", pointer(plan_, i), p);
        expects(p < takers_.size());
        const auto found = by_name_.find(id);
        if (found == by_name_.end()) {
            complaints_.add(where,
                            fmt::format("the pin at {} names the fabric {}, which the palette does not have",
                                        place(brief_, cell), in_quotes(id)),
                            suggestion(id, brief_.names, "the ids are in the palette"));
            return;
        }
        if (!takers_[p][found->second]) {
            complaints_.add(
                where,
                fmt::format("the pin at {} puts {} where the role {} does not take it", place(brief_, cell),
                            in_quotes(id), in_quotes(brief_.role(static_cast<int>(p)))),
                "pin a fabric of that role, or add this one to the role's list");
            return;
        }
        const std::size_t at = static_cast<std::size_t>(cell * brief_.patches_per_unit()) + p;
        const FabricId fabric{static_cast<std::uint16_t>(found->second)};
        if (fabric_pin_[at] >= 0 && brief_.pinned[at] != fabric)
            clash(i, fabric_pin_[at], cell,
                  fmt::format("{} and {}", in_quotes(brief_.names[index(brief_.pinned[at])]), in_quotes(id)));
        if (fabric_pin_[at] >= 0) return;
        brief_.pinned[at] = fabric;
        fabric_pin_[at] = i;
    }

    void turn(int i, std::size_t cell, int quarters) {
        if (turn_pin_[cell] >= 0 && brief_.turns[cell] != quarters)
            clash(i, turn_pin_[cell], static_cast<int>(cell),
                  fmt::format("turn {} and turn {}", brief_.turns[cell], quarters));
        if (turn_pin_[cell] >= 0) return;
        brief_.turns[cell] = quarters;
        brief_.pinned_turn[cell] = 1;
        turn_pin_[cell] = i;
    }

    void clash(int i, int earlier, int cell, const std::string& what) {
        complaints_.add(pointer(plan_, i),
                        fmt::format("two pins want different things at {}: {}", place(brief_, cell), what),
                        fmt::format("keep this pin or the one at /pins/{}", earlier));
    }

    const Plan& plan_;
    const std::vector<std::vector<char>>& takers_;
    Brief& brief_;
    Complaints& complaints_;
    std::map<std::string, std::size_t> by_name_;
    bool told_of_batches_ = false;
    std::vector<int> fabric_pin_; ///< By patch: the pin that holds it, or -1.
    std::vector<int> turn_pin_;   ///< By cell.
};

/// Looks for rules that the held patches break among themselves.
class Judge {
public:
    Judge(const Plan& plan, const std::vector<std::vector<char>>& takers, const Brief& brief,
          Complaints& complaints)
        : plan_(plan),
          takers_(takers),
          brief_(brief),
          complaints_(complaints),
          contacts_(brief.forms, brief.board, brief.least_edge),
          same_(same_fabric(brief)) {}

    void look(const std::vector<Held>& held) {
        const int reach = std::max(brief_.rules.apart, brief_.rules.touching == Touching::free ? 1 : 2);
        for (std::size_t i = 0; i < held.size() && !complaints_.full(); ++i)
            for (std::size_t j = i + 1; j < held.size() && row(held[j]) - row(held[i]) < reach; ++j)
                compare(held[i], held[j]);
        if (brief_.rules.line) columns(held, reach);
        if (brief_.rules.contrast > 0) contrast(held);
    }

private:
    int row(const Held& held) const { return held.cell / brief_.columns; }
    int column(const Held& held) const { return held.cell % brief_.columns; }
    bool same(const Held& a, const Held& b) const {
        return same_[a.fabric * brief_.names.size() + b.fabric] != 0;
    }

    /// Pairs down a column that lie too far apart to have been compared yet.
    void columns(std::vector<Held> held, int reach) {
        std::stable_sort(held.begin(), held.end(),
                         [&](const Held& a, const Held& b) { return column(a) < column(b); });
        for (std::size_t i = 0; i < held.size() && !complaints_.full(); ++i)
            for (std::size_t j = i + 1; j < held.size() && column(held[j]) == column(held[i]); ++j)
                if (row(held[j]) - row(held[i]) >= reach) compare(held[i], held[j]);
    }

    void compare(const Held& a, const Held& b) {
        if (a.cell == b.cell || !same(a, b)) return;
        const int down = row(b) - row(a), across = column(b) - column(a);
        std::string what;
        if (touch(a, b))
            what = "and the two touch";
        else if (brief_.board.apart(brief_.board.parity(row(a)), down, across) < brief_.rules.apart)
            what = fmt::format("less than {} units apart", brief_.rules.apart);
        else if (brief_.rules.line && (down == 0 || across == 0))
            what = fmt::format("twice in one {}", down == 0 ? "row" : "column");
        if (what.empty()) return;
        const std::string who = a.fabric == b.fabric ? fmt::format("{} is", in_quotes(brief_.names[a.fabric]))
                                                     : fmt::format("{} and {}, too alike to tell apart, are",
                                                                   in_quotes(brief_.names[a.fabric]),
                                                                   in_quotes(brief_.names[b.fabric]));
        complaints_.add(pointer(plan_, std::max(a.pin, b.pin)),
                        fmt::format("{} pinned at {} and at {}, {}", who, place(brief_, a.cell),
                                    place(brief_, b.cell), what),
                        fmt::format("free one of the two pins (the other is /pins/{}), or ease the rule",
                                    std::min(a.pin, b.pin)));
    }

    std::vector<int> turns(int cell) const {
        const int turn = brief_.turns[static_cast<std::size_t>(cell)];
        return turn < 0 ? std::vector<int>{0, 1, 2, 3} : std::vector<int>{turn};
    }

    /// Whether the two touch however the units are turned.
    bool touch(const Held& a, const Held& b) const {
        const int down = row(b) - row(a), across = column(b) - column(a);
        if (brief_.rules.touching == Touching::free || std::abs(down) > 1 || std::abs(across) > 1)
            return false;
        for (const int t : turns(a.cell))
            for (const int u : turns(b.cell)) {
                const Contact contact = contacts_.between(brief_.board.parity(row(a)), down, across, a.patch,
                                                          pose(0, t), b.patch, pose(0, u));
                if (contact == Contact::none) return false;
                if (contact == Contact::corner && brief_.rules.touching == Touching::edge) return false;
            }
        return true;
    }

    double lightness(std::size_t fabric) const { return brief_.labs[fabric].l; }

    void contrast(const std::vector<Held>& held) {
        for (std::size_t i = 0; i < held.size() && !complaints_.full(); ++i) {
            const Held& a = held[i];
            for (int p = 0; p < brief_.patches_per_unit(); ++p) {
                if (p == a.patch) continue;
                const FabricId pinned =
                    brief_.pinned[static_cast<std::size_t>(a.cell * brief_.patches_per_unit() + p)];
                if (pinned == no_fabric)
                    alone(a, static_cast<std::size_t>(p));
                else if (p > a.patch &&
                         std::abs(lightness(index(pinned)) - lightness(a.fabric)) < brief_.rules.contrast)
                    complaints_.add(
                        pointer(plan_, a.pin),
                        fmt::format("{} and {}, pinned in one unit at {}, differ by {:.1f} in lightness",
                                    in_quotes(brief_.names[a.fabric]), in_quotes(brief_.names[index(pinned)]),
                                    place(brief_, a.cell),
                                    std::abs(lightness(index(pinned)) - lightness(a.fabric))),
                        fmt::format("the plan's contrast asks for at least {}", brief_.rules.contrast));
            }
        }
    }

    /// A pinned patch beside which no fabric of another role can lie.
    void alone(const Held& held, std::size_t p) {
        for (std::size_t f = 0; f < brief_.names.size(); ++f)
            if (takers_[p][f] && std::abs(lightness(f) - lightness(held.fabric)) >= brief_.rules.contrast)
                return;
        complaints_.add(
            pointer(plan_, held.pin),
            fmt::format("beside {}, pinned at {}, no fabric of the role {} differs enough in lightness",
                        in_quotes(brief_.names[held.fabric]), place(brief_, held.cell),
                        in_quotes(brief_.role(static_cast<int>(p)))),
            fmt::format("the plan's contrast asks for at least {}", brief_.rules.contrast));
    }

    const Plan& plan_;
    const std::vector<std::vector<char>>& takers_;
    const Brief& brief_;
    Complaints& complaints_;
    Contacts contacts_;
    std::vector<char> same_;
};

} // namespace

PinUses pin_down(const Plan& plan, const std::vector<std::vector<char>>& takers, Brief& brief,
                 Complaints& complaints) {
    PinUses uses(takers.size(), std::vector<std::vector<int>>(brief.names.size()));
    if (plan.pins.empty()) return uses;
    const std::vector<Held> held = Pinner(plan, takers, brief, complaints).run();
    for (const Held& one : held) uses[static_cast<std::size_t>(one.patch)][one.fabric].push_back(one.pin);
    for (auto& role : uses)
        for (auto& pins : role) std::sort(pins.begin(), pins.end());
    if (!held.empty()) Judge(plan, takers, brief, complaints).look(held);
    return uses;
}

} // namespace motley::layout
