#pragma once
/// The shapes laid out: cloth from the bolts, turned as sewn, edge against edge. No light or shade yet.

#include <span>
#include <vector>

#include "render/bands.h"
#include "render/bolt.h"
#include "render/draft.h"

namespace motley::render {

/// Some rows of the top, from x = -beyond to width + beyond; one after the other in each list.
struct Strip {
    int first = 0, count = 0;        ///< Rows.
    std::vector<float> right, below; ///< Hand::drift of each pixel.
    std::vector<float> colour;       ///< Three to a pixel.
    std::vector<float> share;        ///< Which `colour` is to be divided by; 0 where there is no cloth.
};

/// Refers to the draft and the bolts. May be read from several threads.
class Patchwork {
public:
    /// `beyond`: rows and columns around the top that may be asked for. `reach`: the farthest that a drift is
    /// off.
    Patchwork(const Draft& draft, const Bolts& bolts, int beyond, double reach);

    /// Pixels of cloth that bolts need around each piece.
    static int margin(double reach);

    /// Fills in colour and share of rows whose drift is known.
    void lay(Strip& strip) const;

private:
    /// Where a shape's cloth is.
    struct Laid {
        const photo::LinearImage* bolt = nullptr;
        unit::Motion motion;
        bool on_grain = false;
    };

    void lay_row(std::size_t shape, int y, Strip& strip) const;
    void blend(std::size_t shape, int y, int from, int to, Strip& strip) const;

    const Draft& draft_;
    int beyond_;
    double reach_;
    std::vector<Laid> laid_;
    Bands bands_;
};

} // namespace motley::render
