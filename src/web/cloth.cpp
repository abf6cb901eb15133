#include "web/cloth.h"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

#include "photo/photo.h"
#include "render/cloth.h"
#include "render/continued.h"
#include "render/repeat.h"
#include "render/tone.h"

namespace motley::web {

namespace {

namespace fs = std::filesystem;

photo::Raster raster_of(const photo::LinearImage& image) {
    photo::Raster out{image.width, image.height, 3, {}};
    out.pixels.reserve(image.pixels.size());
    const render::Tones& tones = render::tones();
    for (const float light : image.pixels) out.pixels.push_back(tones.code(light));
    return out;
}

photo::LinearImage square_of(const photo::LinearImage& image, int side) {
    photo::LinearImage out = render::blank(side, side);
    for (int y = 0; y < side; ++y)
        for (int x = 0; x < side; ++x) std::copy_n(render::pixel(image, x, y), 3, render::pixel(out, x, y));
    return out;
}

/// For a photo too small to show a print at this scale.
photo::LinearImage solid(colour::LinearRgb mean) {
    photo::LinearImage out = render::blank(cloth_pixels, cloth_pixels);
    for (std::size_t i = 0; i < out.pixels.size(); i += 3) {
        out.pixels[i] = static_cast<float>(mean.r);
        out.pixels[i + 1] = static_cast<float>(mean.g);
        out.pixels[i + 2] = static_cast<float>(mean.b);
    }
    return out;
}

} // namespace

double cloth_side(measure::Length finished) {
    return std::clamp(std::ceil(1.7 * finished.in_inches()), 6.0, 40.0);
}

ClothPictures::ClothPictures(fs::path folder, const pipeline::Common& common)
    : folder_(std::move(folder)), common_(common) {}

std::vector<std::byte> ClothPictures::picture(const palette::Fabric& fabric, const fs::path& photos,
                                              double side) const {
    expects(!fabric.photo.empty() && fabric.colour);
    const std::string name =
        fmt::format("{}-{:.0f}-{}.png", fabric.colour->photo_hash, side, fabric.photo_width.ticks);
    std::error_code ignored;
    const bool known = !fabric.colour->photo_hash.empty();
    if (known && fs::is_regular_file(folder_ / name, ignored)) return document::read_file(folder_ / name);
    const fs::path path = photos / fabric.photo;
    const double ppi = cloth_pixels / side;
    const int detail = std::clamp(static_cast<int>(3 * ppi * fabric.photo_width.in_inches()), 64, 2048);
    photo::Reading reading =
        photo::read(document::read_file(path), path.string(), detail, {.pixels = common_.most_pixels});
    const render::Cloth cloth{std::move(reading.picture), fabric.photo_width};
    photo::LinearImage scaled = render::scaled_cloth(cloth, ppi, cloth_pixels);
    constexpr int least = 8;
    if (scaled.width < least || scaled.height < least) {
        scaled = solid(reading.mean);
    } else if (scaled.width < cloth_pixels || scaled.height < cloth_pixels) {
        scaled = render::continued(scaled, render::repeat_of(scaled), cloth_pixels, cloth_pixels);
    }
    std::vector<std::byte> png = photo::encode_png(raster_of(square_of(scaled, cloth_pixels)));
    if (known) document::write_files(folder_, {{name, png}});
    return png;
}

} // namespace motley::web
