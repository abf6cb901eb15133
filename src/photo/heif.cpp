#include <fmt/format.h>
#include <libheif/heif.h>

#include <algorithm>
#include <exception>

#include "fault/fault.h"
#include "photo/decoder.h"

namespace motley::photo {

namespace {

template <class Part, auto release>
struct Release {
    void operator()(Part* part) const { release(part); }
};

using Context = std::unique_ptr<heif_context, Release<heif_context, heif_context_free>>;
using Handle =
    std::unique_ptr<const heif_image_handle, Release<const heif_image_handle, heif_image_handle_release>>;
using Image = std::unique_ptr<const heif_image, Release<const heif_image, heif_image_release>>;
using Options =
    std::unique_ptr<heif_decoding_options, Release<heif_decoding_options, heif_decoding_options_free>>;
using Nclx =
    std::unique_ptr<heif_color_profile_nclx, Release<heif_color_profile_nclx, heif_nclx_color_profile_free>>;

/// ISO/IEC 14496-12: the file is a row of boxes, each with its size. The library reads only the boxes it
/// needs, so that a file cut off behind them would pass.
void check_boxes(const Source& source) {
    const auto number = [&](std::size_t at, std::size_t count) {
        std::uint64_t value = 0;
        for (std::size_t i = 0; i < count; ++i)
            value = value << 8 | std::to_integer<std::uint64_t>(source.bytes[at + i]);
        return value;
    };
    std::size_t at = 0;
    while (at < source.bytes.size()) {
        const std::size_t left = source.bytes.size() - at;
        if (left < 8) source.refuse_cut();
        std::uint64_t size = number(at, 4);
        if (size == 0) return; // Runs to the end of the file.
        if (size == 1) {
            if (left < 16) source.refuse_cut();
            size = number(at + 8, 8);
        }
        if (size < 8) source.refuse_damaged("its parts give sizes that make no sense");
        if (size > left) source.refuse_cut();
        at += static_cast<std::size_t>(size);
    }
}

/// Colours that were stored multiplied by alpha, divided by it again.
template <class Sample>
void divide_by_alpha(Sample* row, int width, std::uint32_t largest) {
    for (int x = 0; x < width; ++x, row += 4) {
        const std::uint32_t alpha = row[3];
        if (alpha == 0) continue;
        for (int c = 0; c < 3; ++c) {
            row[c] = static_cast<Sample>(std::min(largest, (row[c] * largest + alpha / 2) / alpha));
        }
    }
}

class Heif final : public Decoder {
public:
    explicit Heif(const Source& source) : source_(source), context_(heif_context_alloc()) {
        check_boxes(source_);
        if (!context_) throw std::bad_alloc();
        check(heif_context_read_from_memory_without_copy(context_.get(), source_.bytes.data(),
                                                         source_.bytes.size(), nullptr));
        heif_image_handle* primary = nullptr;
        check(heif_context_get_primary_image_handle(context_.get(), &primary));
        handle_.reset(primary);
        // Both as the coder sees it and as it will be turned and cropped.
        source_.check_size(heif_image_handle_get_ispe_width(primary),
                           heif_image_handle_get_ispe_height(primary));
        source_.check_size(heif_image_handle_get_width(primary), heif_image_handle_get_height(primary));
        describe();
    }

