#include "placement/obstacles_filling.h"

#include <algorithm>
#include <bit>

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

} // namespace

Filling::Filling(const Board& board, const Demand& demand, Packing* packing)
    : board_(board),
      demand_(demand),
      packing_(packing),
      open_(at(board.fabrics) * at(board.words)),
      choices_(at(board.patches)),
      used_(at(board.fabrics)),
      role_used_(at(board.places * board.fabrics)),
      most_(at(board.fabrics), board.patches),
      laid_(at(board.patches)),
      changed_(at(board.fabrics), 1) {
    for (int patch = 0; patch < board.patches; ++patch) {
        const layout::FabricId pin = demand.pinned[at(patch)];
        for (int f = 0; f < board.fabrics; ++f) {
            const bool taken =
                demand.role_counts[at(patch % board.places)][at(f)].most > 0 && demand.counts[at(f)].most > 0;
            if (!taken || (pin != layout::no_fabric && static_cast<int>(layout::index(pin)) != f)) continue;
            open_[word(f, patch)] |= Patches{1} << (patch & 63);
            ++choices_[at(patch)];
        }
        if (choices(patch) == 0) empty_ = patch;
        if (choices(patch) == 1) single_.push_back(patch);
    }
}

int Filling::only_choice(int patch) const {
    for (int f = 0; f < board_.fabrics; ++f)
        if (may_show(patch, f)) return f;
    return -1;
}

void Filling::keep(int patch, int f) {
    if (!may_show(patch, f)) {
        empty_ = patch;
        return;
    }
    for (int g = 0; g < board_.fabrics && choices(patch) > 1; ++g)
        if (g != f) forbid(patch, g);
}

void Filling::forbid(int patch, int f) {
    if (!may_show(patch, f)) return;
    open_[word(f, patch)] &= ~(Patches{1} << (patch & 63));
    changed_[at(f)] = 1;
    const int left = --choices_[at(patch)];
    if (left == 0) empty_ = patch;
    if (left == 1) single_.push_back(patch);
}

bool Filling::settle() {
    for (;;) {
        while (!single_.empty()) {
            if (empty_ >= 0) return false;
            const int patch = single_.back();
            single_.pop_back();
            if (laid_[at(patch)] == 0 && !lay(patch, only_choice(patch))) return false;
        }
        if (empty_ >= 0 || !needs_are_met()) return false;
        if (single_.empty() && empty_ < 0) return true;
    }
}

bool Filling::lay(int patch, int f) {
    const int p = patch % board_.places, unit = patch - p;
    laid_[at(patch)] = 1;
    const int used = ++used_[at(f)], in_role = ++role_used_[at(p * board_.fabrics + f)];
    const layout::Range &all = demand_.counts[at(f)], &role = demand_.role_counts[at(p)][at(f)];
    if (used > all.most || in_role > role.most) return false;
    for (const int g : board_.alike(f))
        for (const int* j = board_.begin(patch); j != board_.end(patch); ++j) forbid(*j, g);
    if (board_.places > 1 && board_.brief.rules.contrast > 0)
        for (int other = unit; other < unit + board_.places; ++other)
            for (int g = 0; g < board_.fabrics && other != patch; ++g)
                if (!board_.contrasts(f, g)) forbid(other, g);
    if (used != all.most && in_role != role.most) return true;
    for (int w = 0; w < board_.words; ++w)
        for (Patches left = open(f)[w]; left != 0; left &= left - 1) {
            const int other = w * 64 + std::countr_zero(left);
            if (laid_[at(other)] == 0 && (used == all.most || other % board_.places == p)) {
                if (choices(other) == 1) return false; // It has nothing else, and f is used up.
                forbid(other, f);
            }
        }
    return true;
}

int Filling::open_in(int f, int place) const {
    int count = 0;
    for (int w = 0; w < board_.words; ++w) {
        if (place < 0) {
            count += std::popcount(open(f)[w]);
            continue;
        }
        for (Patches left = open(f)[w]; left != 0; left &= left - 1)
            count += (w * 64 + std::countr_zero(left)) % board_.places == place;
    }
    return count;
}

void Filling::keep_all(int f, int place) {
    for (int w = 0; w < board_.words; ++w)
        for (Patches left = open(f)[w]; left != 0; left &= left - 1) {
            const int patch = w * 64 + std::countr_zero(left);
            if (place < 0 || patch % board_.places == place) keep(patch, f);
        }
}

bool Filling::role_needs_are_met(int f) {
    if (board_.places == 1) return true;
    for (int p = 0; p < board_.places; ++p) {
        const int least = demand_.role_counts[at(p)][at(f)].least;
        if (least == 0 || least == role_used_[at(p * board_.fabrics + f)]) continue;
        const int room = open_in(f, p);
        if (room < least) return false;
        if (room == least) keep_all(f, p);
    }
    return true;
}

/// Every fabric still finds its least number of patches, and all fabrics together as many as there are.
bool Filling::needs_are_met() {
    bool any = false;
    for (int f = 0; f < board_.fabrics; ++f) {
        if (changed_[at(f)] == 0) continue;
        changed_[at(f)] = 0;
        any = true;
        const layout::Range& range = demand_.counts[at(f)];
        const int room = open_in(f, -1);
        if (room < range.least) return false;
        most_[at(f)] = std::min(range.most, room);
        if (room > used(f) && packing_ && !board_.alike(f).empty()) {
            most_[at(f)] = std::min(most_[at(f)], packing_->most(open(f)));
            if (most_[at(f)] < range.least) return false;
        }
        if (room == range.least && room > used(f)) keep_all(f, -1);
        if (!role_needs_are_met(f)) return false;
    }
    if (!any) return true;
    std::int64_t together = 0;
    for (const int most : most_) together += most;
    return together >= board_.patches;
}

} // namespace motley::placement
