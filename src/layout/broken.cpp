// The rules of a brief, looked at one after the other in the plainest way: what the search promises is
// checked against this.

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>

#include "layout/contact.h"
#include "layout/layout.h"
#include "layout/score.h"

namespace motley::layout {

namespace {

/// Breaches of one kind for one pair of fabrics, told in one sentence.
struct Breach {
    int times = 0;
    int first = 0, second = 0; ///< Cells of the first one found.
};

class Inspection {
public:
    Inspection(const Brief& brief, const Assignment& assignment)
        : brief_(brief),
          assignment_(assignment),
          contacts_(brief.forms, brief.board, brief.least_edge),
          same_(same_fabric(brief)),
          patches_(brief.patches_per_unit()) {}

    int touching_pairs();
    void apart();
    void line();
    void contrast();
    void counts();
    void slot_counts();
    void pins();
    std::vector<std::string> sentences() && { return std::move(sentences_); }

private:
    using Pairs = std::map<std::pair<std::size_t, std::size_t>, Breach>;

    std::size_t fabric(int cell, int p) const {
        return index(assignment_.patches[static_cast<std::size_t>(cell * patches_ + p)]);
    }
    const std::vector<unit::Patch>& form(int cell) const {
        return brief_.forms[static_cast<std::size_t>(assignment_.form(static_cast<std::size_t>(cell)))]
            .patches;
    }
    bool there(int cell, int p) const { return p < static_cast<int>(form(cell).size()); }
    /// Patches of one role (the strips of a set) need no contrast.
    bool differ_in_role(int cell, int p, int q) const {
        return form(cell)[static_cast<std::size_t>(p)].role != form(cell)[static_cast<std::size_t>(q)].role;
    }
    bool same(std::size_t f, std::size_t g) const { return same_[f * brief_.names.size() + g] != 0; }
    std::string place(int cell) const { return brief_.board.place(cell); }
    void note(Pairs& pairs, std::size_t f, std::size_t g, int a, int b) {
        Breach& breach = pairs[std::minmax(f, g)];
        if (breach.times++ == 0) breach.first = a, breach.second = b;
    }
    void tell(const Pairs& pairs, const std::string& what);

