#include "render/block.h"

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "render/typeset.h"

namespace motley::render {

BlockPtr Block::cut(double) {
    return nullptr;
}

namespace {

constexpr double hair = 1e-6;

class TextBlock : public Block {
public:
    TextBlock(Text text, const Type& type, double width, const char* tag)
        : text_(std::move(text)), type_(type), width_(width), tag_(tag) {
        set();
    }
    double width() const override { return width_; }
    double height() const override { return size_.height; }
    void draw(Canvas& canvas) const override {
        canvas.tagged(tag_, [&] {
            canvas.write({type_.side == Side::right    ? width_
                          : type_.side == Side::middle ? width_ / 2
                                                       : 0,
                          0},
                         text_, type_, Hold::top, width_);
        });
    }
    double least_height() const override { return lines() <= 3 ? height() : up_to(2); }
    BlockPtr cut(double room) override {
        const int all = lines();
        if (all <= 3 || room >= height()) return nullptr;
        int keep = 2;
        while (keep < all - 2 && up_to(keep + 1) <= room + hair) ++keep;
        const PangoLayoutLine* next = pango_layout_get_line_readonly(words_.get(), keep);
        const auto byte = static_cast<std::size_t>(next->start_index);
        auto rest = std::make_unique<TextBlock>(text_.from(byte), type_, width_, tag_);
        Text kept;
        std::size_t left = byte;
        for (const Run& run : text_.runs()) {
            const std::string words = run.words.substr(0, std::min(left, run.words.size()));
            left -= words.size();
            if (!words.empty()) kept.add_run({words, run.bold});
        }
        text_ = std::move(kept);
        set();
        return rest;
    }

private:
    void set() {
        words_ = set_type(text_, type_, width_);
        size_ = measure_of(words_.get());
    }
    int lines() const { return pango_layout_get_line_count(words_.get()); }
    double up_to(int count) const { return size_.height * count / lines(); }

    Text text_;
    Type type_;
    double width_;
    const char* tag_;
    Words words_;
    Measure size_;
};

/// Blocks at places of their own.
class Group : public Block {
public:
    struct Part {
        BlockPtr block;
        unit::Point at;
    };
    Group(std::vector<Part> parts, double width, double height)
        : parts_(std::move(parts)), width_(width), height_(height) {}
    double width() const override { return width_; }
    double height() const override { return height_; }
    void draw(Canvas& canvas) const override {
        for (const Part& part : parts_) canvas.moved(part.at, 0, [&] { part.block->draw(canvas); });
    }

private:
    std::vector<Part> parts_;
    double width_, height_;
};

class FigureBlock : public Block {
public:
    explicit FigureBlock(Figure figure) : figure_(std::move(figure)) {}
    double width() const override { return figure_.width; }
    double height() const override { return figure_.height; }
    void draw(Canvas& canvas) const override {
        canvas.figure(figure_.alt, [&] { figure_.draw(canvas); });
    }

private:
    Figure figure_;
};

class Ornament : public Block {
public:
    Ornament(double width, double height, std::function<void(Canvas&)> draw)
        : width_(width), height_(height), draw_(std::move(draw)) {}
    double width() const override { return width_; }
    double height() const override { return height_; }
    void draw(Canvas& canvas) const override {
        if (draw_) draw_(canvas);
    }

private:
    double width_, height_;
    std::function<void(Canvas&)> draw_;
};

class Box : public Block {
public:
    Box(BlockPtr inside, double width, double pad, std::optional<Ink> fill, const Stroke& edge, bool bar)
        : inside_(std::move(inside)), width_(width), pad_(pad), fill_(fill), edge_(edge), bar_(bar) {}
    double width() const override { return width_; }
    double height() const override { return inside_->height() + 2 * pad_; }
    double least_height() const override { return inside_->least_height() + 2 * pad_; }
    BlockPtr cut(double room) override {
        BlockPtr rest = inside_->cut(room - 2 * pad_);
        return rest ? std::make_unique<Box>(std::move(rest), width_, pad_, fill_, edge_, bar_) : nullptr;
    }
    void draw(Canvas& canvas) const override {
        if (fill_ || edge_.width > 0) canvas.box({0, 0, width_, height()}, fill_, edge_);
        if (bar_) canvas.box({0, 0, 2.5, height()}, inks::accent, no_stroke);
        canvas.moved({pad_ + (bar_ ? 2.5 : 0), pad_}, 0, [&] { inside_->draw(canvas); });
    }

private:
    BlockPtr inside_;
    double width_, pad_;
    std::optional<Ink> fill_;
    Stroke edge_;
    bool bar_;
};

} // namespace

BlockPtr text_block(Text text, const Type& type, double width, const char* tag) {
    return std::make_unique<TextBlock>(std::move(text), type, width, tag);
}

BlockPtr item_block(const Text& mark, Text text, const Type& type, double indent, double width) {
    std::vector<Group::Part> parts;
    parts.push_back({text_block(mark, type, indent), {0, 0}});
    parts.push_back({text_block(std::move(text), type, width - indent), {indent, 0}});
    const double height = std::max(parts[0].block->height(), parts[1].block->height());
    return std::make_unique<Group>(std::move(parts), width, height);
}

BlockPtr figure_block(Figure figure) {
    return std::make_unique<FigureBlock>(std::move(figure));
}

BlockPtr ornament(double width, double height, std::function<void(Canvas&)> draw) {
    return std::make_unique<Ornament>(width, height, std::move(draw));
}

BlockPtr stack(std::vector<BlockPtr> blocks, double gap) {
    std::vector<Group::Part> parts;
    double width = 0, y = 0;
    for (BlockPtr& block : blocks) {
        if (y > 0) y += gap;
        width = std::max(width, block->width());
        const double height = block->height();
        parts.push_back({std::move(block), {0, y}});
        y += height;
    }
    return std::make_unique<Group>(std::move(parts), width, y);
}

BlockPtr beside(std::vector<BlockPtr> blocks, double gap) {
    std::vector<Group::Part> parts;
    double height = 0, x = 0;
    for (BlockPtr& block : blocks) {
        if (x > 0) x += gap;
        height = std::max(height, block->height());
        const double width = block->width();
        parts.push_back({std::move(block), {x, 0}});
        x += width;
    }
    return std::make_unique<Group>(std::move(parts), x, height);
}

BlockPtr boxed(BlockPtr inside, double width, double pad, std::optional<Ink> fill, const Stroke& edge,
               bool bar_at_left) {
    return std::make_unique<Box>(std::move(inside), width, pad, fill, edge, bar_at_left);
}

Ink readable_on(Ink ink) {
    // Of the code values: near enough to lightness to choose between black and white.
    return 0.30 * ink.r + 0.59 * ink.g + 0.11 * ink.b > 0.52 ? inks::text : inks::paper;
}

void draw_swatch(Canvas& canvas, const Swatch& swatch, unit::Point corner, double side) {
    const unit::Box box{corner.x, corner.y, corner.x + side, corner.y + side};
    canvas.box(box, swatch.ink, {0.4, inks::quiet}, side * 0.12);
    if (swatch.letter.empty()) return;
    Type type{.size = side * (swatch.letter.size() > 2   ? 0.42
                              : swatch.letter.size() > 1 ? 0.56
                                                         : 0.68),
              .bold = true,
              .ink = readable_on(swatch.ink),
              .side = Side::middle};
    canvas.write(box.middle(), swatch.letter, type, Hold::middle);
}

} // namespace motley::render
