#include "render/page.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"

namespace motley::render {

PageTypes page_types(bool large_print) {
    PageTypes types;
    const auto size = [&](double normal, double large) { return large_print ? large : normal; };
    types.title = {.size = size(36, 44), .display = true, .leading = 1.0};
    types.part = {.size = size(24, 34), .display = true, .ink = inks::accent, .leading = 1.0};
    types.heading = {.size = size(12, 21), .bold = true, .leading = 1.1};
    types.body = {.size = size(10, 18), .leading = 1.2};
    types.small = {.size = size(8.5, 18), .ink = inks::quiet, .leading = 1.12};
    types.table = {.size = size(9.25, 18), .leading = 1.05};
    return types;
}

Pages::Pages(PageSetup setup) : setup_(std::move(setup)), types_(page_types(setup_.large_print)) {
    add_page();
}

double Pages::reading_width() const {
    return std::min(room(), types_.body.size * 43);
}

void Pages::add_page() {
    pages_.push_back({{}, part_});
    y_ = top();
}

void Pages::turn_page() {
    finish_headings();
    if (!fresh()) add_page();
}

void Pages::finish_headings() {
    if (!waiting_.empty()) put(ornament(1, 0, {}), 0);
}

int Pages::marked(const std::string& name, bool under) {
    marks_.push_back({name, 0, under});
    return static_cast<int>(marks_.size()) - 1;
}

void Pages::place(Waiting what) {
    if (!fresh()) y_ += what.before;
    const double height = what.block->height();
    if (what.mark >= 0) marks_[static_cast<std::size_t>(what.mark)].page = pages_.size() - 1;
    pages_.back().placed.push_back({std::move(what.block), {setup_.margin, y_}, what.mark});
    y_ += height;
}

void Pages::settle(Waiting next) {
    double kept = 0;
    for (const Waiting& each : waiting_) kept += each.before + each.block->height();
    kept += next.before;
    const double least = std::min(next.block->least_height(), full_height());
    if (kept + next.block->height() > left() && kept + least > left() && !fresh()) add_page();
    for (Waiting& each : waiting_) place(std::move(each));
    waiting_.clear();
    for (;;) {
        if (fresh()) next.before = 0;
        const double free = left() - next.before;
        if (next.block->height() <= free) break;
        const bool fits_in_part = next.block->least_height() <= free || fresh();
        BlockPtr rest = fits_in_part ? next.block->cut(free) : nullptr;
        if (!rest && fresh()) break; // Taller than a page, and cannot be cut.
        if (rest) place(std::move(next));
        add_page();
        if (rest) next = {std::move(rest), 0, -1};
    }
    place(std::move(next));
}

void Pages::put(BlockPtr block, double before, bool stays_with_next) {
    Waiting next{std::move(block), before, -1};
    if (stays_with_next)
        waiting_.push_back(std::move(next));
    else
        settle(std::move(next));
}

void Pages::part(const std::string& name, double needs) {
    finish_headings();
    if (left() < needs * full_height()) turn_page();
    part_ = name;
    if (fresh()) pages_.back().part = name;
    std::vector<BlockPtr> rule_and_name;
    const double size = types_.part.size;
    rule_and_name.push_back(
        ornament(room(), 3, [](Canvas& canvas) { canvas.box({0, 0, 40, 3}, inks::accent, no_stroke); }));
    rule_and_name.push_back(text_block(name, types_.part, room(), "H1"));
    waiting_.push_back({stack(std::move(rule_and_name), size * 0.22), size * 1.3, marked(name, false)});
    waiting_.push_back({ornament(room(), size * 0.12, {}), 0, -1});
}

void Pages::heading(const Text& text) {
    const double size = types_.heading.size;
    waiting_.push_back(
        {text_block(text, types_.heading, room(), "H2"), size * 1.15, marked(text.words(), true)});
}

void Pages::say(Text text, bool stays_with_next) {
    put(text_block(std::move(text), types_.body, reading_width()), types_.body.size * 0.75, stays_with_next);
}

void Pages::small(Text text) {
    put(text_block(std::move(text), types_.small, std::min(room(), types_.small.size * 58)),
        types_.small.size * 0.7);
}

void Pages::item(const std::string& mark, Text text) {
    const double indent = types_.body.size * 2.1;
    Type type = types_.body;
    put(item_block(strong(mark), std::move(text), type, indent, reading_width()), types_.body.size * 0.5);
}

void Pages::caution(Text text) {
    const double pad = types_.body.size * 0.7, width = std::min(room(), types_.body.size * 46);
    Text all;
    all.strong("Take care. ");
    for (const Run& run : text.runs()) all.add_run(run);
    put(boxed(text_block(std::move(all), types_.body, width - 2 * pad - 2.5), width, pad, inks::wash,
              no_stroke, true),
        types_.body.size * 0.9);
}

void Pages::table(Table table) {
    put(table_block(std::move(table), types_.table, room()), types_.body.size * 0.7);
}

void Pages::figure(Figure figure) {
    const double reduce = std::min({1.0, full_height() / figure.height, room() / figure.width});
    Figure placed{.width = room(), .height = figure.height * reduce, .draw = {}, .alt = figure.alt};
    const double aside = (room() - figure.width * reduce) / 2;
    placed.draw = [inside = std::move(figure.draw), reduce, aside](Canvas& canvas) {
        canvas.moved({aside, 0}, 0, [&] { canvas.scaled(reduce, [&] { inside(canvas); }); });
    };
    put(figure_block(std::move(placed)), types_.body.size * 0.9);
}

void Pages::card(const std::function<std::vector<BlockPtr>(double)>& words,
                 const std::function<Figure(double)>& figure, double share_of_words) {
    const double gap = 2 * types_.body.size, wide = (room() - gap) * share_of_words;
    if (!setup_.large_print) {
        std::vector<BlockPtr> sides;
        sides.push_back(stack(words(wide), types_.body.size * 0.3));
        // As wide as it was made for, so that the drawings stand below each other.
        const double empty = wide - sides[0]->width();
        sides.push_back(figure_block(figure(room() - gap - wide)));
        BlockPtr both = beside(std::move(sides), gap + empty);
        if (both->height() <= full_height()) {
            put(std::move(both), types_.body.size * 1.3);
            return;
        }
    }
    for (BlockPtr& block : words(room())) put(std::move(block), types_.body.size * 0.5, true);
    this->figure(figure(room()));
}

void Pages::contents(const std::vector<std::string>& parts) {
    Type type = types_.body;
    for (const std::string& part : parts)
        put(ornament(reading_width(), type.size * 1.7,
                     [this, part, type](Canvas& canvas) { draw_contents(canvas, part, type); }),
            0);
}

} // namespace motley::render
