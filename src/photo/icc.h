#pragma once
/// ICC profiles, read with lcms2. Internal to `photo`.

#include <cstddef>
#include <cstdint>
#include <memory>
#include <optional>
#include <span>
#include <string>
#include <vector>

#include "photo/matrix.h"
#include "photo/profile.h"

namespace motley::photo {

/// A profile that is one curve per colour and at most one matrix.
struct IccCurves {
    std::vector<std::vector<double>> curves; ///< Three; 2^bits lights each.
    Matrix matrix = identity;                ///< From those lights to linear sRGB.
};

/// Turns pixels into linear sRGB one by one, for profiles that are more than curves and a matrix. Relative
/// colorimetric.
class IccTransform {
public:
    IccTransform(void* handle, const Samples& samples);
    ~IccTransform();
    IccTransform(const IccTransform&) = delete;
    IccTransform& operator=(const IccTransform&) = delete;

    /// `row` as `samples` lies in memory; `out` receives 3 * width floats.
    void convert(const void* row, int width, std::vector<float>& out);

private:
    void* handle_;
    Samples samples_;
    std::vector<float> inks_;
};

class IccProfile {
public:
    /// Nothing when lcms2 cannot make sense of the bytes.
    static std::optional<IccProfile> open(std::span<const std::byte> bytes);

    std::string description() const; ///< Printable ASCII; never empty.
    /// True where the profile can describe such samples. A grey picture may carry an RGB profile: its grey is
    /// then R = G = B.
    bool fits(const Samples& samples) const;
    /// Nothing unless the profile is curves and a matrix, or grey. Expects fits(samples).
    std::optional<IccCurves> curves(const Samples& samples) const;
    /// Null when lcms2 cannot build it. Expects fits(samples).
    std::unique_ptr<IccTransform> transform(const Samples& samples) const;

private:
    struct Close {
        void operator()(void* profile) const;
    };
    explicit IccProfile(void* handle) : handle_(handle) {}

    std::optional<IccCurves> grey_curves(const Samples& samples) const;

    std::unique_ptr<void, Close> handle_;
};

} // namespace motley::photo
