#include "placement/obstacles_pins.h"

#include <fmt/format.h>

#include <algorithm>
#include <bit>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

/// Looks at one fabric after the other: where the pins let it lie, and how many of those patches can show it
/// together.
class Crowding {
public:
    explicit Crowding(const Board& board)
        : board_(board), packing_(board), pinned_(board.brief.pinned), set_(at(board.words)) {
        for (int patch = 0; patch < board.patches; ++patch)
            if (pinned_[at(patch)] != layout::no_fabric) pins_.push_back(patch);
    }

    Crowd look() {
        Crowd found;
        if (pins_.empty()) return found;
        for (int f = 0; f < board_.fabrics; ++f) {
            const int asked = least(f);
            if (asked == 0 || fits_plainly(f, asked)) continue;
            const int most = most_in_set(f);
            if (most >= asked) continue;
            found.problems.push_back(problem(f, asked, most));
            if (const int pin = pin_in_the_way(f, asked); pin >= 0) found.in_the_way.push_back(pin);
        }
        return found;
    }

private:
    /// An exempt fabric may lie wherever there is room.
    int most_in_set(int f) {
        if (!board_.alike(f).empty()) return packing_.most_by_branching(set_.data());
        int room = 0;
        for (const Patches word : set_) room += std::popcount(word);
        return room;
    }

    int least(int f) const {
        int by_role = 0;
        for (const auto& role : board_.brief.role_counts) by_role += role[at(f)].least;
        return std::max(by_role, board_.brief.counts[at(f)].least);
    }

    /// The patches where f may lie: taken by the role, not pinned to another, not beside a pin alike.
    void mark(int f) {
        std::fill(set_.begin(), set_.end(), 0);
        for (int patch = 0; patch < board_.patches; ++patch)
            if (board_.brief.role_counts[at(patch % board_.places)][at(f)].most > 0)
                set_[at(patch >> 6)] |= Patches{1} << (patch & 63);
        for (const int pin : pins_) {
            const layout::FabricId pinned = pinned_[at(pin)];
            if (pinned == layout::no_fabric) continue; // Lifted for a moment.
            const int g = static_cast<int>(layout::index(pinned));
            if (g != f) clear(pin);
            if (std::find(board_.alike(f).begin(), board_.alike(f).end(), g) != board_.alike(f).end())
                for (const int* j = board_.begin(pin); j != board_.end(pin); ++j) clear(*j);
            if (board_.places > 1 && board_.brief.rules.contrast > 0)
                for (int other = pin - pin % board_.places, k = 0; k < board_.places; ++k, ++other)
                    if (other != pin && !board_.contrasts(f, g)) clear(other);
        }
    }

    void clear(int patch) { set_[at(patch >> 6)] &= ~(Patches{1} << (patch & 63)); }
    bool marked(int patch) const { return (set_[at(patch >> 6)] >> (patch & 63) & 1) != 0; }

    /// Marks the set, too. A set that may show one fabric whole and is large enough settles the matter
    /// without packing: every d-th cell of every d-th row, or every second cell.
    bool fits_plainly(int f, int asked) {
        mark(f);
        const layout::Rules& rules = board_.brief.rules;
        if (board_.places > 1 || rules.line || board_.alike(f).empty()) return false;
        const bool checkered = rules.touching == layout::Touching::edge && rules.apart < 2;
        const int step =
            checkered ? 2 : std::max(rules.apart, rules.touching == layout::Touching::corner ? 2 : 1);
        std::vector<int> of_class(at(step * step));
        for (int cell = 0; cell < board_.patches; ++cell) {
            const int r = cell / board_.brief.columns, c = cell % board_.brief.columns;
            if (marked(cell) && ++of_class[at(checkered ? (r + c) % 2 : r % step * step + c % step)] >= asked)
                return true;
        }
        return false;
    }

    Problem problem(int f, int asked, int most) {
        const std::string& name = board_.brief.names[at(f)];
        const std::string rules = rules_that_hold(board_.brief);
        return {"",
                fmt::format("impossible: {} is asked for {} times, but with {}the pins at most {} fit", name,
                            asked, rules.empty() ? "" : rules + " and ", most),
                fmt::format("ask for {} at most {} times, or lift pins that are in its way", name, most)};
    }

    /// One pin without which the fabric would fit, on tops where looking for it is quick.
    int pin_in_the_way(int f, int asked) {
        if (std::int64_t{board_.patches} * static_cast<std::int64_t>(pins_.size()) > 200'000) return -1;
        for (const int pin : pins_) {
            const layout::FabricId before = pinned_[at(pin)];
            pinned_[at(pin)] = layout::no_fabric;
            mark(f);
            const bool fits = most_in_set(f) >= asked;
            pinned_[at(pin)] = before;
            if (fits) return pin;
        }
        return -1;
    }

    const Board& board_;
    Packing packing_;
    std::vector<layout::FabricId> pinned_;
    std::vector<int> pins_;
    std::vector<Patches> set_;
};

} // namespace

std::string place_of(const layout::Brief& brief, int patch) {
    return brief.board.place(patch / brief.patches_per_unit());
}

std::string rules_that_hold(const layout::Brief& brief) {
    std::vector<std::string> on;
    if (brief.rules.touching == layout::Touching::corner) on.emplace_back("\"touching\": \"corner\"");
    if (brief.rules.touching == layout::Touching::edge) on.emplace_back("\"touching\": \"edge\"");
    if (brief.rules.apart > 1) on.push_back(fmt::format("\"apart\": {}", brief.rules.apart));
    if (brief.rules.line) on.emplace_back("\"line\": true");
    if (brief.rules.contrast > 0 && brief.patches_per_unit() > 1)
        on.push_back(fmt::format("\"contrast\": {}", brief.rules.contrast));
    return fmt::format("{}", fmt::join(on, ", "));
}

Crowd crowded_by_pins(const Board& board) {
    return Crowding(board).look();
}

} // namespace motley::placement
