#include "placement/obstacles_board.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>

#include "layout/score.h"

namespace motley::placement {

namespace {

constexpr std::int64_t most_links = 6'000'000;

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

Board::Board(const layout::Brief& b)
    : brief(b),
      patches(b.patches()),
      places(b.patches_per_unit()),
      fabrics(static_cast<int>(b.names.size())),
      words((b.patches() + 63) / 64),
      contacts_(b.forms, b.board, b.least_edge) {}

std::optional<Board> Board::lay_out(const layout::Brief& brief) {
    Board board(brief);
    if (!board.list_neighbours()) return std::nullopt;
    const std::vector<char> same = layout::same_fabric(brief);
    board.alike_.resize(at(board.fabrics));
    for (int f = 0; f < board.fabrics; ++f)
        for (int g = 0; g < board.fabrics; ++g)
            if (same[at(f) * at(board.fabrics) + at(g)] != 0) board.alike_[at(f)].push_back(g);
    board.split_sides();
    board.sort_kinds();
    return board;
}

bool Board::contrasts(int f, int g) const {
    return std::abs(brief.labs[at(f)].l - brief.labs[at(g)].l) >= brief.rules.contrast;
}

bool Board::always_touch(int row_step, int column_step, int i, int j) const {
    const int parity = brief.board.parity(i / places / brief.columns);
    const auto ways = [&](int patch) {
        const int said = brief.turns[at(patch / places)];
        return said >= 0 ? std::vector<int>{said} : std::vector<int>{0, 1, 2, 3};
    };
    for (const int t : ways(i))
        for (const int u : ways(j)) {
            const layout::Contact contact =
                contacts_.between(parity, row_step, column_step, i % places, t, j % places, u);
            if (contact == layout::Contact::none) return false;
            if (contact == layout::Contact::corner && brief.rules.touching == layout::Touching::edge)
                return false;
        }
    return true;
}

bool Board::linked(int i, int j) const {
    const int a = i / places, b = j / places;
    if (a == b) return false;
    const int dr = b / brief.columns - a / brief.columns, dc = b % brief.columns - a % brief.columns;
    const int step = std::max(std::abs(dr), std::abs(dc));
    const bool near = step < brief.rules.apart &&
                      brief.board.apart(brief.board.parity(a / brief.columns), dr, dc) < brief.rules.apart;
    if (near || (brief.rules.line && (dr == 0 || dc == 0))) return true;
    if (step > 1 || brief.rules.touching == layout::Touching::free) return false;
    return always_touch(dr, dc, i, j);
}

bool Board::list_neighbours() {
    const int columns = brief.columns, rows = brief.rows;
    const int reach = std::max(brief.rules.touching == layout::Touching::free ? 0 : 1, brief.rules.apart - 1);
    const int down = std::min(reach, rows - 1), across = std::min(reach, columns - 1);
    std::int64_t zone = std::int64_t{2 * down + 1} * (2 * across + 1) - 1;
    if (brief.rules.line) zone += rows + columns;
    if (zone * patches * places > most_links) return false;
    first_.assign(1, 0);
    const bool line = brief.rules.line;
    for (int i = 0; i < patches; ++i) {
        const int r = i / places / columns, c = i / places % columns;
        for (int s = line ? 0 : std::max(0, r - down); s <= (line ? rows - 1 : std::min(rows - 1, r + down));
             ++s) {
            const bool whole = line && s == r, near = std::abs(s - r) <= down;
            const int from = whole ? 0 : near ? std::max(0, c - across) : c;
            const int to = whole ? columns - 1 : near ? std::min(columns - 1, c + across) : c;
            for (int j = (s * columns + from) * places; j < (s * columns + to + 1) * places; ++j)
                if (linked(i, j)) neighbours_.push_back(j);
        }
        first_.push_back(neighbours_.size());
    }
    return true;
}

void Board::split_sides() {
    sides_.assign(at(patches), -1);
    std::vector<int> queue;
    for (int start = 0; start < patches; ++start) {
        if (sides_[at(start)] >= 0) continue;
        sides_[at(start)] = 0;
        queue.assign(1, start);
        while (!queue.empty()) {
            const int i = queue.back();
            queue.pop_back();
            for (const int* j = begin(i); j != end(i); ++j) {
                if (sides_[at(*j)] == sides_[at(i)]) {
                    sides_.clear();
                    return;
                }
                if (sides_[at(*j)] >= 0) continue;
                sides_[at(*j)] = static_cast<char>(1 - sides_[at(i)]);
                queue.push_back(*j);
            }
        }
    }
}

void Board::sort_kinds() {
    for (int f = 0; f < fabrics; ++f) {
        int kind = f;
        const bool plain = alike(f).size() <= 1 && (places == 1 || brief.rules.contrast <= 0);
        for (int g = 0; g < f && plain && kind == f; ++g) {
            bool equal = kinds_[at(g)] == g && alike(g).size() == alike(f).size() &&
                         brief.counts[at(g)] == brief.counts[at(f)];
            for (const auto& role : brief.role_counts) equal = equal && role[at(g)] == role[at(f)];
            if (equal) kind = g;
        }
        kinds_.push_back(kind);
    }
}

} // namespace motley::placement
