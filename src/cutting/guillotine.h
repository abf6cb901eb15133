#pragma once
/// The most valuable pieces that edge-to-edge cuts get out of one sheet, in any number of stages. Pieces keep
/// their direction; one that may turn is given twice.
/// Without limits on the copies by dynamic programming over the sums of sides (Beasley, 1985); with limits by
/// joining rectangles, best first, under an upper bound for what lies beside them (Wang, 1983; Viswanathan
/// and Bagchi, 1993).

#include <cstdint>
#include <vector>

namespace motley::cutting {

struct GuillotinePiece {
    int width = 0, height = 0; ///< At least 1; units as one likes.
    std::int64_t value = 0;    ///< At least 0.
    int most = 0;              ///< Copies; 0 means as many as fit.
};

struct GuillotineCut {
    std::int64_t value = 0;
    std::int64_t bound = 0;  ///< No cut is worth more; equals `value` when proved.
    std::vector<int> counts; ///< Per piece.
    bool proved() const { return value == bound; }
};

/// At most so many joins are looked at where copies are limited; beyond that the best so far stands.
inline constexpr std::int64_t usual_joins = 50'000'000;

/// Expects sides of 1 to 20,000.
GuillotineCut guillotine_cut(int width, int height, const std::vector<GuillotinePiece>& pieces,
                             std::int64_t joins = usual_joins);

} // namespace motley::cutting
