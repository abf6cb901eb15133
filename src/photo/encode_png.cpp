#include <png.h>

#include <array>
#include <cmath>
#include <csetjmp>
#include <vector>

#include "fault/fault.h"
#include "photo/photo.h"

namespace motley::photo {

namespace {

/// The way out of libpng when it gives up; see `png.cpp`.
struct Leave {
    std::jmp_buf target;
};

[[noreturn]] void give_up(png_structp png, png_const_charp) {
    std::longjmp(static_cast<Leave*>(png_get_error_ptr(png))->target, 1);
}

void take_warning(png_structp, png_const_charp) {}

/// Nothing may be thrown through the library, so that running out of memory is only noted.
struct Output {
    std::vector<std::byte>* bytes;
    bool full;
};

void take_bytes(png_structp png, png_bytep data, std::size_t count) {
    auto& output = *static_cast<Output*>(png_get_io_ptr(png));
    try {
        const auto* start = reinterpret_cast<const std::byte*>(data);
        output.bytes->insert(output.bytes->end(), start, start + count);
    } catch (...) {
        output.full = true;
    }
    if (output.full) png_error(png, "out of memory");
}

void nothing(png_structp) {}

void write(png_structp png, png_infop info, const Raster& raster, png_uint_32 per_metre) {
    // Printed cloth is noise to a search for repeats: it takes four times as long and finds nothing. What is
    // left of drawn pictures after the filter is runs.
    constexpr int runs_only = 3; // zlib's Z_RLE.
    png_set_compression_strategy(png, runs_only);
    png_set_compression_level(png, 1);
    png_set_filter(png, PNG_FILTER_TYPE_BASE, PNG_FILTER_UP);
    png_set_compression_buffer_size(png, std::size_t{1} << 16);
    png_set_IHDR(png, info, static_cast<png_uint_32>(raster.width), static_cast<png_uint_32>(raster.height),
                 8, raster.channels == 1 ? PNG_COLOR_TYPE_GRAY : PNG_COLOR_TYPE_RGB, PNG_INTERLACE_NONE,
                 PNG_COMPRESSION_TYPE_BASE, PNG_FILTER_TYPE_BASE);
    png_set_sRGB(png, info, PNG_sRGB_INTENT_RELATIVE);
    if (per_metre > 0) png_set_pHYs(png, info, per_metre, per_metre, PNG_RESOLUTION_METER);
    png_write_info(png, info);
    const std::size_t row =
        static_cast<std::size_t>(raster.width) * static_cast<std::size_t>(raster.channels);
    for (std::size_t y = 0; y < static_cast<std::size_t>(raster.height); ++y) {
        png_write_row(png, raster.pixels.data() + y * row);
    }
    png_write_end(png, info);
}

} // namespace

std::vector<std::byte> encode_png(const Raster& raster, double pixels_per_inch) {
    expects(raster.width > 0 && raster.height > 0 && (raster.channels == 1 || raster.channels == 3));
    expects(raster.pixels.size() == static_cast<std::size_t>(raster.width) *
                                        static_cast<std::size_t>(raster.height) *
                                        static_cast<std::size_t>(raster.channels));
    expects(pixels_per_inch >= 0 && pixels_per_inch < 1e6);
    const auto per_metre = static_cast<png_uint_32>(std::lround(pixels_per_inch / 0.0254));
    std::vector<std::byte> bytes;
    Output output{&bytes, false};
    Leave leave;
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, &leave, give_up, take_warning);
    png_infop info = png != nullptr ? png_create_info_struct(png) : nullptr;
    if (info == nullptr) {
        png_destroy_write_struct(&png, &info);
        throw std::bad_alloc();
    }
    const auto run = [&] {
        if (setjmp(leave.target) != 0) return false;
        png_set_write_fn(png, &output, take_bytes, nothing);
        write(png, info, raster, per_metre);
        return true;
    };
    const bool written = run();
    png_destroy_write_struct(&png, &info);
    if (output.full) throw std::bad_alloc();
    expects(written);
    return bytes;
}

} // namespace motley::photo
