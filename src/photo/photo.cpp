#include "photo/photo.h"

#include <memory>
#include <new>

#include "fault/fault.h"
#include "photo/decoder.h"
#include "photo/orientation.h"
#include "photo/profile.h"
#include "photo/reduce.h"

namespace motley::photo {

namespace {

std::unique_ptr<Decoder> open(const Source& source) {
    switch (format_of(source)) {
        case Format::jpeg:
            return open_jpeg(source);
        case Format::png:
            return open_png(source);
        case Format::webp:
            return open_webp(source);
        case Format::heif:
            return open_heif(source);
    }
    expects(false);
    return nullptr;
}

Header header_of(const Stored& stored, const Conversion& conversion) {
    const bool swap = turn_of(stored.orientation).swap;
    return {.format = stored.format,
            .width = swap ? stored.height : stored.width,
            .height = swap ? stored.width : stored.height,
            .orientation = stored.orientation,
            .profile = conversion.name()};
}

/// A picture that needs more memory than there is counts as a picture that is too large.
template <class Step>
auto with_memory(const Source& source, const Step& step) -> decltype(step()) {
    try {
        return step();
    } catch (const std::bad_alloc&) {
        source.refuse("there is not enough memory to open the picture", "save a smaller copy");
    }
}

} // namespace

Header header(std::span<const std::byte> bytes, std::string_view where, const Limits& limits) {
    const Source source{bytes, where, limits};
    return with_memory(source, [&] {
        const std::unique_ptr<Decoder> decoder = open(source);
        const Stored& stored = decoder->stored();
        return header_of(stored, Conversion(stored.mark, stored.samples, source));
    });
}

Reading read(std::span<const std::byte> bytes, std::string_view where, int detail, const Limits& limits) {
    expects(detail >= 16 && detail <= 8192);
    const Source source{bytes, where, limits};
    return with_memory(source, [&] {
        const std::unique_ptr<Decoder> decoder = open(source);
        const Stored& stored = decoder->stored();
        Conversion conversion(stored.mark, stored.samples, source);
        Reduction reduction(stored, conversion, detail);
        decoder->decode([&](const void* row) { reduction.add(row); });
        Reading reading = reduction.finish(source);
        reading.header = header_of(stored, conversion);
        return reading;
    });
}

} // namespace motley::photo
