#pragma once
/// What a printed page is filled with: words, tables, figures, and these above or beside each other. Each
/// knows its height before it is drawn, and the longer ones can be cut where a page ends. Units: points.

#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "render/canvas.h"
#include "render/type.h"

namespace motley::render {

class Block {
public:
    virtual ~Block() = default;
    virtual double width() const = 0;
    virtual double height() const = 0;
    /// From its own top left corner.
    virtual void draw(Canvas& canvas) const = 0;
    /// The least that may stand at the foot of a page; all of it where it cannot be cut.
    virtual double least_height() const { return height(); }
    /// Keeps what fits into `room`, at least `least_height()`, and gives the rest; null when it cannot be cut
    /// or all of it fits.
    virtual std::unique_ptr<Block> cut(double room);
};
using BlockPtr = std::unique_ptr<Block>;

/// Words in lines `width` wide; cut between lines, never leaving one alone. `tag`: what it is to a reader who
/// listens ("P", "H2").
BlockPtr text_block(Text text, const Type& type, double width, const char* tag = "P");

/// A mark ("1.", a bullet) and words that hang beside it.
BlockPtr item_block(const Text& mark, Text text, const Type& type, double indent, double width);

struct Figure {
    double width = 0, height = 0;
    std::function<void(Canvas&)> draw{};
    std::string alt{}; ///< Says in words what there is to see.
};
BlockPtr figure_block(Figure figure);
/// Drawn, but nothing that a reader who listens would miss.
BlockPtr ornament(double width, double height, std::function<void(Canvas&)> draw);

/// Above each other.
BlockPtr stack(std::vector<BlockPtr> blocks, double gap);
/// Beside each other, each as wide as it is; cut only between rows of it.
BlockPtr beside(std::vector<BlockPtr> blocks, double gap);
/// On a tint with some room around, as wide as `width`. What is inside is made for `boxed_room(width, pad)`.
BlockPtr boxed(BlockPtr inside, double width, double pad, std::optional<Ink> fill, const Stroke& edge,
               bool bar_at_left = false);

struct Column {
    std::string title;
    Side side = Side::left;
    bool gives_way = false; ///< Its words may break into lines where room is short.
};
/// A chip of colour with a letter, before a cell's words.
struct Swatch {
    Ink ink;
    std::string letter;
};
struct Cell {
    Text text;
    std::optional<Swatch> swatch{};
};
struct TableRow {
    std::vector<Cell> cells; ///< As many as there are columns.
    bool sum = false;        ///< Bold, below a heavier line.
};
struct Table {
    std::vector<Column> columns;
    std::vector<TableRow> rows;
};
/// Cut between rows, its headings repeated. Where the columns do not fit side by side, each row is told as
/// its first cell and "heading: words" for the others.
BlockPtr table_block(Table table, const Type& type, double width);

/// Draws a swatch of that side.
void draw_swatch(Canvas& canvas, const Swatch& swatch, unit::Point corner, double side);

/// Black or white, whichever reads better on the ink.
Ink readable_on(Ink ink);

} // namespace motley::render
