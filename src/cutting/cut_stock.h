#pragma once
/// Sheets on hand, filled before anything is bought. Private to this folder.

#include <vector>

#include "cutting/cut_search.h"

namespace motley::cutting {

/// Copies of a sheet that are cut alike.
struct SheetRows {
    int sheet = 0; ///< Index into CutList::sheets.
    int frame = 0; ///< Index into SheetFrames::frames.
    bool along = false;
    int times = 1;
    std::vector<RowTimes> rows;
};

struct StockPlan {
    std::vector<SheetRows> sheets; ///< In the order of CutList::sheets.
    RowPlan yardage;               ///< For what the sheets do not give.
    std::vector<int> left;         ///< Per kind, what fits the sheets alone and found no place there.
};

class Stock {
public:
    Stock(const CutList& list, const std::vector<Kind>& kinds);

    /// Of every sheet, for plans (up) or bounds (down).
    const std::vector<SheetFrames>& frames(Rounding rounding) const {
        return rounding == Rounding::up ? up_ : down_;
    }

    const Frame& frame(const SheetRows& rows) const {
        return up_[static_cast<std::size_t>(rows.sheet)].frames[static_cast<std::size_t>(rows.frame)];
    }

    /// The kinds with what remains of each even if all sheets gave nothing else.
    std::vector<Kind> not_given(std::vector<Kind> kinds, Work& work) const;

    /// The best found; `start` is a plan without the sheets for all that fits the yardage.
    StockPlan plan(const Frame& yardage, const std::vector<Kind>& kinds, const Prices& prices, RowPlan start,
                   const Goal& goal, Work& work) const;

private:
    StockPlan filled(const std::vector<int>& asked, const std::vector<std::int64_t>& values,
                     const std::vector<std::size_t>& order, std::vector<int>& left, Work& work) const;

    StockPlan chosen(const Frame& yardage, const std::vector<Kind>& kinds, const Prices& prices,
                     RowPlan start, const Goal& goal, Work& work) const;
    void shuffle(StockPlan& plan, std::int64_t pieces, const Frame& yardage, const Prices& prices,
                 const Goal& goal) const;

    std::vector<SheetFrames> up_, down_;
    std::vector<std::vector<bool>> along_; ///< Per sheet, of its frames.
    std::vector<double> areas_;
};

} // namespace motley::cutting
