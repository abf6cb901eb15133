#include "assembly/rows.h"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

#include "assembly/letters.h"
#include "assembly/lie.h"
#include "fault/fault.h"

namespace motley::assembly {

namespace {

using layout::Part;
using measure::Length;
using palette::FabricId;
using unit::Box;
using unit::Point;

std::string noun_of(Part part) {
    switch (part) {
        case Part::plain_block:
            return "plain block";
        case Part::side_triangle:
            return "side triangle";
        case Part::corner_triangle:
            return "corner triangle";
        case Part::half_unit:
            return "half block";
        case Part::sash:
            return "sashing strip";
        case Part::cornerstone:
            return "cornerstone";
        case Part::unit:
        case Part::border:
            break;
    }
    return "unit";
}

/// A place before its kind has a number.
struct Item {
    Place place;
    Part part{};
    int form = 0;
    std::vector<FabricId> fabrics;
    Box box; ///< As the rows see it.
};

using KindKey = std::tuple<Part, int, std::vector<FabricId>, std::int64_t, std::int64_t>;

class Layer {
public:
    explicit Layer(const layout::Layout& layout)
        : layout_(layout),
          plan_(layout.plan),
          board_(plan_.board()),
          top_(layout::top_of(layout)),
          letters_(letters(layout, top_)),
          to_rows_(to_rows(board_.on_point())) {}

    Rows run() {
        made_.diagonal = board_.on_point();
        units();
        for (const layout::Shape& shape : top_.shapes)
            if (shape.part != Part::unit && shape.part != Part::border && !triangle(shape.part)) add(shape);
        for (const layout::Shape& shape : top_.shapes)
            if (triangle(shape.part)) end_row(shape);
        number_kinds();
        name_rows();
        const auto& borders = plan_.setting.borders;
        const layout::Extent whole = layout::extent_of(plan_);
        made_.raw_width = Length::inches(whole.width) + plan_.seam * 2;
        made_.raw_height = Length::inches(whole.height) + plan_.seam * 2;
        for (const layout::Border& border : borders) {
            made_.raw_width = made_.raw_width - border.width * 2;
            made_.raw_height = made_.raw_height - border.level_width() * 2;
        }
        return std::move(made_);
    }

private:
    Point seen(Point p) const { return to_rows_(p); }

    void units() {
        const layout::Assignment& shown = layout_.assignment;
        const std::vector<Point> middles = layout::middles_of(plan_);
        const std::size_t places = shown.patches.size() / shown.turns.size();
        const double half = plan_.finished.in_inches() / 2;
        const unit::Motion back = to_rows_.inverse();
        for (int cell = 0; cell < board_.cells(); ++cell) {
            if (!board_.present(cell)) continue;
            const auto at = static_cast<std::size_t>(cell);
            const Point middle = seen(middles[at] + Point{top_.left, top_.top});
            Item item;
            item.part = Part::unit;
            item.form = shown.form(at);
            const auto first = shown.patches.begin() + static_cast<std::ptrdiff_t>(at * places);
            const auto& patches = plan_.forms()[static_cast<std::size_t>(item.form)].patches;
            item.fabrics.assign(first, first + static_cast<std::ptrdiff_t>(patches.size()));
            item.box = {middle.x - half, middle.y - half, middle.x + half, middle.y + half};
            item.place = {0, cell, shown.turns[at], board_.place(cell),
                          unit::moved(item.box.outline(), back)};
            items_[spot(middle.y)].push_back(std::move(item));
        }
    }

    Item item_of(const layout::Shape& shape) const {
        Item item;
        item.part = shape.part;
        item.fabrics = {shape.fabric};
        item.box = box_of(unit::moved(shape.outline, to_rows_));
        item.place.cell = shape.part == Part::plain_block ? shape.cell : -1;
        item.place.outline = shape.outline;
        return item;
    }

    void add(const layout::Shape& shape) {
        Item item = item_of(shape);
        items_[spot(item.box.middle().y)].push_back(std::move(item));
    }

    /// A triangle ends the row whose middle its upright side passes; without one it is sewn on last.
    void end_row(const layout::Shape& shape) {
        Item item = item_of(shape);
        Upright side;
        if (!upright_side(unit::moved(shape.outline, to_rows_), side)) {
            last_.push_back(std::move(item));
            return;
        }
        for (auto& [key, row] : items_) {
            const Box& first = row.front().box;
            const bool of_units = row.front().part == Part::unit || row.front().part == Part::plain_block;
            if (!of_units || first.middle().y < side.top || first.middle().y > side.bottom) continue;
            row.push_back(std::move(item));
            return;
        }
        expects(false);
    }

    KindKey key_of(const Item& item) const {
        const bool sized = !triangle(item.part);
        const Length one = sized ? Length::inches(item.box.width()) + plan_.seam * 2 : Length{};
        const Length other = sized ? Length::inches(item.box.height()) + plan_.seam * 2 : Length{};
        return {item.part, item.form, item.fabrics, std::min(one, other).ticks, std::max(one, other).ticks};
    }

    Kind kind_of(const KindKey& key, int count) const {
        const auto& [part, form, fabrics, shorter, longer] = key;
        Kind kind{part, form, fabrics, {shorter}, {longer}, {}, {}, count};
        for (const FabricId fabric : fabrics)
            kind.code += (kind.code.empty() ? "" : "/") + letters_[index(fabric)];
        kind.name = noun_of(part);
        if (part == Part::unit) {
            kind.name = plan_.forms()[static_cast<std::size_t>(form)].name;
            if (plan_.forms().size() > 1) kind.name += fmt::format(", form {},", form + 1);
        }
        kind.name += " " + kind.code;
        return kind;
    }

