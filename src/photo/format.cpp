#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string_view>

#include "fault/fault.h"
#include "photo/decoder.h"

namespace motley::photo {

namespace {

constexpr std::string_view formats_read = "use JPEG, PNG, WebP, HEIC or AVIF";

std::string_view text_of(std::span<const std::byte> bytes) {
    return {reinterpret_cast<const char*>(bytes.data()), bytes.size()};
}

/// Printable characters in UTF-8; the last may be cut off.
bool reads_like_text(std::string_view start) {
    std::size_t following = 0;
    for (const char letter : start) {
        const auto code = static_cast<unsigned char>(letter);
        if (following > 0) {
            if ((code & 0xc0) != 0x80) return false;
            --following;
        } else if (code >= 0x80) {
            if (code < 0xc2 || code > 0xf4) return false;
            following = code >= 0xf0 ? 3 : code >= 0xe0 ? 2 : 1;
        } else if (code == 0x7f || (code < 0x20 && code != '\n' && code != '\r' && code != '\t')) {
            return false;
        }
    }
    return true;
}

struct Look {
    std::string_view start;
    std::string_view kind;
};

constexpr std::array looks{
    Look{"GIF8", "a GIF picture"},
    Look{"BM", "a BMP picture"},
    Look{std::string_view("II*\0", 4), "a TIFF or camera raw picture"},
    Look{std::string_view("MM\0*", 4), "a TIFF or camera raw picture"},
    Look{"8BPS", "a layered picture (PSD)"},
    Look{"\xff\x0a", "a JPEG XL picture"},
    Look{std::string_view("\0\0\0\x0cJXL ", 8), "a JPEG XL picture"},
    Look{std::string_view("\0\0\0\x0cjP  ", 8), "a JPEG 2000 picture"},
    Look{"%PDF", "a PDF document"},
    Look{"PK\x03\x04", "a ZIP archive or an office document"},
    Look{"<!DOCTYPE", "a web page"},
    Look{"<!doctype", "a web page"},
    Look{"<html", "a web page"},
    Look{"<svg", "an SVG drawing"},
};

std::string_view kind_of(std::string_view start) {
    for (const Look& look : looks) {
        if (start.starts_with(look.start)) return look.kind;
    }
    if (start.size() >= 8 && start.substr(4, 4) == "ftyp") return "a video";
    if (reads_like_text(start.substr(0, 256))) return "a text file";
    return {};
}

/// ISO/IEC 23008-12 and the AVIF specification: `ftyp` lists brands of four letters; a still picture has one
/// of these.
bool has_still_brand(std::string_view start) {
    if (start.size() < 16 || start.substr(4, 4) != "ftyp") return false;
    const auto byte = [&](std::size_t at) {
        return static_cast<std::size_t>(static_cast<unsigned char>(start[at]));
    };
    const std::size_t size = byte(0) << 24 | byte(1) << 16 | byte(2) << 8 | byte(3);
    constexpr std::array<std::string_view, 8> still{"heic", "heix", "heim", "heis",
                                                    "hevc", "mif1", "avif", "mif2"};
    for (std::size_t at = 8; at + 4 <= std::min({size, start.size(), std::size_t{256}}); at += 4) {
        if (at != 12 && std::find(still.begin(), still.end(), start.substr(at, 4)) != still.end())
            return true;
    }
    return false;
}

} // namespace

std::string_view name(Format format) {
    switch (format) {
        case Format::jpeg:
            return "JPEG";
        case Format::png:
            return "PNG";
        case Format::webp:
            return "WebP";
        case Format::heif:
            return "HEIC/AVIF";
    }
    return {};
}

const unsigned char* Source::data() const {
    return reinterpret_cast<const unsigned char*>(bytes.data());
}

void Source::refuse(std::string what, std::string remedy) const {
    throw Fault(Cause::input, std::string(where), std::move(what), std::move(remedy));
}

void Source::refuse_cut(std::string_view detail) const {
    std::string what = "the picture is cut off: the file ends before the picture does";
    if (!detail.empty()) what = fmt::format("the picture is cut off: {}", detail);
    refuse(std::move(what), "copy it from the phone or camera again");
}

void Source::refuse_damaged(std::string_view library_says) const {
    refuse(fmt::format("the picture is damaged or of an unusual kind: {}", library_says),
           "copy it again, or open it in a picture program and save it as an ordinary JPEG or PNG");
}

void Source::check_size(std::int64_t width, std::int64_t height) const {
    if (width < 1 || height < 1) refuse_damaged(fmt::format("its size is {} x {} pixels", width, height));
    if (width > limits.pixels / height) {
        const auto millions = [](double pixels) { return pixels / 1e6; };
        refuse(fmt::format("the picture is too large: {} x {} pixels, {:.0f} megapixels; the limit is {:g}",
                           width, height, millions(static_cast<double>(width) * static_cast<double>(height)),
                           millions(static_cast<double>(limits.pixels))),
               "save a smaller copy, or raise the limit with --megapixels");
    }
}

Format format_of(const Source& source) {
    const std::string_view start =
        text_of(source.bytes.first(std::min<std::size_t>(source.bytes.size(), 512)));
    if (start.empty()) source.refuse("the file is empty", "copy it from the phone or camera again");
    if (start.starts_with("\xff\xd8\xff")) return Format::jpeg;
    if (start.starts_with("\x89PNG\r\n\x1a\n")) return Format::png;
    if (start.starts_with("RIFF") && start.size() >= 12 && start.substr(8, 4) == "WEBP") return Format::webp;
    if (has_still_brand(start)) return Format::heif;
    const std::string_view kind = kind_of(start);
    source.refuse(kind.empty()
                      ? std::string("this is not a photo: it begins like nothing known here")
                      : fmt::format("this is not a photo in a known format: it begins like {}", kind),
                  std::string(formats_read));
}

} // namespace motley::photo
