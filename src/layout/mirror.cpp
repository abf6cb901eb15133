#include "layout/mirror.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <map>

#include "layout/contact.h"
#include "layout/image.h"

namespace motley::layout {

namespace {

using unit::Point;

/// Where the middle of a cell lies from the middle of the board, along the lattice, in half units.
Point from_middle(const Board& board, int cell) {
    const int row = cell / board.columns(), column = cell % board.columns();
    return {2.0 * column + board.parity(row) - (board.columns() - 1), 2.0 * row - (board.rows() - 1)};
}

/// Whether images in a place may come near each other.
enum class Closeness { never, with_background, always };

std::vector<Closeness> closeness(const Brief& brief) {
    std::size_t fabrics = brief.names.size();
    if (fabrics > 0 && brief.names.back().empty()) --fabrics; // The one that is none.
    std::vector<Closeness> out;
    for (const std::vector<Range>& counts : brief.role_counts) {
        bool any = false, all = true;
        for (std::size_t f = 0; f < std::min(fabrics, counts.size()); ++f) {
            if (counts[f].most == 0) continue;
            any = any || brief.exempt[f] != 0;
            all = all && brief.exempt[f] != 0;
        }
        out.push_back(!any ? Closeness::never : all ? Closeness::always : Closeness::with_background);
    }
    return out;
}

/// What becomes of one orbit of cells when the first of them has a certain turn.
struct Attempt {
    std::vector<int> turns; ///< By cell of the orbit.
    std::vector<std::vector<int>> patches;
    bool whole = true;  ///< All cells are images of each other.
    bool pinned = true; ///< They are turned as pinned.
    int near = 0;       ///< Pairs of images too near each other.
    int near_unless_background = 0;
    int cell = -1, other = -1; ///< The first such pair.
};

class Folding {
public:
    Folding(const Brief& brief, Symmetry symmetry)
        : brief_(brief),
          images_(images_of(symmetry, brief.board.on_point())),
          contacts_(brief.forms, brief.board, brief.least_edge),
          closeness_(closeness(brief)),
          places_(brief.patches_per_unit()) {
        closeness_.resize(static_cast<std::size_t>(places_), Closeness::never);
        for (int cell = 0; cell < brief.cells(); ++cell) {
            const Point at = from_middle(brief.board, cell);
            cell_at_[{std::lround(at.x), std::lround(at.y)}] = cell;
            out_.turns.push_back(std::max(0, said(cell)));
        }
    }

    Orbits run() {
        const std::string& name = brief_.forms.front().name;
        for (const Image& image : images_) {
            ways_.push_back(ways_to_see(brief_.forms.front(), image));
            if (ways_.back().empty()) {
                out_.obstacle = fmt::format(
                    "the mirror image of a {} is not a turned {}: it would take other units", name, name);
                return std::move(out_);
            }
        }
        std::vector<char> done(static_cast<std::size_t>(brief_.cells()), 0);
        for (int cell = 0; cell < brief_.cells() && out_.obstacle.empty(); ++cell) {
            if (!brief_.board.present(cell) || done[static_cast<std::size_t>(cell)]) continue;
            if (!find_orbit(cell)) break;
            for (const int one : cells_) done[static_cast<std::size_t>(one)] = 1;
            fold();
        }
        std::sort(out_.patches.begin(), out_.patches.end());
        return std::move(out_);
    }

private:
    int said(int cell) const { return brief_.turns[static_cast<std::size_t>(cell)]; }
    bool turn_pinned(int cell) const { return brief_.pinned_turn[static_cast<std::size_t>(cell)] != 0; }

    /// Into cells_ and where_.
    bool find_orbit(int first) {
        cells_ = {first};
        where_.clear();
        for (const Image& image : images_) {
            const Point there = image(from_middle(brief_.board, first));
            const auto other = cell_at_.find({std::lround(there.x), std::lround(there.y)});
            if (other == cell_at_.end() || !brief_.board.present(other->second)) {
                out_.obstacle =
                    fmt::format("there is no unit where the image of the one at {} would lie", place(first));
                return false;
            }
            auto known = std::find(cells_.begin(), cells_.end(), other->second);
            if (known == cells_.end()) known = cells_.insert(known, other->second);
            where_.push_back(static_cast<std::size_t>(known - cells_.begin()));
        }
        return true;
    }

