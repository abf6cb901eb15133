#include <fmt/format.h>
#include <png.h>

#include <array>
#include <bit>
#include <csetjmp>
#include <cstring>
#include <string>

#include "photo/decoder.h"
#include "photo/orientation.h"
#include "photo/png_chunks.h"

namespace motley::photo {

namespace {

/// An ICC profile is the only compressed chunk that is unpacked; this bounds what it may unpack to.
constexpr png_alloc_size_t largest_chunk = png_alloc_size_t{16} << 20;

/// What libpng reports to and reads from. It leaves by longjmp across the library's own frames and those of
/// the small steps in `Png`, none of which holds an object with a destructor.
struct Complaints {
    std::jmp_buf leave;
    std::array<char, 200> message;
    bool cut;
};

struct Input {
    const unsigned char* next;
    std::size_t left;
};

[[noreturn]] void give_up(png_structp png, png_const_charp says) {
    auto& complaints = *static_cast<Complaints*>(png_get_error_ptr(png));
    std::strncpy(complaints.message.data(), says, complaints.message.size() - 1);
    std::longjmp(complaints.leave, 1);
}

void take_warning(png_structp, png_const_charp) {}

void give_bytes(png_structp png, png_bytep out, std::size_t count) {
    auto& input = *static_cast<Input*>(png_get_io_ptr(png));
    if (count > input.left) {
        static_cast<Complaints*>(png_get_error_ptr(png))->cut = true;
        png_error(png, "the file ends early");
    }
    std::memcpy(out, input.next, count);
    input.next += count;
    input.left -= count;
}

/// Chunks that do not matter here. Not reading them also leaves nothing for their compressed texts to do harm
/// with.
constexpr char skipped[] = "tEXt\0zTXt\0iTXt\0eXIf\0sPLT\0hIST\0pCAL\0sCAL\0oFFs\0tIME\0bKGD";
constexpr int skipped_count = sizeof skipped / 5;

struct Handle {
    png_structp png = nullptr;
    png_infop info = nullptr;

    Handle() = default;
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    ~Handle() { png_destroy_read_struct(&png, &info, nullptr); } // Also right when nothing was created yet.
};

class Png final : public Decoder {
public:
    explicit Png(const Source& source) : source_(source), input_{source.data(), source.bytes.size()} {
        const PngChunks chunks = png_chunks(source_);
        source_.check_size(chunks.width, chunks.height);
        png_ = png_create_read_struct(PNG_LIBPNG_VER_STRING, &complaints_, give_up, take_warning);
        if (png_ == nullptr) throw std::bad_alloc();
        step([this] { begin(); }) || fail();
        describe(chunks);
    }

    void decode(const RowTaker& take) override {
        const std::size_t row_size = png_get_rowbytes(png_, info_);
        if (png_get_interlace_type(png_, info_) == PNG_INTERLACE_NONE) {
            std::vector<png_byte> row(row_size);
            png_bytep start = row.data();
            for (int y = 0; y < stored_.height; ++y) {
                step([&] { png_read_row(png_, start, nullptr); }) || fail();
                take(start);
            }
        } else {
            decode_interlaced(take, row_size);
        }
        step([this] { png_read_end(png_, nullptr); }) || fail();
    }

private:
    template <class Step>
    bool step(const Step& calls) {
        if (setjmp(complaints_.leave) != 0) return false;
        calls();
        return true;
    }

