// The limits that prove a plan impossible, as the project's list of outside values gives them, against the
// largest number that brute force fits on every small grid; and `obstacles` exactly at and one above that
// number.

#include <algorithm>
#include <catch.hpp>

#include "oracle/tops.h"
#include "placement/placement.h"

using namespace motley;
using oracle::at;

namespace {

/// The most cells that so many fabrics cover when cells nearer than the rule allows never share one. Every
/// cell: one of the fabrics, or another.
class Packing {
public:
    Packing(int columns, int rows, int fabrics, int apart)
        : columns_(columns), rows_(rows), fabrics_(fabrics), apart_(apart), shown_(at(columns * rows), -1) {
        fill(0, 0, 0);
    }
    int most() const { return most_; }
    std::vector<int> counts() const {
        std::vector<int> n(at(fabrics_));
        for (const int f : best_)
            if (f >= 0) ++n[at(f)];
        return n;
    }

private:
    /// apart 1: only edges count; d >= 2: steps of rows and columns both below d clash.
    bool fits(int cell, int f) const {
        const int r = cell / columns_, c = cell % columns_;
        if (apart_ == 1)
            return !(r > 0 && shown_[at(cell - columns_)] == f) && !(c > 0 && shown_[at(cell - 1)] == f);
        for (int i = std::max(0, r - apart_ + 1); i <= r; ++i)
            for (int j = std::max(0, c - apart_ + 1);
                 j <= std::min(columns_ - 1, c + apart_ - 1) && i * columns_ + j < cell; ++j)
                if (shown_[at(i * columns_ + j)] == f) return false;
        return true;
    }

    void fill(int cell, int covered, int opened) {
        const int left = columns_ * rows_ - cell;
        if (covered + left <= most_) return;
        if (left == 0) {
            most_ = covered;
            best_ = shown_;
            return;
        }
        for (int f = 0; f < std::min(fabrics_, opened + 1);
             ++f) { // Fabrics are alike: a new one is always the next.
            if (!fits(cell, f)) continue;
            shown_[at(cell)] = f;
            fill(cell + 1, covered + 1, std::max(opened, f + 1));
            shown_[at(cell)] = -1;
        }
        fill(cell + 1, covered, opened);
    }

    int columns_, rows_, fabrics_, apart_;
    std::vector<int> shown_, best_;
    int most_ = -1;
};

int half(int n) {
    return (n + 1) / 2;
}

/// Those counts, and fabrics used once for the rest.
layout::Brief filled_up(int columns, int rows, std::vector<int> counts) {
    int left = columns * rows;
    for (const int n : counts) left -= n;
    counts.insert(counts.end(), at(left), 1);
    return oracle::squares(columns, rows, counts);
}

bool proved(const layout::Brief& brief) {
    return !placement::obstacles(brief).empty();
}

} // namespace

TEST_CASE("edge rule: a fabric fills at most half the cells, rounded up") {
    // Derived: cells alternate like a chequerboard; the larger colour is a largest set without neighbours on
    // a grid.
    for (int m = 1; m <= 4; ++m)
        for (int n = 1; n <= 5; ++n) {
            const Packing packing(n, m, 1, 1);
            INFO(n << " across, " << m << " down");
            REQUIRE(packing.most() == half(m * n));
            CHECK_FALSE(proved(filled_up(n, m, {packing.most()})));
            if (packing.most() < m * n) CHECK(proved(filled_up(n, m, {packing.most() + 1})));
        }
}

