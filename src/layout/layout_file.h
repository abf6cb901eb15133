#pragma once
/// What reading and writing a layout's file share. Private to this folder.

#include <algorithm>
#include <string_view>
#include <vector>

#include "layout/layout.h"

namespace motley::layout {

inline constexpr std::string_view layout_format = "motley layout 1";

/// One kind of unit: its form and the fabrics of its patches.
struct Kind {
    int form = 0;
    std::vector<FabricId> fabrics;
    auto operator<=>(const Kind&) const = default;
};

inline std::size_t places_of(const Plan& plan) {
    std::size_t most = 0;
    for (const unit::Form& form : plan.forms()) most = std::max(most, form.patches.size());
    return most;
}

inline Kind kind_of(const Layout& layout, std::size_t cell) {
    const int form = layout.assignment.form(cell);
    const auto first =
        layout.assignment.patches.begin() + static_cast<std::ptrdiff_t>(cell * places_of(layout.plan));
    const std::size_t patches = layout.plan.forms()[static_cast<std::size_t>(form)].patches.size();
    return {form, {first, first + static_cast<std::ptrdiff_t>(patches)}};
}

/// Every fabric that the cells show, once or more.
inline std::vector<FabricId> used_fabrics(const Layout& layout) {
    std::vector<FabricId> used;
    for (const FabricId id : layout.assignment.patches)
        if (index(id) < layout.fabrics.size()) used.push_back(id);
    return used;
}

} // namespace motley::layout
