#pragma once
/// A part of a printed page to draw on with lines, outlines and words. Units: points from the part's top left
/// corner, x to the right, y down. Everything stays vector and text: it prints at any size, and words can be
/// searched.

#include <cstdint>
#include <functional>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "photo/photo.h"
#include "render/type.h"
#include "unit/plane.h"

using cairo_t = struct _cairo;

namespace motley::render {

struct Stroke {
    double width = 0.5; ///< 0: none.
    Ink ink = inks::text;
    bool dashed = false;
};
inline constexpr Stroke no_stroke{0, {}, false};

/// Which point of the words lies at the place given.
enum class Hold : std::uint8_t {
    top,      ///< The middle of their upper edge, or a corner, as Type::side says.
    middle,   ///< Half-way up the capitals.
    baseline, ///< Of the first line.
};

class Canvas {
public:
    explicit Canvas(cairo_t* pen) : pen_(pen) {}

    void line(unit::Point from, unit::Point to, const Stroke& stroke = {});
    void outline(std::span<const unit::Point> corners, std::optional<Ink> fill, const Stroke& stroke = {});
    void box(const unit::Box& box, std::optional<Ink> fill, const Stroke& stroke = {}, double round = 0);
    /// Fine lines aslant inside an outline: what is waste, or seen from the back.
    void hatch(std::span<const unit::Point> corners, double apart, const Stroke& stroke);
    /// Filled, its point at `tip`.
    void arrowhead(unit::Point tip, unit::Point along, double length, Ink ink);
    /// `room`: where lines break; 0: one line. Returns how high the words came out.
    double write(unit::Point at, const Text& text, const Type& type, Hold hold = Hold::top, double room = 0);
    /// Fills the box; the picture's shape should be the box's.
    void picture(const photo::Raster& raster, const unit::Box& box);

    /// Draws with the origin moved and turned clockwise by `degrees`.
    void moved(unit::Point to, double degrees, const std::function<void()>& draw);
    void scaled(double times, const std::function<void()>& draw);
    /// Draws what lies inside the box alone.
    void within(const unit::Box& box, const std::function<void()>& draw);
    /// For readers who listen: what a part of the page is, as PDF names it ("P", "Figure", "TD").
    void tagged(const char* tag, const std::function<void()>& draw, const std::string& attributes = {});

    /// A picture or drawing, and what it shows in words.
    void figure(const std::string& alt, const std::function<void()>& draw);
    const std::vector<std::string>& alts() const { return alts_; } ///< Of the figures, as drawn.

    static double width_of(const Text& text, const Type& type);
    static double height_of(const Text& text, const Type& type, double room = 0);

    static double least_width(const Text& text, const Type& type); ///< Of the longest word.

private:
    void use(Ink ink);
    void trace(std::span<const unit::Point> corners);
    void stroke(const Stroke& stroke);
    cairo_t* pen_;
    std::vector<std::string> alts_;
};

} // namespace motley::render
