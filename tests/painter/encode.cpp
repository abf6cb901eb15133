// clang-format off: jpeglib.h needs cstdio before it.
#include <cstdio>
#include <jpeglib.h>
// clang-format on
#include <lcms2.h>
#include <libheif/heif.h>

#include <cstdlib>
#include <memory>

#include "fault/fault.h"
#include "painter/photograph.h"

namespace motley::painter {
namespace {

[[noreturn]] void refuse(j_common_ptr common) {
    char text[JMSG_LENGTH_MAX];
    common->err->format_message(common, text);
    throw Fault(Cause::system, "the JPEG encoder", text);
}

void require(heif_error error) {
    if (error.code != heif_error_Ok) {
        throw Fault(Cause::system, "the HEIC encoder", error.message,
                    "a libheif that can write HEIC (it needs x265)");
    }
}

template <auto release>
struct Release {
    template <typename T>
    void operator()(T* pointer) const {
        release(pointer);
    }
};
template <typename T, auto release>
using Held = std::unique_ptr<T, Release<release>>;

heif_error append(heif_context*, const void* data, std::size_t size, void* out) {
    const auto* bytes = static_cast<const std::byte*>(data);
    auto& file = *static_cast<std::vector<std::byte>*>(out);
    file.insert(file.end(), bytes, bytes + size);
    return {heif_error_Ok, heif_suberror_Unspecified, "written"};
}

/// A JPEG being written; freed however it ends.
struct Compressor {
    jpeg_error_mgr errors{};
    jpeg_compress_struct info{};
    unsigned char* data = nullptr;
    unsigned long size = 0;

    Compressor() {
        info.err = jpeg_std_error(&errors);
        errors.error_exit = refuse;
        jpeg_create_compress(&info);
        jpeg_mem_dest(&info, &data, &size);
    }
    Compressor(const Compressor&) = delete;
    Compressor& operator=(const Compressor&) = delete;
    ~Compressor() {
        jpeg_destroy_compress(&info);
        std::free(data);
    }
};

} // namespace

std::vector<std::byte> encode_jpeg(const Photo& photo, int quality) {
    const photo::Raster& raster = photo.raster;
    expects(raster.channels == 3 && quality >= 1 && quality <= 100);
    Compressor jpeg;
    jpeg.info.image_width = static_cast<JDIMENSION>(raster.width);
    jpeg.info.image_height = static_cast<JDIMENSION>(raster.height);
    jpeg.info.input_components = 3;
    jpeg.info.in_color_space = JCS_RGB;
    jpeg_set_defaults(&jpeg.info);
    jpeg_set_quality(&jpeg.info, quality, TRUE);
    jpeg.info.optimize_coding = TRUE;
    jpeg_start_compress(&jpeg.info, TRUE);
    if (photo.gamut != Gamut::srgb) {
        const std::vector<std::byte> icc = profile(photo.gamut);
        jpeg_write_icc_profile(&jpeg.info, reinterpret_cast<const JOCTET*>(icc.data()),
                               static_cast<unsigned int>(icc.size()));
    }
    while (jpeg.info.next_scanline < jpeg.info.image_height) {
        // libjpeg takes rows it could write to, but does not.
        auto* row =
            const_cast<JSAMPROW>(raster.pixels.data() + static_cast<std::size_t>(jpeg.info.next_scanline) *
                                                            3 * static_cast<std::size_t>(raster.width));
        jpeg_write_scanlines(&jpeg.info, &row, 1);
    }
    jpeg_finish_compress(&jpeg.info);
    const auto* bytes = reinterpret_cast<const std::byte*>(jpeg.data);
    return {bytes, bytes + jpeg.size};
}

std::vector<std::byte> encode_heic(const Photo& photo, int quality) {
    const photo::Raster& raster = photo.raster;
    expects(raster.channels == 3 && photo.gamut == Gamut::srgb);
    const Held<heif_context, heif_context_free> context(heif_context_alloc());
    heif_encoder* raw_encoder = nullptr;
    require(heif_context_get_encoder_for_format(context.get(), heif_compression_HEVC, &raw_encoder));
    const Held<heif_encoder, heif_encoder_release> encoder(raw_encoder);
    require(heif_encoder_set_lossy_quality(encoder.get(), quality));

    heif_image* raw_image = nullptr;
    require(heif_image_create(raster.width, raster.height, heif_colorspace_RGB, heif_chroma_interleaved_RGB,
                              &raw_image));
    const Held<heif_image, heif_image_release> image(raw_image);
    require(heif_image_add_plane(image.get(), heif_channel_interleaved, raster.width, raster.height, 8));
    int stride = 0;
    std::uint8_t* plane = heif_image_get_plane(image.get(), heif_channel_interleaved, &stride);
    const std::size_t length = 3 * static_cast<std::size_t>(raster.width);
    for (int y = 0; y < raster.height; ++y) {
        const auto from = raster.pixels.begin() + static_cast<std::ptrdiff_t>(length) * y;
        std::copy(from, from + static_cast<std::ptrdiff_t>(length),
                  plane + static_cast<std::ptrdiff_t>(stride) * y);
    }
    heif_image_handle* raw_handle = nullptr;
    require(heif_context_encode_image(context.get(), image.get(), encoder.get(), nullptr, &raw_handle));
    const Held<heif_image_handle, heif_image_handle_release> handle(raw_handle);

    std::vector<std::byte> file;
    heif_writer writer{};
    writer.writer_api_version = 1;
    writer.write = append;
    require(heif_context_write(context.get(), &writer, &file));
    return file;
}

std::vector<std::byte> profile(Gamut gamut) {
    const cmsCIExyY white{0.3127, 0.3290, 1};
    const cmsCIExyYTRIPLE srgb{{0.64, 0.33, 1}, {0.30, 0.60, 1}, {0.15, 0.06, 1}};
    const cmsCIExyYTRIPLE p3{{0.680, 0.320, 1}, {0.265, 0.690, 1}, {0.150, 0.060, 1}};
    // IEC 61966-2-1's curve as ICC's fourth parametric type.
    const cmsFloat64Number parameters[5]{2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
    const Held<cmsToneCurve, cmsFreeToneCurve> curve(cmsBuildParametricToneCurve(nullptr, 4, parameters));
    cmsToneCurve* curves[3]{curve.get(), curve.get(), curve.get()};
    const Held<void, cmsCloseProfile> made(
        cmsCreateRGBProfile(&white, gamut == Gamut::srgb ? &srgb : &p3, curves));
    expects(made != nullptr);
    cmsMLU* raw_name = cmsMLUalloc(nullptr, 1);
    const Held<cmsMLU, cmsMLUfree> name(raw_name);
    cmsMLUsetASCII(raw_name, "en", "US", gamut == Gamut::srgb ? "sRGB" : "Display P3");
    cmsWriteTag(made.get(), cmsSigProfileDescriptionTag, raw_name);

    cmsUInt32Number size = 0;
    cmsSaveProfileToMem(made.get(), nullptr, &size);
    std::vector<std::byte> bytes(size);
    cmsSaveProfileToMem(made.get(), bytes.data(), &size);
    // Bytes 24 to 35 of an ICC header are the time of making: a fixed one (1 January 2000), so that the file
    // is too.
    const unsigned char date[12]{0x07, 0xd0, 0, 1, 0, 1, 0, 0, 0, 0, 0, 0};
    for (std::size_t k = 0; k < 12; ++k) bytes[24 + k] = static_cast<std::byte>(date[k]);
    return bytes;
}

} // namespace motley::painter
