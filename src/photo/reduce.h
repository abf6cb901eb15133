#pragma once
/// Sums of light over whole pixels: the reduced picture and the mean from the same sums. Internal to `photo`.
/// All sums are of whole numbers and therefore exact: the mean does not depend on the detail, nor on the
/// order of pixels.

#include <array>
#include <cstdint>
#include <vector>

#include "photo/decoder.h"
#include "photo/orientation.h"
#include "photo/photo.h"
#include "photo/profile.h"

namespace motley::photo {

/// One side of a picture cut into blocks of `step` pixels. The short block, if there is one, lies last as
/// seen upright, so it is the first one stored where this side is mirrored.
struct Axis {
    int length = 0, step = 1;
    int count = 0; ///< Blocks.
    int first = 0; ///< Pixels of the first block stored.

    Axis() = default;
    Axis(int pixels, int block, bool mirrored);
    int size_of(int block) const;
};

/// A sum that cannot overflow: 16-bit alpha times light over 100 megapixels needs more than 64 bits.
struct WideSum {
    std::uint64_t low = 0, high = 0;

    void add(std::uint64_t number) {
        low += number;
        high += low < number ? 1 : 0;
    }
    void add(const WideSum& other) {
        add(other.low);
        high += other.high;
    }
    double value() const { return static_cast<double>(high) * 0x1p64 + static_cast<double>(low); }
};

/// Takes the stored rows one after the other and never holds more than a row of blocks beside the reduced
/// picture.
class Reduction {
public:
    /// Both must outlive it. Expects detail >= 1.
    Reduction(const Stored& stored, Conversion& conversion, int detail);

    void add(const void* row);
    /// Expects that every row was added. Faults (through `source`) when nothing in the picture is opaque.
    Reading finish(const Source& source);

private:
    struct Block {
        std::array<WideSum, 3> light; ///< Times alpha.
        std::uint64_t weight = 0;     ///< Sum of alpha.

        std::array<double, 3> mean(double over) const {
            return {light[0].value() / over, light[1].value() / over, light[2].value() / over};
        }
    };

    template <class Sample, class Light>
    void sum(const Sample* row, int inks, const Light& light);
    template <class Sample>
    void sum_tables(const Sample* row);
    void close_plain(); ///< A row of blocks is complete: into the picture with it.
    void close_weighed();
    std::size_t place_of(int column) const; ///< Of a block of this band, in the upright picture.
    void put(std::size_t place, const colour::LinearRgb& light);

    const Stored& stored_;
    Conversion& conversion_;
    Turn turn_;
    Axis columns_, rows_;
    int row_ = 0;                      ///< Stored rows taken.
    int band_ = 0, band_left_ = 0;     ///< Which row of blocks, and its rows still to come.
    std::vector<std::uint64_t> plain_; ///< Three sums per block, where there is no alpha.
    std::vector<Block> weighed_;       ///< Where there is.
    std::vector<std::uint32_t> converted_;
    Block total_;
    LinearImage picture_;
    std::vector<std::size_t> empty_; ///< Blocks in which nothing is opaque.
};

} // namespace motley::photo
