#pragma once
/// What the kinds of picture file have in common once they are opened. Internal to `photo`.

#include <cstddef>
#include <functional>
#include <memory>
#include <span>
#include <string>
#include <string_view>

#include "photo/photo.h"
#include "photo/profile.h"

namespace motley::photo {

/// A file to be opened: its bytes, what to call it in complaints, and how large it may be.
struct Source {
    std::span<const std::byte> bytes;
    std::string_view where;
    Limits limits;

    const unsigned char* data() const;
    [[noreturn]] void refuse(std::string what, std::string remedy) const;
    /// The picture ends before its end. `detail` may say more ("1200 of 3000 rows are there").
    [[noreturn]] void refuse_cut(std::string_view detail = {}) const;
    [[noreturn]] void refuse_damaged(std::string_view library_says) const;
    /// Faults unless 1 <= width * height <= limits.pixels. To be asked before anything of that size is
    /// allocated.
    void check_size(std::int64_t width, std::int64_t height) const;
};

/// What the header says, as the file has it.
struct Stored {
    Format format = Format::jpeg;
    int width = 0, height = 0;
    int orientation = 1;
    Samples samples;
    ColourMark mark;
};

/// Takes the stored rows from top to bottom; the row is valid during the call only.
using RowTaker = std::function<void(const void* row)>;

/// An opened file whose header passed every check.
class Decoder {
public:
    Decoder() = default;
    virtual ~Decoder() = default;
    Decoder(const Decoder&) = delete;
    Decoder& operator=(const Decoder&) = delete;

    const Stored& stored() const { return stored_; }
    /// All rows, once. Faults when the file is cut off or damaged, perhaps after some rows were handed over.
    virtual void decode(const RowTaker& take) = 0;

protected:
    Stored stored_;
};

/// Each expects that the bytes begin like its kind of file.
std::unique_ptr<Decoder> open_jpeg(const Source& source);
std::unique_ptr<Decoder> open_png(const Source& source);
std::unique_ptr<Decoder> open_webp(const Source& source);
std::unique_ptr<Decoder> open_heif(const Source& source);

/// The kind of file by its first bytes, or a Fault that says what they look like instead.
Format format_of(const Source& source);

} // namespace motley::photo
