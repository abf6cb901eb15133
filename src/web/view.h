#pragma once
/// What the page is told: a project as JSON. Shapes stand apart from the fabrics they show, because they
/// change far less often: *geometry* is all that is drawn but for its fabrics, known by a number.

#include <deque>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

#include "layout/top.h"
#include "web/project.h"
#include "web/trouble.h"

namespace motley::web {

/// The geometries that a page may still ask for.
class Geometries {
public:
    /// Its number; the same for the same shapes.
    int number(const std::string& text);
    std::optional<std::string> text(int number) const;

private:
    static constexpr std::size_t most = 48;
    struct Known {
        int number;
        std::string text;
    };
    mutable std::mutex mutex_;
    std::deque<Known> known_;
    int last_ = 0;
};

/// Shapes [part, cell, patch, piece, outline, motion to the cloth], cells [cell, row, column, x, y of the
/// middle], sizes in inches.
std::string geometry_text(const layout::Top& top, const layout::Plan& plan);

/// {"geometry": number, "fabrics": [by shape]}
document::Json top_json(const layout::Layout& layout, Geometries& geometries);

/// All of a project but what only a running program knows (searches, candidates).
document::Json view_json(const Project& project, Geometries& geometries);

document::Json troubles_json(const std::vector<Trouble>& troubles);

/// The ways to sew a unit.
document::Json recipes_json();

/// Yardage, cutting, finishing of a layout, ready to be shown.
document::Json lists_json(const layout::Layout& layout);

} // namespace motley::web
