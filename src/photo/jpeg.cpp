// clang-format off: jpeglib.h needs what cstdio declares.
#include <cstdio>
#include <jpeglib.h>
#include <jerror.h>
// clang-format on

#include <fmt/format.h>

#include <array>
#include <csetjmp>
#include <cstdlib>
#include <cstring>
#include <string>

#include "photo/decoder.h"
#include "photo/orientation.h"

namespace motley::photo {

namespace {

/// A progressive picture needs some ten scans; thousands of them over a large picture are a trap that never
/// ends.
constexpr int most_scans = 500;

/// What libjpeg reports to. It leaves the library by longjmp, which is safe here because the only frames it
/// crosses are the library's own and those of the small steps in `Jpeg`, none of which holds an object with a
/// destructor.
struct Complaints {
    jpeg_error_mgr manager;
    std::jmp_buf leave;
    std::array<char, JMSG_LENGTH_MAX> message;
    bool cut;
    bool profile;
};

Complaints& complaints_of(j_common_ptr info) {
    return *reinterpret_cast<Complaints*>(info->err); // `manager` is its first member.
}

[[noreturn]] void give_up(j_common_ptr info) {
    Complaints& complaints = complaints_of(info);
    const int code = complaints.manager.msg_code;
    complaints.cut = code == JWRN_JPEG_EOF || code == JWRN_HIT_MARKER || code == JERR_INPUT_EOF;
    complaints.profile = code == JWRN_BOGUS_ICC;
    complaints.manager.format_message(info, complaints.message.data());
    std::longjmp(complaints.leave, 1);
}

constexpr int most_padding = 16; // Bytes.

/// Every warning about the data counts as a failure: libjpeg goes on with grey where a picture is cut off.
/// Two say nothing about the pixels: an odd version number, and a little padding before the end mark, which
/// some cameras write. More than a little is what is left over when damage has thrown the decoder off its
/// step (libjpeg-turbo's fast path takes a code that does not exist for a zero and says nothing).
void take_message(j_common_ptr info, int level) {
    if (level >= 0) return;
    const jpeg_error_mgr& manager = complaints_of(info).manager;
    const bool harmless = manager.msg_code == JWRN_JFIF_MAJOR ||
                          (manager.msg_code == JWRN_EXTRANEOUS_DATA && manager.msg_parm.i[1] == JPEG_EOI &&
                           manager.msg_parm.i[0] <= most_padding);
    if (!harmless) give_up(info);
}

void print_nothing(j_common_ptr) {}

void count_scans(j_common_ptr info) {
    auto* decompress = reinterpret_cast<j_decompress_ptr>(info);
    if (decompress->input_scan_number <= most_scans) return;
    info->err->msg_code = JERR_BAD_PROGRESSION;
    std::fill_n(info->err->msg_parm.i, 4, 0);
    give_up(info);
}

struct Handle {
    jpeg_decompress_struct info{};

    Handle() = default;
    Handle(const Handle&) = delete;
    Handle& operator=(const Handle&) = delete;
    ~Handle() { jpeg_destroy_decompress(&info); } // Also right when nothing was created yet.
};

class Jpeg final : public Decoder {
public:
    explicit Jpeg(const Source& source) : source_(source) {
        info_.err = jpeg_std_error(&complaints_.manager);
        complaints_.manager.error_exit = give_up;
        complaints_.manager.emit_message = take_message;
        complaints_.manager.output_message = print_nothing;
        progress_.progress_monitor = count_scans;
        step([this] { begin(); }) || fail();
        source_.check_size(info_.image_width, info_.image_height);
        describe();
    }

    void decode(const RowTaker& take) override {
        step([this] { jpeg_start_decompress(&info_); }) || fail();
        std::vector<JSAMPLE> row(static_cast<std::size_t>(info_.output_width) *
                                 static_cast<std::size_t>(info_.output_components));
        JSAMPROW start = row.data();
        while (info_.output_scanline < info_.output_height) {
            step([&] { jpeg_read_scanlines(&info_, &start, 1); }) || fail();
            take(start);
        }
        step([this] { jpeg_finish_decompress(&info_); }) || fail();
    }

private:
    /// Runs a step that calls the library and nothing else; false when the library gave up. The step must
    /// hold no object with a destructor.
    template <class Step>
    bool step(const Step& calls) {
        if (setjmp(complaints_.leave) != 0) return false;
        calls();
        return true;
    }

    void begin() {
        jpeg_create_decompress(&info_);
        info_.progress = &progress_;
        jpeg_mem_src(&info_, source_.data(), static_cast<unsigned long>(source_.bytes.size()));
        jpeg_save_markers(&info_, JPEG_APP0 + 1, 0xffff);
        jpeg_save_markers(&info_, JPEG_APP0 + 2, 0xffff);
        jpeg_read_header(&info_, TRUE);
        if (info_.jpeg_color_space == JCS_CMYK || info_.jpeg_color_space == JCS_YCCK) {
            info_.out_color_space = JCS_CMYK;
        } else if (info_.num_components == 1) {
            info_.out_color_space = JCS_GRAYSCALE;
        } else {
            info_.out_color_space = JCS_RGB;
        }
    }

    [[noreturn]] bool fail() {
        const std::string says(complaints_.message.data());
        const bool cut = complaints_.cut;
        const bool profile = complaints_.profile;
        const unsigned rows = info_.output_scanline;
        const unsigned height = info_.image_height;
        if (stored_.width == 0)
            jpeg_destroy_decompress(&info_); // Still in the constructor: no destructor will run.
        if (profile) {
            source_.refuse("its colour profile is damaged, so its colours are not known",
                           "save it again as sRGB, or without the profile");
        }
        if (!cut) source_.refuse_damaged(says);
        if (rows == 0) source_.refuse_cut();
        source_.refuse_cut(fmt::format("it is whole down to row {} of {} at most", rows, height));
    }

    void describe() {
        for (const jpeg_marker_struct* marker = info_.marker_list; marker != nullptr; marker = marker->next) {
            if (marker->marker != JPEG_APP0 + 1 || marker->data_length < 6) continue;
            if (std::memcmp(marker->data, "Exif\0\0", 6) != 0) continue;
            stored_.orientation = orientation_in(std::as_bytes(std::span(marker->data, marker->data_length)));
            break;
        }
        JOCTET* icc = nullptr;
        unsigned size = 0;
        step([&] { jpeg_read_icc_profile(&info_, &icc, &size); }) || fail();
        if (icc != nullptr) {
            const std::unique_ptr<JOCTET, void (*)(void*)> owner(icc, std::free);
            const auto bytes = std::as_bytes(std::span(icc, size));
            stored_.mark.icc.assign(bytes.begin(), bytes.end());
        }
        stored_.format = Format::jpeg;
        stored_.samples.ink = info_.out_color_space == JCS_CMYK        ? Ink::cmyk
                              : info_.out_color_space == JCS_GRAYSCALE ? Ink::grey
                                                                       : Ink::rgb;
        stored_.samples.inverted = stored_.samples.ink == Ink::cmyk && info_.saw_Adobe_marker != 0;
        stored_.height = static_cast<int>(info_.image_height);
        stored_.width = static_cast<int>(info_.image_width);
    }

    Source source_;
    Complaints complaints_{};
    jpeg_progress_mgr progress_{};
    Handle handle_;
    jpeg_decompress_struct& info_ = handle_.info;
};

} // namespace

std::unique_ptr<Decoder> open_jpeg(const Source& source) {
    return std::make_unique<Jpeg>(source);
}

} // namespace motley::photo
