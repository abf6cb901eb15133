// Tables: columns as wide as their words where there is room, headings repeated after a page's end.
#include <algorithm>
#include <numeric>

#include "fault/fault.h"
#include "render/block.h"

namespace motley::render {

namespace {

constexpr double pad_x = 0.62; ///< Beside a cell's words, times the type's size.
constexpr double pad_y = 0.30;
constexpr double chip = 1.45; ///< Side of a swatch.

/// How a table is laid out; its rows share it.
struct Grid {
    std::vector<Column> columns;
    std::vector<double> widths;
    Type type, heads;
    double width = 0;

    double room(std::size_t column) const { return widths[column] - 2 * pad_x * type.size; }
};

Type type_of(const Grid& grid, const TableRow& row, std::size_t column) {
    Type type = grid.type;
    type.bold = row.sum;
    type.side = grid.columns[column].side;
    return type;
}

double before_words(const Cell& cell, const Type& type) {
    return cell.swatch ? (chip + 0.5) * type.size : 0;
}

double row_height(const Grid& grid, const TableRow& row) {
    double height = 0;
    bool chips = false;
    for (std::size_t c = 0; c < row.cells.size(); ++c) {
        const Type type = type_of(grid, row, c);
        const double room = grid.room(c) - before_words(row.cells[c], type);
        height = std::max(height, Canvas::height_of(row.cells[c].text, type, std::max(1.0, room)));
        if (row.cells[c].swatch) chips = true;
    }
    if (chips) {
        const double line = Canvas::height_of("0", grid.type);
        height = std::max(chip * grid.type.size, height + std::max(0.0, (chip * grid.type.size - line) / 2));
    }
    return height + 2 * pad_y * grid.type.size;
}

void draw_cell(Canvas& canvas, const Grid& grid, const TableRow& row, std::size_t c, unit::Point corner,
               const Type& type, const char* tag) {
    const Cell& cell = row.cells[c];
    const double lead = before_words(cell, type);
    double left = corner.x + pad_x * grid.type.size;
    const double top = corner.y + pad_y * grid.type.size;
    canvas.tagged(tag, [&] {
        if (cell.swatch) {
            draw_swatch(canvas, *cell.swatch, {left, top}, chip * type.size);
            left += lead;
        }
        const double room = std::max(1.0, grid.room(c) - lead);
        const double x = type.side == Side::right    ? left + room
                         : type.side == Side::middle ? left + room / 2
                                                     : left;
        // One line stands at the middle of a swatch in its row.
        const bool chips = std::any_of(row.cells.begin(), row.cells.end(),
                                       [](const Cell& each) { return each.swatch.has_value(); });
        const double line = chips ? Canvas::height_of("0", type) : 0;
        const double down = chips ? std::max(0.0, (chip * type.size - line) / 2) : 0;
        canvas.write({x, top + down}, cell.text, type, Hold::top, room);
    });
}

class TableBlock : public Block {
public:
    TableBlock(Grid grid, std::vector<TableRow> rows) : grid_(std::move(grid)), rows_(std::move(rows)) {
        for (std::size_t c = 0; c < grid_.columns.size(); ++c) {
            Type type = grid_.heads;
            titles_ = titles_ || !grid_.columns[c].title.empty();
            head_ = std::max(head_, Canvas::height_of(grid_.columns[c].title, type, grid_.room(c)));
        }
        head_ = titles_ ? head_ + 2 * pad_y * grid_.type.size : 0;
        for (const TableRow& row : rows_) heights_.push_back(row_height(grid_, row));
    }
    double width() const override { return grid_.width; }
    double height() const override { return std::accumulate(heights_.begin(), heights_.end(), head_) + 1; }
    double least_height() const override {
        double height = head_ + 1;
        for (std::size_t i = 0; i < std::min<std::size_t>(2, rows_.size()); ++i) height += heights_[i];
        return height;
    }
    BlockPtr cut(double room) override {
        if (rows_.size() < 2 || room >= height()) return nullptr;
        double y = head_ + 1;
        std::size_t keep = 0;
        while (keep < rows_.size() && y + heights_[keep] <= room) y += heights_[keep++];
        keep = std::clamp<std::size_t>(keep, 1, rows_.size() - 1);
        // A sum is not left alone.
        if (keep == rows_.size() - 1 && rows_.back().sum && keep > 1) --keep;
        const auto middle = rows_.begin() + static_cast<std::ptrdiff_t>(keep);
        auto rest = std::make_unique<TableBlock>(grid_, std::vector<TableRow>(middle, rows_.end()));
        rows_.erase(middle, rows_.end());
        heights_.resize(keep);
        return rest;
    }
    void draw(Canvas& canvas) const override {
        canvas.tagged("Table", [&] { draw_rows(canvas); });
    }

private:
    void draw_rows(Canvas& canvas) const {
        double y = 0;
        if (titles_) {
            TableRow heads;
            for (const Column& column : grid_.columns) heads.cells.push_back({column.title});
            canvas.tagged("TR", [&] {
                double x = 0;
                for (std::size_t c = 0; c < heads.cells.size(); ++c) {
                    Type type = grid_.heads;
                    type.side = grid_.columns[c].side;
                    draw_cell(canvas, grid_, heads, c, {x, y}, type, "TH");
                    x += grid_.widths[c];
                }
            });
            y += head_;
            canvas.line({0, y}, {grid_.width, y}, {0.9, inks::accent});
        }
        for (std::size_t r = 0; r < rows_.size(); ++r) {
            if (r > 0 || !titles_)
                canvas.line({0, y}, {grid_.width, y},
                            rows_[r].sum ? Stroke{0.9, inks::accent} : Stroke{0.4, inks::hairline});
            canvas.tagged("TR", [&] {
                double x = 0;
                for (std::size_t c = 0; c < rows_[r].cells.size(); ++c) {
                    draw_cell(canvas, grid_, rows_[r], c, {x, y}, type_of(grid_, rows_[r], c), "TD");
                    x += grid_.widths[c];
                }
            });
            y += heights_[r];
        }
        canvas.line({0, y}, {grid_.width, y}, {0.4, inks::hairline});
    }