TEST_CASE("corner rule: limits of one, two and three fabrics") {
    // Derived: every 2 x 2 block shows four different fabrics.
    for (int m = 1; m <= 4; ++m)
        for (int n = 1; n <= 5; ++n)
            for (int fabrics = 1; fabrics <= 3; ++fabrics) {
                const Packing packing(n, m, fabrics, 2);
                const int limits[] = {half(m) * half(n), std::max(half(m) * n, m * half(n)),
                                      m * n - m / 2 * (n / 2)};
                INFO(n << " across, " << m << " down, " << fabrics << " fabrics");
                REQUIRE(packing.most() == limits[fabrics - 1]);
                const std::vector<int> most = packing.counts();
                layout::Brief fits = filled_up(n, m, most);
                fits.rules.touching = layout::Touching::corner;
                CHECK_FALSE(proved(fits));
                fits.rules.touching = layout::Touching::free;
                fits.rules.apart = 2;
                CHECK_FALSE(proved(fits));
                if (packing.most() == m * n) continue;
                for (std::size_t more = 0; more < most.size(); ++more) {
                    std::vector<int> counts = most;
                    ++counts[more];
                    layout::Brief too_many = filled_up(n, m, counts);
                    too_many.rules.touching = layout::Touching::corner;
                    CHECK(proved(too_many));
                    too_many.rules.touching = layout::Touching::free;
                    too_many.rules.apart = 2;
                    CHECK(proved(too_many));
                }
            }
}

TEST_CASE("apart d: one fabric once in every d x d block, and d * d different fabrics at least") {
    for (int d = 2; d <= 4; ++d)
        for (int m = 1; m <= 5; ++m)
            for (int n = 1; n <= 5; ++n) {
                const int most = ((m + d - 1) / d) * ((n + d - 1) / d);
                INFO("apart " << d << ", " << n << " across, " << m << " down");
                REQUIRE(Packing(n, m, 1, d).most() == most);
                layout::Brief brief = filled_up(n, m, {most});
                brief.rules.touching = layout::Touching::free;
                brief.rules.apart = d;
                CHECK_FALSE(proved(brief));
                if (most == m * n) continue;
                brief = filled_up(n, m, {most + 1});
                brief.rules.touching = layout::Touching::free;
                brief.rules.apart = d;
                CHECK(proved(brief));
                // Residues modulo d use exactly min(d, m) * min(d, n) fabrics; one fewer cannot do.
                std::vector<int> residues(at(std::min(d, m) * std::min(d, n)));
                for (int cell = 0; cell < m * n; ++cell)
                    ++residues[at(cell / n % d * std::min(d, n) + cell % n % d)];
                brief = filled_up(n, m, residues);
                brief.rules.touching = layout::Touching::free;
                brief.rules.apart = d;
                CHECK_FALSE(proved(brief));
                for (layout::Range* range : {&brief.counts[0], &brief.role_counts[0][0]}) *range = {0, 0};
                for (std::size_t f = 1; f < brief.names.size(); ++f)
                    brief.counts[f] = brief.role_counts[0][f] = {0, m * n};
                CHECK(proved(brief));
            }
}

TEST_CASE("line: a fabric at most once in each row and column, and as many fabrics as the longer side") {
    for (int m = 1; m <= 4; ++m)
        for (int n = 1; n <= 4; ++n) {
            layout::Brief brief = filled_up(n, m, {std::min(m, n)});
            brief.rules.touching = layout::Touching::free;
            brief.rules.line = true;
            CHECK_FALSE(proved(brief));
            if (m * n == 1) continue;
            if (m * n > std::min(m, n)) {
                layout::Brief too_many = filled_up(n, m, {std::min(m, n) + 1});
                too_many.rules = brief.rules;
                CHECK(proved(too_many));
            }
            // A Latin rectangle uses max(m, n) fabrics min(m, n) times each (König 1916: bipartite edge
            // colouring, from memory); one fewer cannot do.
            layout::Brief latin = oracle::squares(n, m, std::vector<int>(at(std::max(m, n)), std::min(m, n)));
            latin.rules = brief.rules;
            CHECK_FALSE(proved(latin));
            layout::Brief few =
                oracle::squares(n, m, oracle::even(m * n, std::max(m, n) - 1 > 0 ? std::max(m, n) - 1 : 1));
            few.rules = brief.rules;
            if (std::max(m, n) > 1) CHECK(proved(few));
        }
}
