#include "layout/mirror.h"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <cmath>
#include <map>

namespace motley::layout {

namespace {

using unit::Point;

/// A symmetry of the lattice about its middle: (x, y) -> (xx x + xy y, yx x + yy y).
struct Image {
    int xx, xy, yx, yy;

    Point operator()(Point p) const { return {xx * p.x + xy * p.y, yx * p.x + yy * p.y}; }
};

/// All but the identity. On point the lattice stands on its corner: left to right on the wall is across its
/// diagonal.
std::vector<Image> images(Symmetry symmetry, bool on_point) {
    const Image across = on_point ? Image{0, 1, 1, 0} : Image{-1, 0, 0, 1};
    const Image down = on_point ? Image{0, -1, -1, 0} : Image{1, 0, 0, -1};
    const Image half{-1, 0, 0, -1}, quarter{0, -1, 1, 0}, back{0, 1, -1, 0};
    switch (symmetry) {
        case Symmetry::none:
            return {};
        case Symmetry::mirror:
            return {across};
        case Symmetry::mirror_both:
            return {across, down, half};
        case Symmetry::half_turn:
            return {half};
        case Symmetry::quarter_turn:
            return {quarter, half, back};
    }
    return {};
}

bool same_outline(const std::vector<Point>& a, const std::vector<Point>& b) {
    return a.size() == b.size() && std::all_of(a.begin(), a.end(), [&](Point p) {
               return std::any_of(b.begin(), b.end(),
                                  [p](Point q) { return std::hypot(p.x - q.x, p.y - q.y) < 1e-6; });
           });
}

/// How a unit looks after an image: turned so, with its patches in each other's places.
struct Seen {
    int turn = 0;
    std::vector<int> patch; ///< By patch: the one that lies there now.
};

/// Nothing when no turn of the unit looks like its image.
std::vector<Seen> seen(const unit::Form& form, Image image) {
    std::vector<Seen> ways(4);
    for (int turn = 0; turn < 4; ++turn) {
        bool found = false;
        for (int other = 0; other < 4 && !found; ++other) {
            Seen& way = ways[static_cast<std::size_t>(turn)];
            way = {other, {}};
            for (const unit::Patch& patch : form.patches) {
                std::vector<Point> outline;
                for (const Point p : patch.outline) {
                    const Point t = unit::turned(p, turn);
                    const Point moved = image({t.x - 0.5, t.y - 0.5});
                    outline.push_back({moved.x + 0.5, moved.y + 0.5});
                }
                for (std::size_t q = 0; q < form.patches.size(); ++q) {
                    std::vector<Point> there;
                    for (const Point p : form.patches[q].outline) there.push_back(unit::turned(p, other));
                    if (form.patches[q].role == patch.role && same_outline(outline, there)) {
                        way.patch.push_back(static_cast<int>(q));
                        break;
                    }
                }
            }
            found = way.patch.size() == form.patches.size();
        }
        if (!found) return {};
    }
    return ways;
}

/// Where the middle of a cell lies from the middle of the board, along the lattice, in half units.
Point from_middle(const Board& board, int cell) {
    const int row = cell / board.columns(), column = cell % board.columns();
    return {2.0 * column + board.parity(row) - (board.columns() - 1), 2.0 * row - (board.rows() - 1)};
}

class Folding {
public:
    Folding(const Brief& brief, Symmetry symmetry)
        : brief_(brief),
          images_(images(symmetry, brief.board.on_point())),
          places_(brief.patches_per_unit()),
          parent_(static_cast<std::size_t>(brief.patches())) {
        for (std::size_t i = 0; i < parent_.size(); ++i) parent_[i] = static_cast<int>(i);
        for (int cell = 0; cell < brief.cells(); ++cell) {
            const Point at = from_middle(brief.board, cell);
            cell_at_[{std::lround(at.x), std::lround(at.y)}] = cell;
            out_.turns.push_back(std::max(0, brief.turns[static_cast<std::size_t>(cell)]));
        }
    }

    Orbits run() {
        std::vector<char> done(static_cast<std::size_t>(brief_.cells()), 0);
        for (const Image& image : images_) {
            ways_.push_back(seen(brief_.forms.front(), image));
            if (ways_.back().empty()) {
                out_.obstacle = fmt::format(
                    "the mirror image of a {} is not a turned {}: it would take other "
                    "units; use the symmetry \"half-turn\" or \"quarter-turn\"",
                    brief_.forms.front().name, brief_.forms.front().name);
                return std::move(out_);
            }
        }
        for (int cell = 0; cell < brief_.cells(); ++cell) {
            if (!brief_.board.present(cell) || done[static_cast<std::size_t>(cell)]) continue;
            for (std::size_t g = 0; g < images_.size(); ++g) {
                const Point there = images_[g](from_middle(brief_.board, cell));
                const int other = cell_at_.at({std::lround(there.x), std::lround(there.y)});
                done[static_cast<std::size_t>(other)] = 1;
                if (!fold(cell, other, ways_[g])) return std::move(out_);
            }
        }
        gather();
        return std::move(out_);
    }

private:
    int root(int patch) {
        while (parent_[static_cast<std::size_t>(patch)] != patch)
            patch = parent_[static_cast<std::size_t>(patch)] =
                parent_[static_cast<std::size_t>(parent_[static_cast<std::size_t>(patch)])];
        return patch;
    }

    bool fold(int cell, int other, const std::vector<Seen>& ways) {
        const Seen& way = ways[static_cast<std::size_t>(out_.turns[static_cast<std::size_t>(cell)])];
        int& turn = out_.turns[static_cast<std::size_t>(other)];
        if (cell == other && places_ > 1 && turn != way.turn) {
            out_.obstacle = fmt::format(
                "the unit at {} lies on the line of symmetry and does not look the same "
                "on both sides; use an even number of rows and columns",
                brief_.board.place(cell));
            return false;
        }
        if (cell != other) turn = places_ > 1 ? way.turn : 0;
        for (int p = 0; p < places_; ++p) {
            const int a = root(cell * places_ + p),
                      b = root(other * places_ + way.patch[static_cast<std::size_t>(p)]);
            parent_[static_cast<std::size_t>(std::max(a, b))] = std::min(a, b);
        }
        return true;
    }

    void gather() {
        std::map<int, std::size_t> number;
        for (int patch = 0; patch < brief_.patches(); ++patch) {
            if (!brief_.board.present(patch / places_)) continue;
            const auto [at, fresh] = number.try_emplace(root(patch), out_.patches.size());
            if (fresh) out_.patches.emplace_back();
            out_.patches[at->second].push_back(patch);
        }
    }

    const Brief& brief_;
    std::vector<Image> images_;
    int places_;
    std::vector<int> parent_;
    std::map<std::pair<long, long>, int> cell_at_;
    std::vector<std::vector<Seen>> ways_; ///< [image][turn]
    Orbits out_;
};

} // namespace

Orbits orbits(const Brief& brief, Symmetry symmetry) {
    return Folding(brief, symmetry).run();
}

} // namespace motley::layout
