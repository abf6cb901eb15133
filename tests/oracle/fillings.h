#pragma once
/// Brute force on tiny boards: every filling that keeps the rules, the pins and the ranges, one after the
/// other. Turns are as the brief says.

#include <functional>
#include <vector>

#include "oracle/rules.h"

namespace oracle {

class Fillings {
public:
    explicit Fillings(const Brief& brief)
        : brief_(brief), patches_(brief.patches()), places_(brief.patches_per_unit()) {
        const int fabrics = static_cast<int>(brief.names.size());
        clashes_.resize(at(patches_));
        for (int i = 0; i < patches_; ++i)
            for (int j = 0; j < i; ++j)
                if (clash(brief, j, i, brief.turns[at(j / places_)], brief.turns[at(i / places_)]))
                    clashes_[at(i)].push_back(j);
        same_.assign(at(fabrics), std::vector<char>(at(fabrics)));
        for (int f = 0; f < fabrics; ++f)
            for (int g = 0; g < fabrics; ++g) same_[at(f)][at(g)] = oracle::same_fabric(brief, f, g);
        used_.assign(at(places_), std::vector<int>(at(fabrics)));
        shown_.assign(at(patches_), 0);
    }

    /// Calls `visit` with each filling until it returns false. True when it went through all of them.
    bool visit(const std::function<bool(const std::vector<int>&)>& visit) { return fill(0, visit); }

    bool any() {
        return !visit([](const std::vector<int>&) { return false; });
    }

private:
    int total(int f) const {
        int sum = 0;
        for (const std::vector<int>& in_place : used_) sum += in_place[at(f)];
        return sum;
    }

    bool fits(int i, int f) const {
        const int p = i % places_;
        if (brief_.pinned[at(i)] != motley::layout::no_fabric && brief_.pinned[at(i)] != id(f)) return false;
        if (used_[at(p)][at(f)] >= brief_.role_counts[at(p)][at(f)].most ||
            total(f) >= brief_.counts[at(f)].most)
            return false;
        for (const int j : clashes_[at(i)])
            if (same_[at(f)][at(shown_[at(j)])]) return false;
        for (int j = i - p; j < i; ++j)
            if (std::abs(brief_.labs[at(f)].l - brief_.labs[at(shown_[at(j)])].l) < brief_.rules.contrast)
                return false;
        return true;
    }

    bool enough() const {
        for (std::size_t f = 0; f < brief_.names.size(); ++f) {
            if (total(static_cast<int>(f)) < brief_.counts[f].least) return false;
            for (int p = 0; p < places_; ++p)
                if (used_[at(p)][f] < brief_.role_counts[at(p)][f].least) return false;
        }
        return true;
    }

    bool fill(int i, const std::function<bool(const std::vector<int>&)>& visit) {
        if (i == patches_) return !enough() || visit(shown_);
        for (int f = 0; f < static_cast<int>(brief_.names.size()); ++f) {
            if (!fits(i, f)) continue;
            shown_[at(i)] = f;
            ++used_[at(i % places_)][at(f)];
            const bool on = fill(i + 1, visit);
            --used_[at(i % places_)][at(f)];
            if (!on) return false;
        }
        return true;
    }

    const Brief& brief_;
    int patches_, places_;
    std::vector<std::vector<int>> clashes_; // [patch] earlier patches that may not show the same.
    std::vector<std::vector<char>> same_;
    std::vector<std::vector<int>> used_; // [place][fabric]
    std::vector<int> shown_;
};

inline Assignment as_assignment(const Brief& brief, const std::vector<int>& shown) {
    Assignment out;
    for (const int f : shown) out.patches.push_back(id(f));
    for (const int turn : brief.turns) out.turns.push_back(static_cast<std::uint8_t>(turn));
    return out;
}

} // namespace oracle
