#pragma once
/// Printed pages, filled from the top: headings stay with what they head, tables and long texts go on over
/// the page's end. In: blocks. Out: a PDF with selectable text, embedded fonts, bookmarks, links, structure,
/// language and alternative texts; the same calls give the same bytes. What figures draw from must last until
/// `print`. Units: points, 1/72 in.

#include <cstddef>
#include <string>
#include <vector>

#include "render/block.h"

namespace motley::render {

struct PageSetup {
    double width = 612, height = 792; ///< US Letter; A4 is 595.28 x 841.89.
    double margin = 54;               ///< At the sides; a little more above and below.
    bool large_print = false;         ///< 18 points and nothing smaller but what stands in drawings.
    std::string title;                ///< Of the document; runs along the tops of the pages.
    std::string subject, author;
    std::string language = "en-US";
};

/// The sizes of type on the pages.
struct PageTypes {
    Type title, part, heading, body, small, table;
};
PageTypes page_types(bool large_print);

class Pages {
public:
    explicit Pages(PageSetup setup);

    const PageTypes& types() const { return types_; }
    bool large_print() const { return setup_.large_print; }
    double room() const { return setup_.width - 2 * setup_.margin; } ///< Width for blocks.
    double full_height() const { return bottom() - top(); }          ///< Of an empty page.
    double left() const { return bottom() - y_; }                    ///< Height that is left on this page.
    double reading_width() const; ///< Of running text: no line is too long to find the next one.

    /// Begins a part: bookmark, link target, the running title. On a new page when less than `needs` of the
    /// page's height is left.
    void part(const std::string& name, double needs = 0.45);
    void heading(const Text& text);                    ///< With a bookmark under its part.
    void say(Text text, bool stays_with_next = false); ///< A paragraph.
    void small(Text text);                             ///< A remark in small type.
    void item(const std::string& mark, Text text);
    void caution(Text text);
    void table(Table table);
    void figure(Figure figure); ///< Centred; reduced when taller than a page.
    /// Words and a drawing beside them, made for the widths they get; one below the other in large print or
    /// where they are too tall for a page.
    void card(const std::function<std::vector<BlockPtr>(double width)>& words,
              const std::function<Figure(double width)>& figure, double share_of_words = 0.47);
    void put(BlockPtr block, double before, bool stays_with_next = false);
    /// One line for each of these parts, with its page, once all are known.
    void contents(const std::vector<std::string>& parts);
    void turn_page();       ///< Unless this one is still empty.
    void finish_headings(); ///< Places what still waits for a next block.

    /// The PDF. Nothing can be added after that.
    std::vector<std::byte> print();

private:
    struct Placed {
        BlockPtr block;
        unit::Point at;
        int mark = -1; ///< Of `marks_`: what links and bookmarks lead to.
    };
    struct Page {
        std::vector<Placed> placed;
        std::string part;
    };
    struct Mark {
        std::string name;
        std::size_t page = 0;
        bool under = false; ///< Below the part before it.
    };
    struct Waiting {
        BlockPtr block;
        double before = 0;
        int mark = -1;
    };
    double top() const { return setup_.margin + 14 + lower(); }
    double lower() const { return setup_.large_print ? 8 : 0; } ///< Larger running titles need more room.
    double bottom() const { return setup_.height - setup_.margin - 14; }
    bool fresh() const { return pages_.back().placed.empty(); }
    void add_page();
    void settle(Waiting waiting);
    void place(Waiting what);
    int marked(const std::string& name, bool under);
    void draw_page(Canvas& canvas, std::size_t page) const;
    void draw_contents(Canvas& canvas, const std::string& part, const Type& type) const;

    PageSetup setup_;
    PageTypes types_;
    std::vector<Page> pages_;
    std::vector<Mark> marks_;
    std::vector<Waiting> waiting_; ///< What stays with the next block.
    std::string part_;
    double y_ = 0;
};

} // namespace motley::render
