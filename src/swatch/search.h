#pragma once
/// Looks for the dyes of a print one after the other, each the one that explains most of what the earlier
/// ones leave unexplained.

#include <cstddef>
#include <optional>
#include <vector>

#include "swatch/mixture.h"
#include "swatch/tally.h"

namespace motley::swatch {

class Search {
public:
    explicit Search(const Tally& tally); ///< The tally must outlive the search.

    const std::vector<Tone>& found() const { return found_; }

    /// The next dye, or nothing when what is unexplained is less than 0.25 % of the cloth in any one place.
    std::optional<Tone> next();
    void add(const Tone& tone);

private:
    struct Left {
        float flat = 0, edge = 0; ///< Pixels not explained.
        float worth = 0;          ///< Each times its squared distance from what would explain it.
    };
    Tone most_common() const;
    Left left(std::size_t cell) const;
    Tone centre(std::size_t cell) const;
    bool parted(const Tone& one, const Tone& other) const;
    void reject(std::size_t cell);

    const Tally* tally_;
    std::vector<Tone> found_;
    std::vector<float> to_dye_; ///< For each cell, the distance from the nearest dye.
    std::vector<float> to_any_; ///< And from the nearest dye or mixture of two.
    std::vector<char> rejected_;
};

} // namespace motley::swatch
