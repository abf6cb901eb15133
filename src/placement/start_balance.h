#pragma once
/// The right number of each fabric, for a filling that keeps the rules already.

#include "placement/chance.h"
#include "placement/start_puzzle.h"

namespace motley::placement {

/// How far the numbers of fabrics are from what the brief asks, over places and over all.
class Numbers {
public:
    Numbers(const Model& model, const std::vector<int>& shown);

    int off() const { return off_; }
    /// Change in `off` if place p showed one `out` fewer and one `in` more.
    void replace(int place, int out, int in);
    bool too_many(int place, int f) const;
    bool too_few(int place, int f) const;

private:
    static int beyond(const layout::Range& range, int n) {
        return n < range.least ? range.least - n : n > range.most ? n - range.most : 0;
    }
    void add(int place, int f, int by);

    const Model& model_;
    std::vector<int> in_place_, in_all_;
    int off_ = 0;
};

/// Exchanges two fabrics along chains of patches that clash (Kempe 1879) until the numbers are as asked, or
/// `steps` patches were looked at. The rules stay kept; pins stay. True when the numbers are right.
bool balance(const Model& model, const Puzzle& puzzle, std::vector<int>& shown, Chance& chance,
             std::int64_t steps);

/// The same as far as it goes without a step back, for numbers that may be out of reach.
void lean_towards_numbers(const Model& model, const Puzzle& puzzle, std::vector<int>& shown, Chance& chance,
                          std::int64_t steps);

} // namespace motley::placement