    Grid grid_;
    std::vector<TableRow> rows_;
    std::vector<double> heights_;
    double head_ = 0;
    bool titles_ = false;
};

/// What the words of a column would like, and the least they can do with.
struct Wants {
    std::vector<double> natural, least;
};

Wants wants_of(const Table& table, const Grid& grid) {
    Wants wants;
    const double pads = 2 * pad_x * grid.type.size;
    for (std::size_t c = 0; c < table.columns.size(); ++c) {
        double natural = Canvas::width_of(table.columns[c].title, grid.heads), least = 0;
        const double longest_word = Canvas::least_width(table.columns[c].title, grid.heads);
        const bool gives_way = table.columns[c].gives_way;
        if (natural > 2.2 * longest_word) natural = natural / 2 + grid.heads.size; // A heading in two lines.
        natural = std::max(natural, longest_word);
        least = longest_word;
        for (const TableRow& row : table.rows) {
            const Type type = type_of(grid, row, c);
            const double lead = before_words(row.cells[c], type);
            const double wide = lead + Canvas::width_of(row.cells[c].text, type);
            natural = std::max(natural, wide);
            // A column that gives way keeps some words to a line.
            const double narrow =
                std::max(std::min(9 * type.size, Canvas::least_width(row.cells[c].text, type)),
                         std::min(6 * type.size, wide - lead));
            least = std::max(least, gives_way ? lead + narrow : wide);
        }
        wants.natural.push_back(natural + pads + 0.1);
        wants.least.push_back(std::min(natural, least) + pads + 0.1);
    }
    return wants;
}

/// Empty when the columns do not fit side by side.
std::vector<double> share_out(const Table& table, const Wants& wants, double width) {
    const double natural = std::accumulate(wants.natural.begin(), wants.natural.end(), 0.0);
    const double least = std::accumulate(wants.least.begin(), wants.least.end(), 0.0);
    if (least > width) return {};
    std::vector<double> widths = wants.natural;
    if (natural > width) {
        const double share = (width - least) / (natural - least);
        for (std::size_t c = 0; c < widths.size(); ++c)
            widths[c] = wants.least[c] + share * (wants.natural[c] - wants.least[c]);
        return widths;
    }
    // What is over goes to the words, so that figures stay near each other.
    double giving = 0;
    for (std::size_t c = 0; c < widths.size(); ++c)
        if (table.columns[c].gives_way) giving += widths[c];
    for (std::size_t c = 0; c < widths.size() && giving > 0; ++c)
        if (table.columns[c].gives_way) widths[c] += (width - natural) * wants.natural[c] / giving;
    return widths;
}

} // namespace

BlockPtr table_block(Table table, const Type& type, double width) {
    expects(!table.columns.empty());
    for (const TableRow& row : table.rows) expects(row.cells.size() == table.columns.size());
    Grid grid;
    grid.columns = table.columns;
    grid.type = type;
    grid.heads = type;
    grid.heads.bold = true;
    grid.heads.ink = inks::accent;
    grid.heads.size = type.size >= 16 ? type.size : type.size * 0.92;
    grid.widths = share_out(table, wants_of(table, grid), width);
    if (!grid.widths.empty()) {
        grid.width = std::accumulate(grid.widths.begin(), grid.widths.end(), 0.0);
        return std::make_unique<TableBlock>(std::move(grid), std::move(table.rows));
    }
    // Too narrow: a row becomes one cell that tells its columns one after the other.
    Grid told = grid;
    told.columns = {Column{"", Side::left, true}};
    told.widths = {width};
    told.width = width;
    std::vector<TableRow> rows;
    for (TableRow& row : table.rows) {
        Cell cell;
        int told_before = 0;
        for (std::size_t c = 0; c < row.cells.size(); ++c) {
            if (row.cells[c].swatch) cell.swatch = row.cells[c].swatch;
            if (row.cells[c].text.words().empty()) continue;
            if (told_before > 0) cell.text.add(told_before == 1 ? "\n" : "; ");
            if (!table.columns[c].title.empty() && told_before > 0)
                cell.text.add(table.columns[c].title + ": ");
            for (const Run& run : row.cells[c].text.runs())
                cell.text.add_run({run.words, run.bold || told_before == 0});
            ++told_before;
        }
        rows.push_back({{std::move(cell)}, row.sum});
    }
    return std::make_unique<TableBlock>(std::move(told), std::move(rows));
}

} // namespace motley::render
