#include "assembly/letters.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace motley::assembly {

namespace {

/// The i-th name there is.
std::string letter(std::size_t i) {
    constexpr std::string_view all = "ABCDEFGHJKLMNPQRSTUVWXYZ";
    const std::string one(1, all[i % all.size()]);
    return i < all.size() ? one : fmt::format("{}{}", one, i / all.size() + 1);
}

} // namespace

std::vector<std::string> letters(const layout::Layout& layout) {
    return letters(layout, layout::top_of(layout));
}

std::vector<std::string> letters(const layout::Layout& layout, const layout::Top& top) {
    std::vector<char> shown(layout.fabrics.size(), 0);
    for (const layout::Shape& shape : top.shapes) shown[index(shape.fabric)] = 1;
    std::vector<std::size_t> order(layout.fabrics.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
        if (shown[a] != shown[b]) return shown[a] > shown[b];
        return shown[a] != 0 && layout.fabrics[a].colour->lab.l < layout.fabrics[b].colour->lab.l;
    });
    std::vector<std::string> names(layout.fabrics.size());
    for (std::size_t i = 0; i < order.size(); ++i) names[order[i]] = letter(i);
    return names;
}

} // namespace motley::assembly
