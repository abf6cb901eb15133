#pragma once
/// Cairo's and Pango's handles, and words that come out the same whatever the desktop prefers.

#include <cairo.h>
#include <pango/pangocairo.h>

#include <memory>
#include <string>

namespace motley::render {

/// Wraps a C library's handle.
template <class T, void (*free_it)(T*)>
struct Free {
    void operator()(T* handle) const { free_it(handle); }
};
inline void unref(PangoLayout* handle) {
    g_object_unref(handle);
}
using Surface = std::unique_ptr<cairo_surface_t, Free<cairo_surface_t, cairo_surface_destroy>>;
using Pen = std::unique_ptr<cairo_t, Free<cairo_t, cairo_destroy>>;
using Words = std::unique_ptr<PangoLayout, Free<PangoLayout, unref>>;

/// Words to be drawn with a pen: DejaVu Sans, grey antialiasing, unhinted. `pixels` is the size of the font.
Words lettered(cairo_t* pen, const std::string& words, double pixels, bool bold);

struct Size {
    int width = 0, height = 0;
};
Size size_of(PangoLayout* words); ///< Pixels.

} // namespace motley::render