    void fold() {
        std::vector<Attempt> attempts;
        bool whole = false;
        for (const int turn : candidates()) {
            Attempt one = attempt(turn);
            whole = whole || one.whole;
            if (one.whole && one.pinned) attempts.push_back(std::move(one));
        }
        if (attempts.empty()) return refuse(whole);
        const auto best =
            std::min_element(attempts.begin(), attempts.end(), [](const Attempt& a, const Attempt& b) {
                return std::pair(a.near, a.near_unless_background) <
                       std::pair(b.near, b.near_unless_background);
            });
        if (best->near > 0 && out_.near < 0) out_.near = best->cell, out_.near_to = best->other;
        Turning turning{cells_, {}};
        for (const Attempt& one : attempts)
            if (one.near == best->near && one.patches == best->patches) turning.ways.push_back(one.turns);
        if (turning.ways.size() > 1) out_.turnings.push_back(std::move(turning));
        for (std::size_t i = 0; i < cells_.size(); ++i)
            out_.turns[static_cast<std::size_t>(cells_[i])] = best->turns[i];
        for (const auto& orbit : best->patches) {
            check_pins(orbit);
            out_.patches.push_back(orbit);
        }
    }

    /// Turns that the first cell of the orbit may have.
    std::vector<int> candidates() const {
        const int first = cells_.front();
        const bool open =
            std::any_of(cells_.begin() + 1, cells_.end(), [&](int c) { return turn_pinned(c); });
        if (places_ == 1 || (said(first) >= 0 && (turn_pinned(first) || !open)))
            return {std::max(0, said(first))};
        return {0, 1, 2, 3};
    }

    Attempt attempt(int turn) const {
        Attempt made;
        made.turns.assign(cells_.size(), -1);
        made.turns[0] = turn;
        std::vector<std::size_t> parent(cells_.size() * static_cast<std::size_t>(places_));
        for (std::size_t i = 0; i < parent.size(); ++i) parent[i] = i;
        const auto root = [&](std::size_t i) {
            while (parent[i] != i) i = parent[i];
            return i;
        };
        for (std::size_t g = 0; g < images_.size(); ++g) {
            const Seen* way = way_to(ways_[g][static_cast<std::size_t>(turn)], where_[g], made);
            if (!way) return made;
            for (int p = 0; p < places_; ++p) {
                const std::size_t a = root(static_cast<std::size_t>(p));
                const std::size_t b = root(where_[g] * static_cast<std::size_t>(places_) +
                                           static_cast<std::size_t>(way->patch[static_cast<std::size_t>(p)]));
                parent[std::max(a, b)] = std::min(a, b);
            }
        }
        std::map<std::size_t, std::vector<std::size_t>> orbits;
        for (std::size_t i = 0; i < parent.size(); ++i) orbits[root(i)].push_back(i);
        for (const auto& [first, orbit] : orbits) {
            look(orbit, made);
            made.patches.emplace_back();
            for (const std::size_t i : orbit)
                made.patches.back().push_back(cells_[i / static_cast<std::size_t>(places_)] * places_ +
                                              static_cast<int>(i % static_cast<std::size_t>(places_)));
            std::sort(made.patches.back().begin(), made.patches.back().end());
        }
        return made;
    }