    const Brief& brief_;
    const Assignment& assignment_;
    Contacts contacts_;
    std::vector<char> same_;
    int patches_;
    std::vector<std::string> sentences_;
};

void Inspection::tell(const Pairs& pairs, const std::string& what) {
    for (const auto& [fabrics, breach] : pairs) {
        const auto& [f, g] = fabrics;
        const std::string who =
            f == g ? fmt::format("{}", brief_.names[f])
                   : fmt::format("{} and {} (too alike to tell apart)", brief_.names[f], brief_.names[g]);
        const std::string more = breach.times == 1 ? ""
                                 : breach.times == 2
                                     ? ", and in one more place"
                                     : fmt::format(", and in {} more places", breach.times - 1);
        sentences_.push_back(
            fmt::format("{}: {} at {} and {}{}", what, who, place(breach.first), place(breach.second), more));
    }
}

int Inspection::touching_pairs() {
    if (brief_.rules.touching == Touching::free) return 0;
    Pairs pairs;
    int total = 0;
    const int steps[4][2] = {{0, 1}, {1, -1}, {1, 0}, {1, 1}};
    for (int a = 0; a < brief_.cells(); ++a)
        for (const auto& [dr, dc] : steps) {
            const int r = a / brief_.columns + dr, c = a % brief_.columns + dc;
            if (r >= brief_.rows || c < 0 || c >= brief_.columns) continue;
            const int b = r * brief_.columns + c;
            for (int p = 0; p < patches_; ++p)
                for (int q = 0; q < patches_; ++q) {
                    if (!same(fabric(a, p), fabric(b, q))) continue;
                    const Contact contact =
                        contacts_.between(brief_.board.parity(a / brief_.columns), dr, dc, p,
                                          assignment_.pose(static_cast<std::size_t>(a)), q,
                                          assignment_.pose(static_cast<std::size_t>(b)));
                    if (contact == Contact::none ||
                        (contact == Contact::corner && brief_.rules.touching == Touching::edge))
                        continue;
                    ++total;
                    note(pairs, fabric(a, p), fabric(b, q), a, b);
                }
        }
    tell(pairs, "touching");
    return total;
}

void Inspection::apart() {
    const int apart = brief_.rules.apart;
    if (apart < 2) return;
    Pairs pairs;
    for (int a = 0; a < brief_.cells(); ++a)
        for (int dr = 0; dr < apart; ++dr)
            for (int dc = dr == 0 ? 1 : 1 - apart; dc < apart; ++dc) {
                const int r = a / brief_.columns + dr, c = a % brief_.columns + dc;
                if (r >= brief_.rows || c < 0 || c >= brief_.columns) continue;
                if (brief_.board.apart(brief_.board.parity(a / brief_.columns), dr, dc) >= apart) continue;
                const int b = r * brief_.columns + c;
                for (int p = 0; p < patches_; ++p)
                    for (int q = 0; q < patches_; ++q)
                        if (same(fabric(a, p), fabric(b, q))) note(pairs, fabric(a, p), fabric(b, q), a, b);
            }
    tell(pairs, fmt::format("less than {} units apart", apart));
}

void Inspection::line() {
    if (!brief_.rules.line) return;
    Pairs pairs;
    for (int a = 0; a < brief_.cells(); ++a) {
        const auto look = [&](int b) {
            for (int p = 0; p < patches_; ++p)
                for (int q = 0; q < patches_; ++q)
                    if (same(fabric(a, p), fabric(b, q))) note(pairs, fabric(a, p), fabric(b, q), a, b);
        };
        for (int b = a + 1; b % brief_.columns != 0; ++b) look(b);
        for (int b = a + brief_.columns; b < brief_.cells(); b += brief_.columns) look(b);
    }
    tell(pairs, "twice in one row or column");
}

void Inspection::contrast() {
    if (brief_.rules.contrast <= 0) return;
    int times = 0, first = 0;
    for (int cell = 0; cell < brief_.cells(); ++cell)
        for (int p = 0; p < patches_; ++p)
            for (int q = p + 1; q < patches_; ++q)
                if (brief_.board.present(cell) && there(cell, q) && differ_in_role(cell, p, q) &&
                    std::abs(brief_.labs[fabric(cell, p)].l - brief_.labs[fabric(cell, q)].l) <
                        brief_.rules.contrast &&
                    times++ == 0)
                    first = cell;
    if (times == 0) return;
    sentences_.push_back(fmt::format("too little contrast inside {} unit{}, first at {} (less than {} L*)",
                                     times, times == 1 ? "" : "s", place(first), brief_.rules.contrast));
}

void Inspection::counts() {
    if (brief_.kit) return slot_counts();
    const std::size_t fabrics = brief_.names.size();
    std::vector<std::vector<int>> used(static_cast<std::size_t>(patches_), std::vector<int>(fabrics));
    for (int cell = 0; cell < brief_.cells(); ++cell)
        for (int p = 0; p < patches_; ++p) ++used[static_cast<std::size_t>(p)][fabric(cell, p)];
    for (std::size_t f = 0; f < fabrics; ++f) {
        int total = 0;
        for (int p = 0; p < patches_; ++p) {
            const int n = used[static_cast<std::size_t>(p)][f];
            total += n;
            const Range& range = brief_.role_counts[static_cast<std::size_t>(p)][f];
            if (n < range.least || n > range.most)
                sentences_.push_back(fmt::format("{} is used {} times as {}, not {} to {}", brief_.names[f],
                                                 n, brief_.role(p), range.least, range.most));
        }
        if (total < brief_.counts[f].least || total > brief_.counts[f].most)
            sentences_.push_back(fmt::format("{} is used {} times, not {} to {}", brief_.names[f], total,
                                             brief_.counts[f].least, brief_.counts[f].most));
    }
}

/// Of pieces to be cut.
void Inspection::slot_counts() {
    const Kit& kit = *brief_.kit;
    std::vector<std::vector<int>> used(kit.roles.size(), std::vector<int>(brief_.names.size()));
    for (std::size_t s = 0; s < kit.slots.size(); ++s)
        ++used[static_cast<std::size_t>(kit.slots[s].role)][index(assignment_.slots[s])];
    for (std::size_t f = 0; f < brief_.names.size(); ++f) {
        if (index(brief_.none()) == f) continue;
        int total = 0;
        for (std::size_t r = 0; r < kit.roles.size(); ++r) {
            const Range& range = brief_.role_counts[r][f];
            total += used[r][f];
            if (used[r][f] < range.least || used[r][f] > range.most)
                sentences_.push_back(fmt::format("{} is cut {} times as {}, not {} to {}", brief_.names[f],
                                                 used[r][f], kit.roles[r], range.least, range.most));
        }
        if (total < brief_.counts[f].least || total > brief_.counts[f].most)
            sentences_.push_back(fmt::format("{} is cut {} times, not {} to {}", brief_.names[f], total,
                                             brief_.counts[f].least, brief_.counts[f].most));
    }
}

void Inspection::pins() {
    for (int cell = 0; cell < brief_.cells(); ++cell) {
        bool moved =
            brief_.turns[static_cast<std::size_t>(cell)] >= 0 &&
            brief_.turns[static_cast<std::size_t>(cell)] != assignment_.turns[static_cast<std::size_t>(cell)];
        for (int p = 0; p < patches_; ++p) {
            const FabricId pin = brief_.pinned[static_cast<std::size_t>(cell * patches_ + p)];
            moved = moved || (pin != no_fabric && index(pin) != fabric(cell, p));
        }
        if (moved)
            sentences_.push_back(
                fmt::format("the unit at {} is not as pinned or not turned as said", place(cell)));
    }
}

} // namespace

std::vector<std::string> broken_rules(const Brief& brief, const Assignment& assignment, int* touching) {
    Inspection inspection(brief, assignment);
    const int pairs = inspection.touching_pairs();
    if (touching) *touching = pairs;
    inspection.apart();
    inspection.line();
    inspection.contrast();
    inspection.counts();
    inspection.pins();
    return std::move(inspection).sentences();
}

} // namespace motley::layout