    void number_kinds() {
        std::map<KindKey, int> kinds;
        for (const auto& [key, row] : items_)
            for (const Item& item : row) ++kinds[key_of(item)];
        for (const Item& item : last_) ++kinds[key_of(item)];
        std::map<KindKey, int> numbers;
        for (const auto& [key, count] : kinds) {
            numbers[key] = static_cast<int>(made_.kinds.size());
            made_.kinds.push_back(kind_of(key, count));
        }
        for (Kind& kind : made_.kinds) // Strips of two sizes.
            if (kind.part == Part::sash &&
                std::count_if(made_.kinds.begin(), made_.kinds.end(), [&](const Kind& other) {
                    return other.part == kind.part && other.fabrics == kind.fabrics;
                }) > 1)
                kind.name += fmt::format(", {} x {}", measure::print(kind.raw_width, plan_.measure),
                                         measure::print(kind.raw_height, plan_.measure));
        for (auto& [key, row] : items_) {
            std::sort(row.begin(), row.end(),
                      [](const Item& a, const Item& b) { return a.box.middle().x < b.box.middle().x; });
            lay(row, numbers);
        }
        for (Item& item : last_) {
            item.place.kind = numbers.at(key_of(item));
            made_.last.push_back(std::move(item.place));
        }
    }

    void lay(std::vector<Item>& items, const std::map<KindKey, int>& numbers) {
        Row row;
        std::map<int, int> picks;
        double left = 1e9, right = -1e9, height = 0;
        row.sashing = true;
        for (Item& item : items) {
            item.place.kind = numbers.at(key_of(item));
            ++picks[item.place.kind];
            if (!triangle(item.part)) {
                left = std::min(left, item.box.left);
                right = std::max(right, item.box.right);
                height = std::max(height, item.box.height());
                row.sashing &= item.part == Part::sash || item.part == Part::cornerstone;
            }
            row.places.push_back(std::move(item.place));
        }
        for (const auto& [kind, count] : picks) row.picks.push_back({kind, count});
        row.raw_width = Length::inches(right - left) + plan_.seam * 2;
        row.raw_height = Length::inches(height) + plan_.seam * 2;
        made_.rows.push_back(std::move(row));
    }

    void name_rows() {
        int units = 0, strips = 0;
        for (Row& row : made_.rows) {
            row.number = row.sashing ? ++strips : ++units;
            row.name = fmt::format("{} {}",
                                   row.sashing      ? "Sashing row"
                                   : made_.diagonal ? "Diagonal row"
                                                    : "Row",
                                   row.number);
        }
        if (!made_.diagonal || !plan_.setting.sashing) return;
        for (Row& row : made_.rows)
            if (!row.sashing) row.note = reaching(row);
    }

    /// With sashing a side triangle is as long as a unit and a strip: +1 where it reaches over the row of
    /// strips below, -1 above, 0 for other ends.
    int reach(const Row& row, const Place& end) const {
        if (made_.kinds[static_cast<std::size_t>(end.kind)].part != Part::side_triangle) return 0;
        const Box box = box_of(unit::moved(end.outline, to_rows_));
        const Place& middle = row.places[row.places.size() / 2];
        return box.bottom > box_of(unit::moved(middle.outline, to_rows_)).bottom + same_edge ? 1 : -1;
    }

    std::string reaching(const Row& row) const {
        const int first = reach(row, row.places.front()), last = reach(row, row.places.back());
        const char* const side[] = {"above", "", "below"};
        if (first != 0 && last != 0 && first != last)
            return fmt::format(
                "The triangle at its upper left end also reaches over the sashing row {} it, "
                "the one at its lower right end over the sashing row {} it: set them in after "
                "the rows are joined, and leave the seam open at their inner corners until "
                "then.",
                side[first + 1], side[last + 1]);
        if (first != 0 && last != 0)
            return fmt::format(
                "The triangles at its ends also reach over the sashing row {} it: sew that "
                "row of strips on first.",
                side[first + 1]);
        if (first == 0 && last == 0) return {};
        return fmt::format(
            "The triangle at its {} end also reaches over the sashing row {} it: sew that row "
            "of strips on first.",
            first != 0 ? "upper left" : "lower right", side[first + last + 1]);
    }

    const layout::Layout& layout_;
    const layout::Plan& plan_;
    const layout::Board board_;
    const layout::Top top_;
    const std::vector<std::string> letters_;
    const unit::Motion to_rows_;
    std::map<long, std::vector<Item>> items_; ///< By where the row's middle lies.
    std::vector<Item> last_;
    Rows made_;
};

} // namespace

bool upright_side(const unit::Polygon& triangle, Upright& found) {
    const Box box = box_of(triangle);
    for (std::size_t i = 0; i < triangle.size(); ++i) {
        const Point a = triangle[i], b = triangle[(i + 1) % triangle.size()];
        if (std::abs(a.x - b.x) > same_edge) continue;
        found = {a.x, std::min(a.y, b.y), std::max(a.y, b.y), a.x > box.middle().x};
        return true;
    }
    return false;
}

Rows rows_of(const layout::Layout& layout) {
    return Layer(layout).run();
}

} // namespace motley::assembly
