#include "cutting/stock.h"

#include <algorithm>
#include <limits>
#include <string>

#include "fault/fault.h"
#include "layout/brief.h"

namespace motley::cutting {

namespace {

using measure::Length;

std::int64_t capped_product(std::int64_t a, std::int64_t b) {
    constexpr std::int64_t most = std::numeric_limits<int>::max();
    return b != 0 && a > most / b ? most : a * b;
}

} // namespace

CutPiece piece_of(const layout::Plan& plan, int input) {
    const unit::Input& in = plan.sewn.inputs.at(static_cast<std::size_t>(input));
    CutPiece piece{in.width_cut, in.height_cut, in.per_square};
    for (const unit::StripSetYield& set : plan.sewn.sets)
        if (std::find(set.inputs.begin(), set.inputs.end(), input) != set.inputs.end())
            piece.length = std::max(piece.length, plan.usable_width);
    return piece;
}

int stock_yield(const std::vector<palette::StockPiece>& stock, const CutPiece& piece) {
    expects(piece.width.ticks > 0 && piece.length.ticks > 0 && piece.fills > 0);
    std::int64_t patches = 0;
    for (const palette::StockPiece& have : stock) {
        const std::int64_t cut = std::max(
            capped_product(have.width.ticks / piece.width.ticks, have.length.ticks / piece.length.ticks),
            capped_product(have.width.ticks / piece.length.ticks, have.length.ticks / piece.width.ticks));
        patches += capped_product(capped_product(cut, have.count), piece.fills);
    }
    return static_cast<int>(std::min<std::int64_t>(patches, std::numeric_limits<int>::max()));
}

std::vector<int> stock_yields(const std::vector<palette::Fabric>& fabrics, const layout::Plan& plan) {
    // Of each role the piece that takes most cloth; of a fabric that several roles may take, the same.
    const auto taken = layout::takers(plan, fabrics);
    std::vector<std::string> roles;
    const bool batches = layout::sewn_in_batches(plan.sewn);
    std::vector<CutPiece> pieces;
    const auto larger = [](const CutPiece& a, const CutPiece& b) {
        return a.width.in_inches() * a.length.in_inches() / a.fills >
               b.width.in_inches() * b.length.in_inches() / b.fills;
    };
    if (batches) {
        for (std::size_t i = 0; i < plan.sewn.inputs.size(); ++i) {
            const auto known = std::find(roles.begin(), roles.end(), plan.sewn.inputs[i].role);
            const CutPiece piece = piece_of(plan, static_cast<int>(i));
            if (known == roles.end()) {
                roles.push_back(plan.sewn.inputs[i].role);
                pieces.push_back(piece);
            } else if (CutPiece& most = pieces[static_cast<std::size_t>(known - roles.begin())];
                       larger(piece, most)) {
                most = piece;
            }
        }
    } else {
        for (const unit::Patch& patch : plan.forms().front().patches)
            pieces.push_back(piece_of(plan, patch.input));
    }
    std::vector<int> yields;
    for (std::size_t f = 0; f < fabrics.size(); ++f) {
        const CutPiece* most = nullptr;
        for (std::size_t role = 0; role < pieces.size(); ++role)
            if (taken[role][f] && (!most || larger(pieces[role], *most))) most = &pieces[role];
        yields.push_back(most ? stock_yield(fabrics[f].stock, *most) : 0);
    }
    return yields;
}

} // namespace motley::cutting
