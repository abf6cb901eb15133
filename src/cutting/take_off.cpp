#include "cutting/take_off.h"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <set>

#include "fault/fault.h"

namespace motley::cutting {

namespace {

using measure::Length;

std::int64_t capped_product(std::int64_t a, std::int64_t b) {
    constexpr std::int64_t most = std::numeric_limits<int>::max();
    return b != 0 && a > most / b ? most : a * b;
}

/// RFC 4180: quoted where a comma, quote or line end stands in it.
std::string field(const std::string& text) {
    if (text.find_first_of(",\"\r\n") == std::string::npos) return text;
    std::string out = "\"";
    for (const char letter : text) {
        if (letter == '"') out += '"';
        out += letter;
    }
    return out + '"';
}

/// At most two decimals, without trailing zeros.
std::string area(double square_inches) {
    std::string text = fmt::format("{:.2f}", square_inches);
    while (text.back() == '0') text.pop_back();
    if (text.back() == '.') text.pop_back();
    return text;
}

} // namespace

Length practical_square(const unit::Form& recipe, Length finished, Length seam, measure::System system) {
    const Length step =
        system == measure::System::inch ? Length{Length::per_inch / 8} : Length{Length::per_millimetre};
    return measure::round_up(unit::cut_square(recipe, finished, seam), step);
}

int stock_yield(const std::vector<palette::StockPiece>& stock, Length square, int patches_from_square) {
    expects(square.ticks > 0 && patches_from_square > 0);
    std::int64_t patches = 0;
    for (const palette::StockPiece& piece : stock) {
        const std::int64_t squares =
            capped_product(piece.width.ticks / square.ticks, piece.length.ticks / square.ticks);
        patches += capped_product(capped_product(squares, piece.count), patches_from_square);
    }
    return static_cast<int>(std::min<std::int64_t>(patches, std::numeric_limits<int>::max()));
}

std::vector<int> stock_yields(const std::vector<palette::Fabric>& fabrics, const layout::Plan& plan) {
    const unit::Form* recipe = unit::find_form(plan.recipe);
    expects(recipe != nullptr);
    const Length square = practical_square(*recipe, plan.finished, plan.seam, plan.measure);
    std::vector<int> yields;
    for (const palette::Fabric& fabric : fabrics)
        yields.push_back(stock_yield(fabric.stock, square, recipe->patches_from_square));
    return yields;
}

std::vector<FabricCount> count(const layout::Layout& layout) {
    const unit::Form* recipe = unit::find_form(layout.plan.recipe);
    expects(recipe != nullptr);
    const std::size_t patches = recipe->patches.size();
    const std::size_t cells = layout.assignment.turns.size();
    expects(cells > 0 && layout.assignment.patches.size() == cells * patches);
    std::vector<FabricCount> all(layout.fabrics.size());
    std::vector<std::vector<int>> by_role(patches, std::vector<int>(all.size(), 0));
    for (std::size_t cell = 0; cell < cells; ++cell) {
        std::set<std::size_t> shown;
        for (std::size_t p = 0; p < patches; ++p) {
            const std::size_t f = palette::index(layout.assignment.patches[cell * patches + p]);
            ++by_role[p].at(f);
            if (shown.insert(f).second) ++all[f].units;
        }
    }
    const double side = layout.plan.finished.in_inches();
    const auto taken = layout::takers(layout.plan, layout.fabrics);
    std::vector<FabricCount> counts;
    for (std::size_t f = 0; f < all.size(); ++f) {
        FabricCount& one = all[f];
        one.fabric = palette::FabricId{static_cast<std::uint16_t>(f)};
        double units_worth = 0; // Of area.
        bool may_be_used = false;
        for (std::size_t p = 0; p < patches; ++p) {
            one.patches += by_role[p][f];
            units_worth += by_role[p][f] * recipe->patches[p].area;
            may_be_used = may_be_used || taken[p][f];
        }
        one.area_sq_in = units_worth * side * side;
        one.share = units_worth / static_cast<double>(cells);
        if (may_be_used || one.patches > 0) counts.push_back(one);
    }
    return counts;
}

std::string counts_csv(const layout::Layout& layout, const std::vector<FabricCount>& counts) {
    std::string text = "fabric,units,patches,finished_area_sqin,share\n";
    for (const FabricCount& one : counts)
        text += fmt::format("{},{},{},{},{:.4f}\n", field(layout.fabrics[palette::index(one.fabric)].id),
                            one.units, one.patches, area(one.area_sq_in), one.share);
    return text;
}

} // namespace motley::cutting
