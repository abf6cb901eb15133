#pragma once
/// ICC profiles for the tests, made with lcms2, and lcms2's own answer for a pixel.

#include <lcms2.h>

#include <array>
#include <cmath>
#include <stdexcept>
#include <vector>

#include "photo/make_pictures.h"

namespace profiles {

using pictures::Bytes;

inline Bytes saved(cmsHPROFILE profile) {
    cmsUInt32Number size = 0;
    cmsSaveProfileToMem(profile, nullptr, &size);
    Bytes out(size);
    if (size == 0 || !cmsSaveProfileToMem(profile, out.data(), &size))
        throw std::runtime_error("profile not saved");
    cmsCloseProfile(profile);
    return out;
}

inline Bytes with_curve(const cmsCIExyYTRIPLE& primaries, cmsToneCurve* curve) {
    const cmsCIExyY white{0.3127, 0.3290, 1.0};
    cmsToneCurve* curves[3] = {curve, curve, curve};
    const Bytes out = saved(cmsCreateRGBProfile(&white, &primaries, curves));
    cmsFreeToneCurve(curve);
    return out;
}

/// SMPTE EG 432-1 primaries, white D65, the curve of IEC 61966-2-1.
inline Bytes display_p3() {
    const double curve[] = {2.4, 1 / 1.055, 0.055 / 1.055, 1 / 12.92, 0.04045};
    return with_curve({{0.680, 0.320, 1}, {0.265, 0.690, 1}, {0.150, 0.060, 1}},
                      cmsBuildParametricToneCurve(nullptr, 4, curve));
}

/// Wide primaries and a pure power.
inline Bytes wide_gamma() {
    return with_curve({{0.64, 0.33, 1}, {0.21, 0.71, 1}, {0.15, 0.06, 1}}, cmsBuildGamma(nullptr, 2.2));
}

/// sRGB primaries and a curve given as a table, as older cameras write it.
inline Bytes tabled() {
    std::vector<cmsUInt16Number> table;
    for (int i = 0; i < 1024; ++i)
        table.push_back(static_cast<cmsUInt16Number>(65535 * std::pow(i / 1023.0, 1.9)));
    return with_curve(
        {{0.64, 0.33, 1}, {0.30, 0.60, 1}, {0.15, 0.06, 1}},
        cmsBuildTabulatedToneCurve16(nullptr, static_cast<cmsUInt32Number>(table.size()), table.data()));
}

inline Bytes srgb() {
    return saved(cmsCreate_sRGBProfile());
}

inline Bytes grey(double gamma) {
    cmsToneCurve* curve = cmsBuildGamma(nullptr, gamma);
    const cmsCIExyY white{0.3127, 0.3290, 1.0};
    const Bytes out = saved(cmsCreateGrayProfile(&white, curve));
    cmsFreeToneCurve(curve);
    return out;
}

/// A bent but smooth device: light by the darkest of its inks, colour by their differences. Lab as ICC 4
/// codes it.
inline cmsInt32Number bend(const cmsUInt16Number in[], cmsUInt16Number out[], void* cargo) {
    const int inks = *static_cast<const int*>(cargo);
    double v[4] = {0, 0, 0, 0};
    for (int i = 0; i < inks; ++i) v[i] = in[i] / 65535.0;
    if (inks == 4) {
        for (int i = 0; i < 3; ++i) v[i] = (1 - v[i]) * (1 - v[3]);
    }
    cmsCIELab lab{};
    lab.L = 100 * std::pow(0.3 * v[0] + 0.6 * v[1] + 0.1 * v[2], 0.8);
    lab.a = 60 * (v[0] - v[1]);
    lab.b = 50 * (0.5 * (v[0] + v[1]) - v[2]);
    cmsFloat2LabEncoded(out, &lab);
    return 1;
}

/// A profile that is a table of colours (A2B0): no curves-and-matrix short cut is right for it. 3 inks: RGB,
/// 4: CMYK.
inline Bytes table_of_colours(int inks) {
    cmsHPROFILE profile = cmsCreateProfilePlaceholder(nullptr);
    cmsSetProfileVersion(profile, 4.3);
    cmsSetDeviceClass(profile, inks == 4 ? cmsSigOutputClass : cmsSigInputClass);
    cmsSetColorSpace(profile, inks == 4 ? cmsSigCmykData : cmsSigRgbData);
    cmsSetPCS(profile, cmsSigLabData);
    cmsPipeline* pipeline = cmsPipelineAlloc(nullptr, static_cast<cmsUInt32Number>(inks), 3);
    cmsStage* table =
        cmsStageAllocCLut16bit(nullptr, inks == 4 ? 7 : 17, static_cast<cmsUInt32Number>(inks), 3, nullptr);
    cmsStageSampleCLut16bit(table, bend, &inks, 0);
    cmsPipelineInsertStage(pipeline, cmsAT_END,
                           cmsStageAllocToneCurves(nullptr, static_cast<cmsUInt32Number>(inks), nullptr));
    cmsPipelineInsertStage(pipeline, cmsAT_END, table);
    cmsPipelineInsertStage(pipeline, cmsAT_END, cmsStageAllocToneCurves(nullptr, 3, nullptr));
    if (!cmsWriteTag(profile, cmsSigAToB0Tag, pipeline)) throw std::runtime_error("A2B0 not written");
    const Bytes out = saved(profile);
    cmsPipelineFree(pipeline);
    return out;
}

/// lcms2, pixel by pixel in doubles, from the profile to another (or to linear sRGB).
class Lcms {
public:
    /// To linear sRGB, from a profile that was never saved: saving rounds its primaries to 1.5e-5.
    explicit Lcms(const Bytes& from, cmsUInt32Number layout = TYPE_RGB_DBL) {
        const cmsCIExyY white{0.3127, 0.3290, 1.0};
        const cmsCIExyYTRIPLE primaries{{0.64, 0.33, 1}, {0.30, 0.60, 1}, {0.15, 0.06, 1}};
        cmsToneCurve* curve = cmsBuildGamma(nullptr, 1.0);
        cmsToneCurve* curves[3] = {curve, curve, curve};
        open(opened(from), layout, cmsCreateRGBProfile(&white, &primaries, curves));
        cmsFreeToneCurve(curve);
    }
    Lcms(const Bytes& from, const Bytes& to) { open(opened(from), TYPE_RGB_DBL, opened(to)); }
    ~Lcms() { cmsDeleteTransform(transform_); }
    Lcms(const Lcms&) = delete;
    Lcms& operator=(const Lcms&) = delete;

    std::array<double, 3> operator()(const std::vector<double>& inks) const {
        std::array<double, 3> out{};
        cmsDoTransform(transform_, inks.data(), out.data(), 1);
        return out;
    }

private:
    static cmsHPROFILE opened(const Bytes& bytes) {
        return cmsOpenProfileFromMem(bytes.data(), static_cast<cmsUInt32Number>(bytes.size()));
    }

    void open(cmsHPROFILE a, cmsUInt32Number layout, cmsHPROFILE b) {
        transform_ = cmsCreateTransform(a, layout, b, TYPE_RGB_DBL, INTENT_RELATIVE_COLORIMETRIC,
                                        cmsFLAGS_NOOPTIMIZE | cmsFLAGS_NOCACHE);
        cmsCloseProfile(a);
        cmsCloseProfile(b);
        if (transform_ == nullptr) throw std::runtime_error("no transform");
    }

    cmsHTRANSFORM transform_ = nullptr;
};

} // namespace profiles
