#pragma once
/// How a file marks its colours, and how stored samples become linear light. Internal to `photo`.
/// Light is summed as whole numbers, `light_one` for 1.0, so that sums are exact in any order.

#include <array>
#include <cstddef>
#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

#include "colour/space.h"
#include "photo/matrix.h"

namespace motley::photo {

struct Source;
class IccTransform;

enum class Ink : std::uint8_t { grey, rgb, cmyk };

/// How one row lies in memory: interleaved; `std::uint8_t` up to 8 bits, `std::uint16_t` in the machine's
/// byte order above.
struct Samples {
    Ink ink = Ink::rgb;
    bool alpha = false;    ///< After the colours, not multiplied into them.
    bool inverted = false; ///< CMYK whose 0 is full ink, as Adobe writes it.
    int bits = 8;          ///< The largest sample is 2^bits - 1.

    int colours() const { return ink == Ink::grey ? 1 : ink == Ink::rgb ? 3 : 4; }
    int channels() const { return colours() + (alpha ? 1 : 0); }
    bool wide() const { return bits > 8; }
    std::uint32_t largest() const { return (std::uint32_t{1} << bits) - 1; }
};

/// Primaries and transfer by their numbers in ITU-T H.273; 2 is "unspecified".
struct Coding {
    int primaries = 2, transfer = 2;
};

/// Everything the file says about its colours. The first that is present counts: coding, icc, srgb, gamma and
/// chromaticities.
struct ColourMark {
    std::optional<Coding> coding;
    std::vector<std::byte> icc;
    bool srgb = false;
    std::optional<double> gamma; ///< Exponent from light to sample, as PNG's gAMA has it: 0.45455.
    std::optional<Chromaticities> chromaticities;
};

inline constexpr double light_one = 1 << 24;
/// Largest whole number a light may become, 4.0.
inline constexpr std::uint32_t light_most = (std::uint32_t{1} << 26) - 1;

/// From stored samples to linear light. Where the profile is curves and a matrix (or grey), a look-up gives
/// the light of the file's own primaries and `finish` turns sums of it into sRGB primaries; otherwise
/// `convert` turns every pixel.
class Conversion {
public:
    /// Faults: a profile that is damaged or does not fit the picture, CMYK without a profile, brightness
    /// coded for HDR screens.
    Conversion(const ColourMark& mark, const Samples& samples, const Source& source);
    ~Conversion();

    const std::string& name() const { return name_; } ///< Empty when the file has no mark.
    bool by_tables() const { return !transform_; }
    /// 2^bits entries for colour 0 to 2 of the file; a grey sample goes through all three.
    const std::uint32_t* table(int colour) const {
        return tables_[which_[static_cast<std::size_t>(colour)]].data();
    }
    /// `row` has `width` pixels; writes three lights each, and the alpha sample where there is one. Expects
    /// !by_tables().
    void convert(const void* row, int width, std::uint32_t* lights);
    /// From the mean of tabled or converted lights (in units of light_one) to linear light.
    colour::LinearRgb finish(const std::array<double, 3>& mean) const {
        const Triple own{mean[0] / light_one - lift_, mean[1] / light_one - lift_,
                         mean[2] / light_one - lift_};
        const Triple out = straight_ ? own : apply(matrix_, own);
        return {out[0], out[1], out[2]};
    }

private:
    using Table = std::vector<std::uint32_t>;

    void from_icc(const ColourMark& mark, const Source& source);
    void from_coding(Coding coding, const Source& source);
    void from_gamma(const ColourMark& mark);
    void use_curve(const std::function<double(double)>& curve);
    void use_primaries(const Chromaticities& primaries);

    Samples samples_;
    std::string name_;
    std::vector<Table> tables_;
    std::array<std::size_t, 3> which_{0, 0, 0};
    Matrix matrix_ = identity;
    bool straight_ = true; ///< The matrix changes nothing.
    double lift_ = 0;      ///< Was added to each light, so that colours outside sRGB stay above 0.
    std::unique_ptr<IccTransform> transform_;
    std::vector<float> linear_; ///< One converted row.
};

} // namespace motley::photo
