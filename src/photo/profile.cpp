#include "photo/profile.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "fault/fault.h"
#include "photo/decoder.h"
#include "photo/icc.h"

namespace motley::photo {

namespace {

std::uint32_t whole(double light) {
    if (!(light > 0)) return 0; // Also what is not a number.
    return static_cast<std::uint32_t>(
        std::min(std::round(light * light_one), static_cast<double>(light_most)));
}

/// ITU-T H.273, table 2.
std::optional<Chromaticities> primaries_of(int number) {
    switch (number) {
        case 1:
        case 2:
            return srgb_primaries; // 2 is "unspecified"; sRGB is what unmarked pictures are read as.
        case 4:
            return Chromaticities{0.67, 0.33, 0.21, 0.71, 0.14, 0.08, 0.310, 0.316};
        case 5:
            return Chromaticities{0.64, 0.33, 0.29, 0.60, 0.15, 0.06, 0.3127, 0.3290};
        case 6:
        case 7:
            return Chromaticities{0.630, 0.340, 0.310, 0.595, 0.155, 0.070, 0.3127, 0.3290};
        case 9:
            return Chromaticities{0.708, 0.292, 0.170, 0.797, 0.131, 0.046, 0.3127, 0.3290};
        case 11:
            return Chromaticities{0.680, 0.320, 0.265, 0.690, 0.150, 0.060, 0.314, 0.351};
        case 12:
            return Chromaticities{0.680, 0.320, 0.265, 0.690, 0.150, 0.060, 0.3127, 0.3290};
        default:
            return std::nullopt;
    }
}

std::string_view name_of_primaries(int number) {
    switch (number) {
        case 1:
        case 2:
            return "sRGB";
        case 9:
            return "BT.2020";
        case 12:
            return "Display P3";
        default:
            return "other primaries";
    }
}

constexpr std::string_view save_as_srgb = "save it again as sRGB";

[[noreturn]] void refuse_profile(const Source& source) {
    source.refuse("its colour profile is damaged, so its colours are not known",
                  std::string(save_as_srgb) + ", or without the profile");
}

} // namespace

Conversion::Conversion(const ColourMark& mark, const Samples& samples, const Source& source)
    : samples_(samples) {
    if (samples.ink == Ink::cmyk && mark.icc.empty()) {
        source.refuse("its colours are printing inks (CMYK), and nothing in the file says which inks",
                      std::string(save_as_srgb));
    }
    if (mark.coding && samples.ink != Ink::cmyk) {
        from_coding(*mark.coding, source);
    } else if (!mark.icc.empty()) {
        from_icc(mark, source);
    } else if (!mark.srgb && (mark.gamma || mark.chromaticities)) {
        from_gamma(mark);
    } else {
        if (mark.srgb) name_ = "sRGB";
        use_curve(colour::decode);
    }
    straight_ = matrix_ == identity;
}

Conversion::~Conversion() = default;

void Conversion::use_curve(const std::function<double(double)>& curve) {
    Table& table = tables_.emplace_back();
    const double largest = samples_.largest();
    for (std::uint32_t i = 0; i <= samples_.largest(); ++i) table.push_back(whole(curve(i / largest)));
}

void Conversion::use_primaries(const Chromaticities& primaries) {
    const auto same = [](double a, double b) { return std::abs(a - b) < 5e-4; };
    const Chromaticities& s = srgb_primaries;
    const bool srgb = same(primaries.red_x, s.red_x) && same(primaries.red_y, s.red_y) &&
                      same(primaries.green_x, s.green_x) && same(primaries.green_y, s.green_y) &&
                      same(primaries.blue_x, s.blue_x) && same(primaries.blue_y, s.blue_y) &&
                      same(primaries.white_x, s.white_x) && same(primaries.white_y, s.white_y);
    if (!srgb) matrix_ = linear_srgb_from(primaries);
}

void Conversion::from_icc(const ColourMark& mark, const Source& source) {
    const std::optional<IccProfile> profile = IccProfile::open(mark.icc);
    if (!profile) refuse_profile(source);
    name_ = profile->description();
    if (!profile->fits(samples_)) {
        source.refuse(fmt::format("its colour profile \"{}\" is not one for this kind of picture", name_),
                      std::string(save_as_srgb) + ", or without the profile");
    }
    if (const std::optional<IccCurves> curves = profile->curves(samples_)) {
        for (std::size_t c = 0; c < 3; ++c) {
            Table table;
            for (const double light : curves->curves[c]) table.push_back(whole(light));
            const auto known = std::find(tables_.begin(), tables_.end(), table);
            which_[c] = static_cast<std::size_t>(known - tables_.begin());
            if (known == tables_.end()) tables_.push_back(std::move(table));
        }
        matrix_ = curves->matrix;
        return;
    }
    transform_ = profile->transform(samples_);
    if (!transform_) refuse_profile(source);
    lift_ = 1.0;
}

void Conversion::from_coding(Coding coding, const Source& source) {
    const std::optional<Chromaticities> primaries = primaries_of(coding.primaries);
    if (!primaries) {
        source.refuse(
            fmt::format("its colours are marked in a way not known here (primaries {})", coding.primaries),
            std::string(save_as_srgb));
    }
    name_ = name_of_primaries(coding.primaries);
    switch (coding.transfer) {
        case 1:
        case 2:
        case 6:
        case 13:
        case 14:
        case 15:
            // Cameras and converters write the video curves (1, 6, 14, 15) for pictures graded on sRGB
            // screens, and viewers show them so: common practice.
            use_curve(colour::decode);
            break;
        case 4:
            use_curve([](double code) { return std::pow(code, 2.2); });
            break;
        case 5:
            use_curve([](double code) { return std::pow(code, 2.8); });
            break;
        case 8:
            use_curve([](double code) { return code; });
            break;
        case 16:
        case 18:
            source.refuse(
                "its brightness is coded for HDR screens, which does not say how light the fabric is",
                "turn HDR off in the camera, or save it again as a standard (SDR) picture");
        default:
            source.refuse(
                fmt::format("its brightness is coded in a way not known here (transfer {})", coding.transfer),
                std::string(save_as_srgb));
    }
    use_primaries(*primaries);
}

void Conversion::from_gamma(const ColourMark& mark) {
    // 0.45455 is what programs write to say "sRGB" to readers that know only gAMA: common practice. A gamma
    // that no screen ever had is not believed.
    const double gamma = mark.gamma.value_or(0.45455);
    const bool screen = gamma > 0.1 && gamma < 10.0;
    if (std::abs(gamma - 0.45455) < 1e-4 || !screen) {
        use_curve(colour::decode);
    } else {
        name_ = fmt::format("gamma {:.5f}", gamma);
        use_curve([gamma](double code) { return std::pow(code, 1.0 / gamma); });
    }
    if (mark.chromaticities && usable(*mark.chromaticities) && samples_.ink != Ink::grey) {
        use_primaries(*mark.chromaticities);
        if (name_.empty() && matrix_ != identity) name_ = "primaries of its own";
    }
}

void Conversion::convert(const void* row, int width, std::uint32_t* lights) {
    expects(transform_ != nullptr);
    transform_->convert(row, width, linear_);
    const int channels = samples_.channels();
    for (int x = 0; x < width; ++x) {
        for (std::size_t c = 0; c < 3; ++c) {
            *lights++ = whole(static_cast<double>(linear_[3 * static_cast<std::size_t>(x) + c]) + lift_);
        }
        if (!samples_.alpha) continue;
        const std::ptrdiff_t at = static_cast<std::ptrdiff_t>(x) * channels + channels - 1;
        *lights++ = samples_.wide() ? static_cast<const std::uint16_t*>(row)[at]
                                    : static_cast<const std::uint8_t*>(row)[at];
    }
}

} // namespace motley::photo
