#pragma once
/// A board being filled: which fabrics each patch may yet show. Every step draws its plain consequences.

#include <vector>

#include "placement/obstacles_board.h"
#include "placement/obstacles_packing.h"

namespace motley::placement {

class Filling {
public:
    /// Everything open that roles and counts allow; the pins are laid, their consequences not yet drawn.
    /// `packing` bounds, after every step, how often each fabric may yet be used; null on boards where that
    /// costs too much.
    Filling(const Board& board, const Demand& demand, Packing* packing);

    bool may_show(int patch, int f) const { return (open_[word(f, patch)] >> (patch & 63) & 1) != 0; }
    int choices(int patch) const { return choices_[static_cast<std::size_t>(patch)]; }
    int only_choice(int patch) const; ///< Expects choices == 1.
    int used(int f) const { return used_[static_cast<std::size_t>(f)]; }
    const Patches* open(int f) const { return open_.data() + word(f, 0); }
    /// Where no fabric was left; -1 while there is none such.
    int empty_patch() const { return empty_; }

    void keep(int patch, int f);
    void forbid(int patch, int f);
    /// Draws consequences until there are no more. False when the demand cannot be met any longer.
    bool settle();

private:
    std::size_t word(int f, int patch) const {
        return static_cast<std::size_t>(f) * static_cast<std::size_t>(board_.words) +
               static_cast<std::size_t>(patch >> 6);
    }
    bool lay(int patch, int f);
    bool needs_are_met();
    bool role_needs_are_met(int f);
    void keep_all(int f, int place);
    int open_in(int f, int place) const;

    const Board& board_;
    const Demand& demand_;
    Packing* packing_;
    std::vector<Patches> open_;                // [fabric][word]
    std::vector<int> choices_;                 // [patch]
    std::vector<int> used_, role_used_, most_; // most_: of a fabric, by counts and by packing.
    std::vector<char> laid_, changed_;         // [patch], [fabric]
    std::vector<int> single_;                  // Patches with one choice, not yet laid.
    int empty_ = -1;
};

} // namespace motley::placement