    void begin() {
        info_ = png_create_info_struct(png_);
        if (info_ == nullptr) png_error(png_, "out of memory");
        png_set_read_fn(png_, &input_, give_bytes);
        png_set_user_limits(png_, PNG_UINT_31_MAX, PNG_UINT_31_MAX); // check_size has the say.
        png_set_chunk_malloc_max(png_, largest_chunk);
        png_set_chunk_cache_max(png_, 128);
        png_set_keep_unknown_chunks(png_, PNG_HANDLE_CHUNK_NEVER, reinterpret_cast<png_const_bytep>(skipped),
                                    skipped_count);
        // A wrong checksum means a damaged file, wherever it stands.
        png_set_crc_action(png_, PNG_CRC_ERROR_QUIT, PNG_CRC_ERROR_QUIT);
        png_set_option(png_, PNG_SKIP_sRGB_CHECK_PROFILE, PNG_OPTION_ON);
        png_read_info(png_, info_);
        png_set_expand(png_); // Palette to colours, small greys to 8 bits, tRNS to alpha.
        if constexpr (std::endian::native == std::endian::little) png_set_swap(png_);
        if (png_get_interlace_type(png_, info_) != PNG_INTERLACE_NONE) png_set_interlace_handling(png_);
        png_read_update_info(png_, info_);
    }

    void describe(const PngChunks& chunks) {
        stored_.format = Format::png;
        stored_.width = static_cast<int>(png_get_image_width(png_, info_));
        stored_.height = static_cast<int>(png_get_image_height(png_, info_));
        stored_.orientation = chunks.exif.empty() ? 1 : orientation_in(chunks.exif);
        const int kind = png_get_color_type(png_, info_);
        stored_.samples.ink = (kind & PNG_COLOR_MASK_COLOR) != 0 ? Ink::rgb : Ink::grey;
        stored_.samples.alpha = (kind & PNG_COLOR_MASK_ALPHA) != 0;
        stored_.samples.bits = png_get_bit_depth(png_, info_);
        describe_colour(chunks);
    }

    void describe_colour(const PngChunks& chunks) {
        ColourMark& mark = stored_.mark;
        mark.coding = chunks.coding;
        png_charp name = nullptr;
        png_bytep profile = nullptr;
        png_uint_32 size = 0;
        int method = 0;
        if (png_get_iCCP(png_, info_, &name, &method, &profile, &size) != 0) {
            const auto bytes = std::as_bytes(std::span(profile, size));
            mark.icc.assign(bytes.begin(), bytes.end());
        } else if (chunks.profile && !chunks.coding && stored_.samples.ink != Ink::grey) {
            // libpng refuses every RGB profile in a grey picture; common programs write them, and grey read
            // as sRGB is what they mean. In a coloured picture a profile that cannot be read means that the
            // colours are not known.
            source_.refuse("its colour profile is damaged, so its colours are not known",
                           "save it again as sRGB, or without the profile");
        }
        int intent = 0;
        mark.srgb = png_get_sRGB(png_, info_, &intent) != 0;
        double gamma = 0;
        if (png_get_gAMA(png_, info_, &gamma) != 0) mark.gamma = gamma;
        Chromaticities c{};
        if (png_get_cHRM(png_, info_, &c.white_x, &c.white_y, &c.red_x, &c.red_y, &c.green_x, &c.green_y,
                         &c.blue_x, &c.blue_y) != 0) {
            mark.chromaticities = c;
        }
    }

    void decode_interlaced(const RowTaker& take, std::size_t row_size) {
        std::vector<png_byte> picture(row_size * static_cast<std::size_t>(stored_.height));
        std::vector<png_bytep> rows;
        rows.reserve(static_cast<std::size_t>(stored_.height));
        for (std::size_t y = 0; y < static_cast<std::size_t>(stored_.height); ++y) {
            rows.push_back(picture.data() + y * row_size);
        }
        png_bytepp start = rows.data();
        step([&] { png_read_image(png_, start); }) || fail();
        for (const png_bytep row : rows) take(row);
    }

    [[noreturn]] bool fail() {
        if (complaints_.cut) source_.refuse_cut();
        source_.refuse_damaged(complaints_.message.data());
    }

    Source source_;
    Input input_;
    Complaints complaints_{};
    Handle handle_;
    png_structp& png_ = handle_.png;
    png_infop& info_ = handle_.info;
};

} // namespace

std::unique_ptr<Decoder> open_png(const Source& source) {
    return std::make_unique<Png>(source);
}

} // namespace motley::photo
