#include "photo/icc.h"

#include <lcms2.h>

#include <algorithm>
#include <array>
#include <cmath>

#include "fault/fault.h"

namespace motley::photo {

namespace {

/// Profiles for printers stay below 4 MB; what is larger is not a profile but an attempt to use up memory.
constexpr std::size_t largest_profile = std::size_t{16} << 20;

/// Light as it is, sRGB primaries: where every transform ends.
std::unique_ptr<void, void (*)(void*)> linear_srgb() {
    const cmsCIExyY white{srgb_primaries.white_x, srgb_primaries.white_y, 1.0};
    const cmsCIExyYTRIPLE primaries{{srgb_primaries.red_x, srgb_primaries.red_y, 1.0},
                                    {srgb_primaries.green_x, srgb_primaries.green_y, 1.0},
                                    {srgb_primaries.blue_x, srgb_primaries.blue_y, 1.0}};
    cmsToneCurve* straight = cmsBuildGamma(nullptr, 1.0);
    cmsToneCurve* curves[3] = {straight, straight, straight};
    void* profile = cmsCreateRGBProfile(&white, &primaries, curves);
    cmsFreeToneCurve(straight);
    return {profile, [](void* handle) { cmsCloseProfile(handle); }};
}

std::uint32_t float_layout(cmsColorSpaceSignature space) {
    if (space == cmsSigGrayData) return TYPE_GRAY_FLT;
    return space == cmsSigCmykData ? TYPE_CMYK_FLT : TYPE_RGB_FLT;
}

cmsHTRANSFORM transform_from(cmsHPROFILE profile) {
    const auto target = linear_srgb();
    // Unoptimised: lcms2's shortcuts work in 16 bits or fewer.
    return cmsCreateTransform(profile, float_layout(cmsGetColorSpace(profile)), target.get(), TYPE_RGB_FLT,
                              INTENT_RELATIVE_COLORIMETRIC, cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
}

bool has_tables(cmsHPROFILE profile) {
    constexpr std::array tags{cmsSigAToB0Tag, cmsSigAToB1Tag, cmsSigAToB2Tag, cmsSigDToB0Tag,
                              cmsSigDToB1Tag, cmsSigDToB2Tag, cmsSigDToB3Tag};
    return std::any_of(tags.begin(), tags.end(), [&](auto tag) { return cmsIsTag(profile, tag) != 0; });
}

template <class Sample>
void unpack(const Sample* row, int width, const Samples& samples, bool spread, float* out) {
    const auto largest = static_cast<float>(samples.largest());
    // lcms2 counts inks in per cent, everything else from 0 to 1.
    const float scale = samples.ink == Ink::cmyk ? 100.0F : 1.0F;
    const int colours = samples.colours();
    for (int x = 0; x < width; ++x, row += samples.channels()) {
        for (int c = 0; c < (spread ? 3 : colours); ++c) {
            const float share = static_cast<float>(row[spread ? 0 : c]) / largest;
            *out++ = scale * (samples.inverted ? 1.0F - share : share);
        }
    }
}

} // namespace

IccTransform::IccTransform(void* handle, const Samples& samples) : handle_(handle), samples_(samples) {
    expects(handle != nullptr);
}

IccTransform::~IccTransform() {
    cmsDeleteTransform(handle_);
}

void IccTransform::convert(const void* row, int width, std::vector<float>& out) {
    const bool spread = samples_.ink == Ink::grey && T_CHANNELS(cmsGetTransformInputFormat(handle_)) == 3;
    const auto pixels = static_cast<std::size_t>(width);
    inks_.resize(pixels * static_cast<std::size_t>(spread ? 3 : samples_.colours()));
    if (samples_.wide()) {
        unpack(static_cast<const std::uint16_t*>(row), width, samples_, spread, inks_.data());
    } else {
        unpack(static_cast<const std::uint8_t*>(row), width, samples_, spread, inks_.data());
    }
    out.resize(3 * pixels);
    cmsDoTransform(handle_, inks_.data(), out.data(), static_cast<cmsUInt32Number>(width));
}

void IccProfile::Close::operator()(void* profile) const {
    cmsCloseProfile(profile);
}

std::optional<IccProfile> IccProfile::open(std::span<const std::byte> bytes) {
    if (bytes.size() < 128 || bytes.size() > largest_profile) return std::nullopt;
    void* handle = cmsOpenProfileFromMem(bytes.data(), static_cast<cmsUInt32Number>(bytes.size()));
    if (handle == nullptr) return std::nullopt;
    return IccProfile(handle);
}

std::string IccProfile::description() const {
    std::array<char, 256> text{};
    cmsGetProfileInfoASCII(handle_.get(), cmsInfoDescription, "en", "US", text.data(),
                           static_cast<cmsUInt32Number>(text.size() - 1));
    std::string out(text.data());
    for (char& letter : out) {
        if (letter < ' ' || letter > '~') letter = '?';
    }
    return out.empty() ? "without a name" : out;
}

bool IccProfile::fits(const Samples& samples) const {
    const cmsColorSpaceSignature space = cmsGetColorSpace(handle_.get());
    const cmsProfileClassSignature kind = cmsGetDeviceClass(handle_.get());
    if (kind != cmsSigInputClass && kind != cmsSigDisplayClass && kind != cmsSigOutputClass &&
        kind != cmsSigColorSpaceClass) {
        return false;
    }
    switch (samples.ink) {
        case Ink::grey:
            return space == cmsSigGrayData || space == cmsSigRgbData;
        case Ink::rgb:
            return space == cmsSigRgbData;
        case Ink::cmyk:
            return space == cmsSigCmykData;
    }
    return false;
}

std::optional<IccCurves> IccProfile::grey_curves(const Samples& samples) const {
    // Grey has few enough levels to ask lcms2 about each of them.
    Samples levels = samples;
    levels.alpha = false;
    const std::unique_ptr<IccTransform> each = transform(levels);
    if (!each) return std::nullopt;
    const int count = static_cast<int>(samples.largest()) + 1;
    std::vector<std::uint16_t> wide;
    std::vector<std::uint8_t> narrow;
    for (int i = 0; i < count; ++i) {
        wide.push_back(static_cast<std::uint16_t>(i));
        narrow.push_back(static_cast<std::uint8_t>(i));
    }
    std::vector<float> lights;
    each->convert(samples.wide() ? static_cast<const void*>(wide.data()) : narrow.data(), count, lights);
    IccCurves out;
    out.curves.resize(3);
    for (std::size_t i = 0; i < lights.size(); ++i)
        out.curves[i % 3].push_back(static_cast<double>(lights[i]));
    return out;
}

std::optional<IccCurves> IccProfile::curves(const Samples& samples) const {
    void* profile = handle_.get();
    if (samples.ink == Ink::grey) return grey_curves(samples);
    if (samples.ink != Ink::rgb || has_tables(profile) || !cmsIsMatrixShaper(profile)) return std::nullopt;
    constexpr std::array curve_tags{cmsSigRedTRCTag, cmsSigGreenTRCTag, cmsSigBlueTRCTag};
    constexpr std::array colorant_tags{cmsSigRedColorantTag, cmsSigGreenColorantTag, cmsSigBlueColorantTag};
    IccCurves out;
    Matrix xyz{};
    for (std::size_t c = 0; c < 3; ++c) {
        const auto* curve = static_cast<const cmsToneCurve*>(cmsReadTag(profile, curve_tags[c]));
        const auto* colorant = static_cast<const cmsCIEXYZ*>(cmsReadTag(profile, colorant_tags[c]));
        if (curve == nullptr || colorant == nullptr) return std::nullopt;
        const auto largest = static_cast<float>(samples.largest());
        std::vector<double>& lights = out.curves.emplace_back();
        for (std::uint32_t i = 0; i <= samples.largest(); ++i) {
            lights.push_back(
                static_cast<double>(cmsEvalToneCurveFloat(curve, static_cast<float>(i) / largest)));
        }
        xyz[0][c] = colorant->X;
        xyz[1][c] = colorant->Y;
        xyz[2][c] = colorant->Z;
    }
    out.matrix = multiply(linear_srgb_from_icc_xyz(), xyz);
    return out;
}

std::unique_ptr<IccTransform> IccProfile::transform(const Samples& samples) const {
    cmsHTRANSFORM handle = transform_from(handle_.get());
    if (handle == nullptr) return nullptr;
    return std::make_unique<IccTransform>(handle, samples);
}

} // namespace motley::photo
