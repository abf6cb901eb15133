#include <webp/decode.h>
#include <webp/demux.h>

#include <cstring>

#include "photo/decoder.h"
#include "photo/orientation.h"

namespace motley::photo {

namespace {

using Demuxer = std::unique_ptr<WebPDemuxer, void (*)(WebPDemuxer*)>;

/// The first chunk of that name; empty when there is none. Lies in the file's bytes.
std::span<const std::byte> chunk(const WebPDemuxer* demuxer, const char* name) {
    WebPChunkIterator found{};
    std::span<const std::byte> bytes;
    if (WebPDemuxGetChunk(demuxer, name, 1, &found) != 0) {
        bytes = std::as_bytes(std::span(found.chunk.bytes, found.chunk.size));
    }
    WebPDemuxReleaseChunkIterator(&found);
    return bytes;
}

class WebP final : public Decoder {
public:
    explicit WebP(const Source& source) : source_(source) {
        WebPBitstreamFeatures features{};
        const VP8StatusCode status = WebPGetFeatures(source_.data(), source_.bytes.size(), &features);
        if (status == VP8_STATUS_NOT_ENOUGH_DATA) source_.refuse_cut();
        if (status != VP8_STATUS_OK) source_.refuse_damaged("the WebP header makes no sense");
        if (features.has_animation != 0) {
            source_.refuse("this is a moving picture (animated WebP)", "use a photo that does not move");
        }
        source_.check_size(features.width, features.height);

        const WebPData data{source_.data(), source_.bytes.size()};
        WebPDemuxState state{};
        const Demuxer demuxer(WebPDemuxPartial(&data, &state), WebPDemuxDelete);
        if (state == WEBP_DEMUX_PARSE_ERROR)
            source_.refuse_damaged("the parts of the WebP file make no sense");
        if (!demuxer || state != WEBP_DEMUX_DONE) source_.refuse_cut();

        stored_.format = Format::webp;
        stored_.width = features.width;
        stored_.height = features.height;
        stored_.samples.alpha = features.has_alpha != 0;
        const std::span<const std::byte> exif = chunk(demuxer.get(), "EXIF");
        if (!exif.empty()) stored_.orientation = orientation_in(exif);
        const std::span<const std::byte> icc = chunk(demuxer.get(), "ICCP");
        stored_.mark.icc.assign(icc.begin(), icc.end());
    }

    void decode(const RowTaker& take) override {
        int width = 0, height = 0;
        const auto decoder = stored_.samples.alpha ? WebPDecodeRGBA : WebPDecodeRGB;
        const std::unique_ptr<std::uint8_t, void (*)(void*)> pixels(
            decoder(source_.data(), source_.bytes.size(), &width, &height), WebPFree);
        if (!pixels) source_.refuse_damaged("the WebP data cannot be read to its end");
        if (width != stored_.width || height != stored_.height) {
            source_.refuse_damaged("the WebP file gives two sizes");
        }
        const std::size_t row =
            static_cast<std::size_t>(width) * static_cast<std::size_t>(stored_.samples.channels());
        for (std::size_t y = 0; y < static_cast<std::size_t>(height); ++y) take(pixels.get() + y * row);
    }

private:
    Source source_;
};

} // namespace

std::unique_ptr<Decoder> open_webp(const Source& source) {
    return std::make_unique<WebP>(source);
}

} // namespace motley::photo