    /// Which of the turns that look alike an image takes: the one it has already, the one that is said, any.
    const Seen* way_to(const std::vector<Seen>& ways, std::size_t where, Attempt& made) const {
        int& turn = made.turns[where];
        const int cell = cells_[where];
        if (places_ == 1) { // A plain square looks the same however it lies.
            if (turn < 0) turn = std::max(0, said(cell));
            return &ways.front();
        }
        const auto turned = [&](int to) {
            const auto way =
                std::find_if(ways.begin(), ways.end(), [to](const Seen& w) { return w.turn == to; });
            return way == ways.end() ? nullptr : &*way;
        };
        if (turn >= 0) {
            const Seen* way = turned(turn);
            made.whole = made.whole && way;
            return way;
        }
        const Seen* way = turned(said(cell));
        if (!way && turn_pinned(cell)) made.pinned = false;
        if (!way) way = &ways.front();
        turn = way->turn;
        return way;
    }

    void look(const std::vector<std::size_t>& orbit, Attempt& made) const {
        const std::size_t places = static_cast<std::size_t>(places_);
        for (std::size_t i = 0; i < orbit.size(); ++i)
            for (std::size_t j = i + 1; j < orbit.size(); ++j) {
                const std::size_t a = orbit[i] / places, b = orbit[j] / places;
                const Closeness may = closeness_[orbit[i] % places];
                if (a == b || may == Closeness::always) continue;
                if (!clash(cells_[a], static_cast<int>(orbit[i] % places), made.turns[a], cells_[b],
                           static_cast<int>(orbit[j] % places), made.turns[b]))
                    continue;
                if (may == Closeness::with_background) {
                    ++made.near_unless_background;
                    continue;
                }
                if (made.near++ == 0) made.cell = cells_[a], made.other = cells_[b];
            }
    }

    bool clash(int a, int p, int t, int b, int q, int u) const {
        const int dr = b / brief_.columns - a / brief_.columns, dc = b % brief_.columns - a % brief_.columns;
        const int parity = brief_.board.parity(a / brief_.columns);
        const Rules& rules = brief_.rules;
        if (brief_.board.apart(parity, dr, dc) < rules.apart &&
            std::max(std::abs(dr), std::abs(dc)) < rules.apart)
            return true;
        if (rules.line && (dr == 0 || dc == 0)) return true;
        if (rules.touching == Touching::free) return false;
        const Contact contact = contacts_.between(parity, dr, dc, p, pose(0, t), q, pose(0, u));
        return contact == Contact::edge || (contact == Contact::corner && rules.touching == Touching::corner);
    }

    void refuse(bool whole) {
        if (whole) {
            out_.obstacle = fmt::format(
                "the unit at {} and its images are pinned to turns that are not images of each other",
                place(cells_.front()));
            out_.remedy = "free all but one of those turns: the others follow from it";
        } else {
            out_.obstacle = fmt::format(
                "the unit at {} lies on the line of symmetry and does not look the same on both sides",
                place(cells_.front()));
        }
    }

    void check_pins(const std::vector<int>& orbit) {
        int held = -1;
        for (const int patch : orbit) {
            const FabricId pin = brief_.pinned[static_cast<std::size_t>(patch)];
            if (pin == no_fabric) continue;
            if (held < 0) held = patch;
            const FabricId first = brief_.pinned[static_cast<std::size_t>(held)];
            if (pin == first || !out_.obstacle.empty()) continue;
            out_.obstacle = fmt::format(
                "with this symmetry the units at {} and {} show the same fabric, but {} is pinned at the one "
                "and {} at the other",
                place(held / places_), place(patch / places_), brief_.names[index(first)],
                brief_.names[index(pin)]);
            out_.remedy = "free one of the two pins";
        }
    }

    std::string place(int cell) const { return brief_.board.place(cell); }

    const Brief& brief_;
    std::vector<Image> images_;
    Contacts contacts_;
    std::vector<Closeness> closeness_; ///< By place.
    int places_;
    std::map<std::pair<long, long>, int> cell_at_;
    std::vector<Ways> ways_;         ///< By image.
    std::vector<int> cells_;         ///< Of the orbit at hand; the first cell first.
    std::vector<std::size_t> where_; ///< By image: which of cells_.
    Orbits out_;
};

} // namespace

Orbits orbits(const Brief& brief, Symmetry symmetry) {
    return Folding(brief, symmetry).run();
}

} // namespace motley::layout