    void decode(const RowTaker& take) override {
        const Options options(heif_decoding_options_alloc());
        if (!options) throw std::bad_alloc();
        options->strict_decoding = 1;
        const bool alpha = stored_.samples.alpha;
        const heif_chroma chroma =
            !stored_.samples.wide() ? (alpha ? heif_chroma_interleaved_RGBA : heif_chroma_interleaved_RGB)
            : std::endian::native == std::endian::little
                ? (alpha ? heif_chroma_interleaved_RRGGBBAA_LE : heif_chroma_interleaved_RRGGBB_LE)
                : (alpha ? heif_chroma_interleaved_RRGGBBAA_BE : heif_chroma_interleaved_RRGGBB_BE);
        heif_image* decoded = nullptr;
        check(heif_decode_image(handle_.get(), &decoded, heif_colorspace_RGB, chroma, options.get()));
        const Image image(decoded);
        if (heif_image_get_decoding_warnings(decoded, 0, nullptr, 0) > 0) {
            source_.refuse_damaged("the picture data cannot be read without errors");
        }
        const int width = heif_image_get_width(decoded, heif_channel_interleaved);
        const int height = heif_image_get_height(decoded, heif_channel_interleaved);
        const int bits = heif_image_get_bits_per_pixel_range(decoded, heif_channel_interleaved);
        int stride = 0;
        std::uint8_t* plane = heif_image_get_plane(decoded, heif_channel_interleaved, &stride);
        if (plane == nullptr || width != stored_.width || height != stored_.height ||
            bits != stored_.samples.bits) {
            source_.refuse_damaged(
                fmt::format("its header says {} x {} pixels of {} bits, its picture data {} x {} of {}",
                            stored_.width, stored_.height, stored_.samples.bits, width, height, bits));
        }
        const bool divide = alpha && heif_image_handle_is_premultiplied_alpha(handle_.get()) != 0;
        for (int y = 0; y < height; ++y) {
            std::uint8_t* row = plane + static_cast<std::ptrdiff_t>(y) * stride;
            if (divide) divide_row(row);
            take(row);
        }
    }

private:
    void check(const heif_error& error) const {
        if (error.code == heif_error_Ok) return;
        if (error.subcode == heif_suberror_End_of_data) source_.refuse_cut();
        std::string says(error.message);
        while (!says.empty() && says.back() <= ' ') says.pop_back();
        if (error.subcode == heif_suberror_Security_limit_exceeded) {
            source_.refuse(fmt::format("the picture is too large: {}", says), "save a smaller copy");
        }
        if (error.code == heif_error_Unsupported_filetype || error.code == heif_error_Unsupported_feature) {
            source_.refuse(fmt::format("this kind of HEIC or AVIF file cannot be opened here: {}", says),
                           "save it as a JPEG");
        }
        source_.refuse_damaged(says);
    }

    void divide_row(std::uint8_t* row) const {
        if (stored_.samples.wide()) {
            divide_by_alpha(reinterpret_cast<std::uint16_t*>(row), stored_.width, stored_.samples.largest());
        } else {
            divide_by_alpha(row, stored_.width, stored_.samples.largest());
        }
    }

    void describe() {
        const heif_image_handle* handle = handle_.get();
        stored_.format = Format::heif;
        stored_.width = heif_image_handle_get_width(handle);
        stored_.height = heif_image_handle_get_height(handle);
        stored_.samples.alpha = heif_image_handle_has_alpha_channel(handle) != 0;
        stored_.samples.bits = heif_image_handle_get_luma_bits_per_pixel(handle);
        if (stored_.samples.bits < 8 || stored_.samples.bits > 16) {
            source_.refuse_damaged(fmt::format("it has {} bits per colour", stored_.samples.bits));
        }
        const std::size_t size = heif_image_handle_get_raw_color_profile_size(handle);
        const heif_color_profile_type kind = heif_image_handle_get_color_profile_type(handle);
        if (size > 0 && (kind == heif_color_profile_type_prof || kind == heif_color_profile_type_rICC)) {
            stored_.mark.icc.resize(size);
            check(heif_image_handle_get_raw_color_profile(handle, stored_.mark.icc.data()));
            return;
        }
        heif_color_profile_nclx* coding = nullptr;
        if (heif_image_handle_get_nclx_color_profile(handle, &coding).code == heif_error_Ok &&
            coding != nullptr) {
            const Nclx owner(coding);
            stored_.mark.coding = Coding{coding->color_primaries, coding->transfer_characteristics};
        }
    }

    Source source_;
    Context context_;
    Handle handle_;
};

} // namespace

std::unique_ptr<Decoder> open_heif(const Source& source) {
    return std::make_unique<Heif>(source);
}

} // namespace motley::photo
