#pragma once
/// Small picture files for the tests, made with the libraries' own encoders; in none of them is a line of the
/// code under test.

// clang-format off: jpeglib.h needs what cstdio declares.
#include <cstdio>
#include <jpeglib.h>
// clang-format on

#include <libheif/heif.h>
#include <png.h>
#include <webp/encode.h>

#include <cstddef>
#include <cstdint>
#include <cstdlib>
#include <cstring>
#include <optional>
#include <random>
#include <span>
#include <stdexcept>
#include <string_view>
#include <vector>

namespace pictures {

using Bytes = std::vector<std::byte>;

/// Interleaved samples: 1 grey, 2 grey and alpha, 3 RGB, 4 RGBA (CMYK in a JPEG); at most 2^bits - 1.
struct Picture {
    int width = 0, height = 0, channels = 3, bits = 8;
    std::vector<std::uint16_t> samples;

    Picture(int w, int h, int n = 3, int b = 8)
        : width(w), height(h), channels(n), bits(b), samples(static_cast<std::size_t>(w * h * n)) {}
    std::uint16_t& at(int x, int y, int c) {
        return samples[static_cast<std::size_t>((y * width + x) * channels + c)];
    }
    std::uint16_t at(int x, int y, int c) const {
        return samples[static_cast<std::size_t>((y * width + x) * channels + c)];
    }
    std::vector<std::uint8_t> narrow() const { return {samples.begin(), samples.end()}; }
};

inline Picture noise(int width, int height, int channels, int bits, unsigned seed) {
    Picture picture(width, height, channels, bits);
    std::mt19937 chance(seed);
    for (std::uint16_t& sample : picture.samples) {
        sample = static_cast<std::uint16_t>(chance() & ((1U << bits) - 1U));
    }
    return picture;
}

/// Soft ramps, which survive lossy coding.
inline Picture ramps(int width, int height) {
    Picture picture(width, height);
    for (int y = 0; y < height; ++y) {
        for (int x = 0; x < width; ++x) {
            picture.at(x, y, 0) = static_cast<std::uint16_t>(40 + 180 * x / width);
            picture.at(x, y, 1) = static_cast<std::uint16_t>(30 + 150 * y / height);
            picture.at(x, y, 2) = static_cast<std::uint16_t>(200 - 120 * (x + y) / (width + height));
        }
    }
    return picture;
}

inline void append(Bytes& bytes, std::string_view text) {
    for (const char letter : text) bytes.push_back(static_cast<std::byte>(letter));
}

inline void append(Bytes& bytes, std::span<const std::byte> more) {
    bytes.insert(bytes.end(), more.begin(), more.end());
}

inline Bytes bytes_of(std::string_view text) {
    Bytes out;
    append(out, text);
    return out;
}

inline Bytes bytes_of(const void* data, std::size_t size) {
    const auto* start = static_cast<const std::byte*>(data);
    return {start, start + size};
}

/// TIFF 6.0: little endian, one directory with one entry, tag 274. `next` is where the directory claims to
/// continue.
inline Bytes exif(int orientation, int next = 0) {
    Bytes out = bytes_of({"II*\0\x08\0\0\0\x01\0\x12\x01\x03\0\x01\0\0\0", 18});
    for (const int number : {orientation, 0, 0, 0, next, 0, 0, 0})
        out.push_back(static_cast<std::byte>(number));
    return out;
}

struct JpegStyle {
    int quality = 95;
    bool full_chroma = true, progressive = false;
    bool adobe = true; ///< CMYK: with Adobe's marker, samples then being inverted.
    bool ycck = false;
    Bytes exif{}, icc{};
};

inline Bytes jpeg(const Picture& picture, const JpegStyle& style = {}) {
    jpeg_compress_struct info{};
    jpeg_error_mgr errors{};
    info.err = jpeg_std_error(&errors);
    jpeg_create_compress(&info);
    unsigned char* out = nullptr;
    unsigned long size = 0;
    jpeg_mem_dest(&info, &out, &size);
    info.image_width = static_cast<JDIMENSION>(picture.width);
    info.image_height = static_cast<JDIMENSION>(picture.height);
    info.input_components = picture.channels;
    info.in_color_space = picture.channels == 1 ? JCS_GRAYSCALE : picture.channels == 4 ? JCS_CMYK : JCS_RGB;
    jpeg_set_defaults(&info);
    if (style.ycck) jpeg_set_colorspace(&info, JCS_YCCK);
    if (picture.channels == 4 && !style.adobe) info.write_Adobe_marker = FALSE;
    jpeg_set_quality(&info, style.quality, TRUE);
    if (style.full_chroma) info.comp_info[0].h_samp_factor = info.comp_info[0].v_samp_factor = 1;
    if (style.progressive) jpeg_simple_progression(&info);
    jpeg_start_compress(&info, TRUE);
    if (!style.exif.empty()) {
        Bytes block = bytes_of({"Exif\0\0", 6});
        append(block, style.exif);
        jpeg_write_marker(&info, JPEG_APP0 + 1, reinterpret_cast<const JOCTET*>(block.data()),
                          static_cast<unsigned>(block.size()));
    }
    if (!style.icc.empty()) {
        jpeg_write_icc_profile(&info, reinterpret_cast<const JOCTET*>(style.icc.data()),
                               static_cast<unsigned>(style.icc.size()));
    }
    std::vector<std::uint8_t> samples = picture.narrow();
    while (info.next_scanline < info.image_height) {
        JSAMPROW row = samples.data() +
                       static_cast<std::ptrdiff_t>(info.next_scanline) * picture.width * picture.channels;
        jpeg_write_scanlines(&info, &row, 1);
    }
    jpeg_finish_compress(&info);
    jpeg_destroy_compress(&info);
    Bytes file = bytes_of(out, size);
    std::free(out);
    return file;
}

struct PngStyle {
    bool interlaced = false;
    Bytes exif{}, icc{};
    bool srgb = false;
    double gamma = 0;
    std::vector<double> chromaticities{}; ///< White, red, green, blue; x and y of each.
    std::vector<png_color> palette{};     ///< Samples are then indexes.
    std::vector<png_byte> palette_alpha{};
};

inline void png_put(png_structp png, png_bytep data, std::size_t size) {
    append(*static_cast<Bytes*>(png_get_io_ptr(png)), bytes_of(data, size));
}

inline Bytes png(const Picture& picture, const PngStyle& style = {}) {
    const auto fail = [](png_structp, png_const_charp says) { throw std::runtime_error(says); };
    png_structp png = png_create_write_struct(PNG_LIBPNG_VER_STRING, nullptr, fail, nullptr);
    png_infop info = png_create_info_struct(png);
    Bytes file;
    png_set_write_fn(png, &file, png_put, nullptr);
    png_set_user_limits(png, 0x7fffffff, 0x7fffffff);
    constexpr int kinds[] = {PNG_COLOR_TYPE_GRAY, PNG_COLOR_TYPE_GRAY_ALPHA, PNG_COLOR_TYPE_RGB,
                             PNG_COLOR_TYPE_RGBA};
    const int kind = style.palette.empty() ? kinds[picture.channels - 1] : PNG_COLOR_TYPE_PALETTE;
    png_set_IHDR(png, info, static_cast<png_uint_32>(picture.width), static_cast<png_uint_32>(picture.height),
                 picture.bits, kind, style.interlaced ? PNG_INTERLACE_ADAM7 : PNG_INTERLACE_NONE, 0, 0);
    if (!style.palette.empty())
        png_set_PLTE(png, info, style.palette.data(), static_cast<int>(style.palette.size()));
    if (!style.palette_alpha.empty()) {
        png_set_tRNS(png, info, style.palette_alpha.data(), static_cast<int>(style.palette_alpha.size()),
                     nullptr);
    }
    if (style.srgb) png_set_sRGB(png, info, PNG_sRGB_INTENT_RELATIVE);
    if (style.gamma > 0) png_set_gAMA(png, info, style.gamma);
    if (!style.chromaticities.empty()) {
        const double* c = style.chromaticities.data();
        png_set_cHRM(png, info, c[0], c[1], c[2], c[3], c[4], c[5], c[6], c[7]);
    }
    if (!style.icc.empty()) {
        png_set_iCCP(png, info, "profile", 0, reinterpret_cast<png_const_bytep>(style.icc.data()),
                     static_cast<png_uint_32>(style.icc.size()));
    }
    Bytes block = style.exif;
    if (!block.empty()) {
        png_set_eXIf_1(png, info, static_cast<png_uint_32>(block.size()),
                       reinterpret_cast<png_bytep>(block.data()));
    }
    png_write_info(png, info);
    if (picture.bits < 8) png_set_packing(png);
    std::vector<png_byte> samples;
    for (const std::uint16_t sample : picture.samples) {
        if (picture.bits == 16) samples.push_back(static_cast<png_byte>(sample >> 8));
        samples.push_back(static_cast<png_byte>(sample & 0xff));
    }
    const std::size_t row = samples.size() / static_cast<std::size_t>(picture.height);
    std::vector<png_bytep> rows;
    for (std::size_t y = 0; y < static_cast<std::size_t>(picture.height); ++y)
        rows.push_back(samples.data() + y * row);
    png_write_image(png, rows.data());
    png_write_end(png, info);
    png_destroy_write_struct(&png, &info);
    return file;
}

/// The file with one more chunk right behind its header (which ends at byte 33).
inline Bytes with_chunk(const Bytes& png_file, std::string_view name, std::span<const std::byte> data) {
    Bytes chunk;
    append(chunk, name);
    append(chunk, data);
    std::uint32_t check = 0xffffffffU; // PNG, third edition, annex D: the checksum, bit by bit.
    for (const std::byte byte : chunk) {
        check ^= std::to_integer<std::uint32_t>(byte);
        for (int bit = 0; bit < 8; ++bit) check = (check & 1U) != 0 ? 0xedb88320U ^ check >> 1 : check >> 1;
    }
    check = ~check;
    const auto put = [](Bytes& out, std::uint32_t number) {
        for (int shift = 24; shift >= 0; shift -= 8)
            out.push_back(static_cast<std::byte>(number >> shift & 0xffU));
    };
    Bytes file(png_file.begin(), png_file.begin() + 33);
    put(file, static_cast<std::uint32_t>(data.size()));
    append(file, chunk);
    put(file, check);
    append(file, std::span(png_file).subspan(33));
    return file;
}

struct WebpStyle {
    bool lossless = true;
    Bytes exif{}, icc{};
    bool animated = false; ///< Only says so in its header.
};

inline void append_number(Bytes& bytes, std::uint32_t number, int count) {
    for (int i = 0; i < count; ++i) bytes.push_back(static_cast<std::byte>(number >> (8 * i) & 0xff));
}

inline void append_riff_chunk(Bytes& bytes, std::string_view name, std::span<const std::byte> data) {
    append(bytes, name);
    append_number(bytes, static_cast<std::uint32_t>(data.size()), 4);
    append(bytes, data);
    if (data.size() % 2 != 0) bytes.push_back(std::byte{0});
}

/// The container is put together by hand from the WebP container specification: VP8X, ICCP, the picture,
/// EXIF.
inline Bytes webp(const Picture& picture, const WebpStyle& style = {}) {
    const std::vector<std::uint8_t> samples = picture.narrow();
    const int stride = picture.width * picture.channels;
    std::uint8_t* out = nullptr;
    std::size_t size = 0;
    if (picture.channels == 4) {
        // Exact, so that colours under transparent pixels stay in the file.
        WebPConfig config;
        WebPPicture plane;
        WebPMemoryWriter writer;
        WebPConfigInit(&config);
        WebPPictureInit(&plane);
        WebPMemoryWriterInit(&writer);
        config.lossless = config.exact = 1;
        plane.use_argb = 1;
        plane.width = picture.width;
        plane.height = picture.height;
        plane.writer = WebPMemoryWrite;
        plane.custom_ptr = &writer;
        WebPPictureImportRGBA(&plane, samples.data(), stride);
        WebPEncode(&config, &plane);
        WebPPictureFree(&plane);
        out = writer.mem;
        size = writer.size;
    } else if (style.lossless) {
        size = WebPEncodeLosslessRGB(samples.data(), picture.width, picture.height, stride, &out);
    } else {
        size = WebPEncodeRGB(samples.data(), picture.width, picture.height, stride, 90, &out);
    }
    Bytes simple = bytes_of(out, size);
    WebPFree(out);
    if (style.exif.empty() && style.icc.empty() && !style.animated) return simple;
    Bytes head;
    append_number(head,
                  (style.icc.empty() ? 0U : 0x20U) | (style.exif.empty() ? 0U : 0x08U) |
                      (picture.channels == 4 ? 0x10U : 0U) | (style.animated ? 0x02U : 0U),
                  4);
    append_number(head, static_cast<std::uint32_t>(picture.width - 1), 3);
    append_number(head, static_cast<std::uint32_t>(picture.height - 1), 3);
    Bytes body = bytes_of("WEBP");
    append_riff_chunk(body, "VP8X", head);
    if (!style.icc.empty()) append_riff_chunk(body, "ICCP", style.icc);
    append(body, std::span(simple).subspan(12));
    if (!style.exif.empty()) append_riff_chunk(body, "EXIF", style.exif);
    Bytes file;
    append_riff_chunk(file, "RIFF", body);
    return file;
}

struct HeifStyle {
    heif_compression_format coder = heif_compression_HEVC;
    heif_orientation orientation = heif_orientation_normal;
    Bytes icc{};
    std::optional<heif_color_primaries> primaries{};
    heif_transfer_characteristics transfer = heif_transfer_characteristic_IEC_61966_2_1;
    int quality = 98;
};

inline void require(const heif_error& error) {
    if (error.code != heif_error_Ok) throw std::runtime_error(error.message);
}

inline heif_image* heif_plane(const Picture& picture) {
    const bool wide = picture.bits > 8;
    const bool alpha = picture.channels == 4;
    heif_image* image = nullptr;
    require(heif_image_create(picture.width, picture.height, heif_colorspace_RGB,
                              wide    ? heif_chroma_interleaved_RRGGBB_LE
                              : alpha ? heif_chroma_interleaved_RGBA
                                      : heif_chroma_interleaved_RGB,
                              &image));
    require(
        heif_image_add_plane(image, heif_channel_interleaved, picture.width, picture.height, picture.bits));
    int stride = 0;
    std::uint8_t* plane = heif_image_get_plane(image, heif_channel_interleaved, &stride);
    const int row = picture.width * picture.channels;
    for (int y = 0; y < picture.height; ++y) {
        for (int i = 0; i < row; ++i) {
            const unsigned sample = picture.samples[static_cast<std::size_t>(y * row + i)];
            std::uint8_t* at = plane + y * stride + (wide ? 2 * i : i);
            at[0] = static_cast<std::uint8_t>(sample & 0xffU);
            if (wide) at[1] = static_cast<std::uint8_t>(sample >> 8);
        }
    }
    return image;
}

inline Bytes heif(const Picture& picture, const HeifStyle& style = {}) {
    heif_context* context = heif_context_alloc();
    heif_encoder* encoder = nullptr;
    require(heif_context_get_encoder_for_format(context, style.coder, &encoder));
    heif_encoder_set_lossy_quality(encoder, style.quality);
    heif_encoder_set_parameter(encoder, "chroma", "444");
    heif_image* image = heif_plane(picture);
    if (!style.icc.empty()) {
        require(heif_image_set_raw_color_profile(image, "prof", style.icc.data(), style.icc.size()));
    }
    heif_encoding_options* options = heif_encoding_options_alloc();
    options->image_orientation = style.orientation;
    heif_color_profile_nclx* coding = heif_nclx_color_profile_alloc();
    if (style.primaries) {
        coding->color_primaries = *style.primaries;
        coding->transfer_characteristics = style.transfer;
        coding->matrix_coefficients = heif_matrix_coefficients_ITU_R_BT_601_6;
        coding->full_range_flag = 1;
        require(heif_image_set_nclx_color_profile(image, coding));
        options->output_nclx_profile = coding;
        options->macOS_compatibility_workaround_no_nclx_profile = 0;
    }
    require(heif_context_encode_image(context, image, encoder, options, nullptr));
    Bytes file;
    heif_writer writer{1, [](heif_context*, const void* data, std::size_t size, void* user) {
                           append(*static_cast<Bytes*>(user), bytes_of(data, size));
                           return heif_error{heif_error_Ok, heif_suberror_Unspecified, ""};
                       }};
    require(heif_context_write(context, &writer, &file));
    heif_nclx_color_profile_free(coding);
    heif_encoding_options_free(options);
    heif_image_release(image);
    heif_encoder_release(encoder);
    heif_context_free(context);
    return file;
}

} // namespace pictures
