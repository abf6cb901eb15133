#pragma once
/// Which way to press seams that meet from row to row: exact, by dynamic programming over each chain of them.
/// Private to this folder.

#include <array>
#include <vector>

namespace motley::assembly {

/// Pressed to one of the two sides of a row's seam.
enum Way : int { left, right };

struct Loose {
    int below = -1;           ///< The seam of a later row whose upper end this one's lower end meets.
    int darker = -1;          ///< Way of its darker side; -1: neither is.
    int fixed = -1;           ///< Way it must lie; -1: free.
    std::array<int, 2> met{}; ///< By way: seams inside units that it would nest with.
};

/// By seam. Of all ways the one with the most nests, then with the most seams that lie to their darker side;
/// then the first from the top that differs lies to the right. Expects `below` to lead to each seam at most
/// once, and never round.
std::vector<Way> most_nests(const std::vector<Loose>& seams);

} // namespace motley::assembly
