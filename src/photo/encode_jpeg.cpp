#include "photo/encode_jpeg.h"

#include <jpeglib.h>

#include <csetjmp>
#include <cstdio>
#include <cstdlib>

#include "fault/fault.h"

namespace motley::photo {

namespace {

constexpr int longest_side = 65'500; ///< The format's limit.

/// What libjpeg reports to: it leaves by longjmp, across frames that hold nothing to destroy.
struct Complaints {
    jpeg_error_mgr manager{};
    std::jmp_buf leave{};
};

[[noreturn]] void give_up(j_common_ptr info) {
    std::longjmp(reinterpret_cast<Complaints*>(info->err)->leave, 1); // `manager` is its first member.
}

struct Compressor {
    Compressor() {
        state.err = jpeg_std_error(&complaints.manager);
        complaints.manager.error_exit = give_up;
    }
    Compressor(const Compressor&) = delete;
    Compressor& operator=(const Compressor&) = delete;
    ~Compressor() {
        jpeg_destroy_compress(&state);
        std::free(bytes);
    }

    /// Whether it worked; only memory can run out.
    bool run(const Raster& raster, int quality) {
        if (setjmp(complaints.leave) != 0) return false;
        jpeg_create_compress(&state);
        jpeg_mem_dest(&state, &bytes, &count);
        state.image_width = static_cast<JDIMENSION>(raster.width);
        state.image_height = static_cast<JDIMENSION>(raster.height);
        state.input_components = raster.channels;
        state.in_color_space = raster.channels == 1 ? JCS_GRAYSCALE : JCS_RGB;
        jpeg_set_defaults(&state);
        jpeg_set_quality(&state, quality, TRUE);
        state.dct_method = JDCT_ISLOW; // The same on every processor.
        for (int c = 0; c < state.num_components; ++c)
            state.comp_info[c].h_samp_factor = state.comp_info[c].v_samp_factor = 1;
        jpeg_start_compress(&state, TRUE);
        while (state.next_scanline < state.image_height) {
            // libjpeg asks for a row it may write to, and does not.
            auto* row =
                const_cast<JSAMPLE*>(raster.pixels.data() + static_cast<std::size_t>(state.next_scanline) *
                                                                static_cast<std::size_t>(raster.width) *
                                                                static_cast<std::size_t>(raster.channels));
            jpeg_write_scanlines(&state, &row, 1);
        }
        jpeg_finish_compress(&state);
        return true;
    }

    jpeg_compress_struct state{};
    Complaints complaints;
    unsigned char* bytes = nullptr;
    unsigned long count = 0;
};

} // namespace

std::vector<std::byte> encode_jpeg(const Raster& raster, int quality) {
    expects(raster.width > 0 && raster.height > 0 && (raster.channels == 1 || raster.channels == 3));
    expects(raster.width <= longest_side && raster.height <= longest_side);
    expects(quality >= 1 && quality <= 100);
    Compressor to;
    if (!to.run(raster, quality))
        throw Fault(Cause::system, "", "there is not enough memory to pack a picture as JPEG",
                    "close other programs and try again");
    const auto* first = reinterpret_cast<const std::byte*>(to.bytes);
    return {first, first + to.count};
}

} // namespace motley::photo
