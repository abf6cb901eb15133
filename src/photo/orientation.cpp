#include "photo/orientation.h"

#include <libexif/exif-data.h>

#include <algorithm>
#include <array>
#include <memory>
#include <vector>

#include "fault/fault.h"

namespace motley::photo {

namespace {

constexpr std::array<std::byte, 6> prefix{std::byte{'E'}, std::byte{'x'}, std::byte{'i'},
                                          std::byte{'f'}, std::byte{0},   std::byte{0}};
/// A JPEG's EXIF block cannot be larger; the mark stands near the beginning of others.
constexpr std::size_t largest_exif = 65'536;

} // namespace

int orientation_in(std::span<const std::byte> exif) {
    std::vector<std::byte> block;
    if (exif.size() < prefix.size() || !std::equal(prefix.begin(), prefix.end(), exif.begin())) {
        block.assign(prefix.begin(), prefix.end());
    }
    const std::span<const std::byte> start = exif.first(std::min(exif.size(), largest_exif));
    block.insert(block.end(), start.begin(), start.end());

    const std::unique_ptr<ExifData, void (*)(ExifData*)> data(exif_data_new(), exif_data_unref);
    if (!data) return 1;
    // Left on, libexif would add the entries it misses, an orientation among them.
    exif_data_unset_option(data.get(), EXIF_DATA_OPTION_FOLLOW_SPECIFICATION);
    exif_data_load_data(data.get(), reinterpret_cast<const unsigned char*>(block.data()),
                        static_cast<unsigned int>(block.size()));
    const ExifEntry* entry = exif_content_get_entry(data->ifd[EXIF_IFD_0], EXIF_TAG_ORIENTATION);
    if (entry == nullptr || entry->format != EXIF_FORMAT_SHORT || entry->size < 2) return 1;
    const int mark = exif_get_short(entry->data, exif_data_get_byte_order(data.get()));
    return mark >= 1 && mark <= 8 ? mark : 1;
}

Turn turn_of(int orientation) {
    expects(orientation >= 1 && orientation <= 8);
    // TIFF 6.0, tag 274: where the stored first row and first column are seen.
    constexpr std::array<Turn, 8> turns{Turn{false, false, false}, Turn{true, false, false},
                                        Turn{true, true, false},   Turn{false, true, false},
                                        Turn{false, false, true},  Turn{false, true, true},
                                        Turn{true, true, true},    Turn{true, false, true}};
    return turns[static_cast<std::size_t>(orientation - 1)];
}

} // namespace motley::photo
