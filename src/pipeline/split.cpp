#include "pipeline/split.h"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>

#include "document/document.h"
#include "fault/fault.h"
#include "photo/photo.h"
#include "pipeline/fabrics.h"
#include "render/card.h"
#include "scene/scene.h"
#include "swatch/swatch.h"

namespace motley::pipeline {

namespace fs = std::filesystem;

namespace {

/// A name as a file's name and a fabric's id: small letters, digits, hyphens; other alphabets as they are.
std::string id_of(const std::string& name) {
    std::string id;
    for (const char c : name) {
        const auto byte = static_cast<unsigned char>(c);
        if (byte >= 0x80 || std::isdigit(byte) || (byte >= 'a' && byte <= 'z'))
            id += c;
        else if (byte >= 'A' && byte <= 'Z')
            id += static_cast<char>(byte | 0x20);
        else if (!id.empty() && id.back() != '-')
            id += '-';
    }
    while (!id.empty() && id.back() == '-') id.pop_back();
    return id;
}

/// As many names as pieces, each a fabric's id of its own.
std::vector<std::string> names_for(const SwatchRequest& request, const fs::path& photo) {
    std::vector<std::string> names = request.names;
    const auto pieces = static_cast<std::size_t>(request.pieces);
    if (!names.empty() && names.size() != pieces)
        throw Fault(Cause::input, "--names", fmt::format("{} names for {} pieces", names.size(), pieces),
                    "give one name for each piece, in reading order");
    for (std::size_t i = names.size(); i < pieces; ++i)
        names.push_back(fmt::format("{}-{:02}", photo.stem().string(), i + 1));
    std::vector<std::string> ids;
    for (const std::string& name : names) {
        const std::string id = id_of(name);
        if (const std::string trouble = palette::trouble_with_id(id); !trouble.empty())
            throw Fault(Cause::input, "--names",
                        fmt::format("\"{}\" makes no name for a fabric: {}", name, trouble),
                        "give a short name such as plum-dot");
        if (std::find(ids.begin(), ids.end(), id) != ids.end())
            throw Fault(Cause::input, "--names", fmt::format("two pieces are called {}", id),
                        "give each its own name");
        ids.push_back(id);
    }
    return names;
}

photo::Raster raster_of(const photo::LinearImage& picture) {
    photo::Raster out{picture.width, picture.height, 3, {}};
    out.pixels.reserve(picture.pixels.size());
    for (std::size_t i = 0; i + 2 < picture.pixels.size(); i += 3) {
        const colour::Srgb code =
            colour::srgb({picture.pixels[i], picture.pixels[i + 1], picture.pixels[i + 2]});
        out.pixels.insert(out.pixels.end(), {code.r, code.g, code.b});
    }
    return out;
}

scene::Scene found_in(const photo::LinearImage& picture, const fs::path& path, const SwatchRequest& request) {
    scene::Scene scene = scene::look(picture, path.string(), {.split = true, .true_inch = request.true_inch});
    const int found = static_cast<int>(scene.pieces.size());
    if (found == request.pieces) return scene;
    throw Fault(
        Cause::unmet, path.string(),
        fmt::format("found {} piece{} of cloth, expected {}", found, found == 1 ? "" : "s", request.pieces),
        found < request.pieces ? "leave a finger's width of one plain ground around every piece, lay light "
                                 "cloth on a darker ground, "
                                 "and keep all of them in the picture; or photograph fewer at a time"
                               : "take away what is no cloth, or say how many there are");
}

/// One piece as a fabric with a photo of its own.
palette::Fabric fabric_of(const scene::Piece& piece, scene::By by, const std::string& name,
                          const std::vector<std::byte>& png, const SwatchRequest& request) {
    palette::Fabric fabric;
    fabric.id = id_of(name);
    fabric.name = name;
    fabric.photo = fabric.id + ".png";
    const double said = request.width.ticks > 0 ? request.width.in_inches() : fabric.photo_width.in_inches();
    const double width = (piece.width > 0 ? piece.width : said) * piece.kept;
    fabric.photo_width = measure::Length::inches(std::clamp(width, 0.25, 120.0));
    photo::Reading reading = photo::read(png, fabric.photo, measuring_detail);
    reading.mean = piece.mean;
    fabric.colour = swatch::measure(reading, document::content_hash(png), fabric.photo_width);
    fabric.colour->reading = palette::PhotoReading{.by = static_cast<palette::PhotoReading::By>(by),
                                                   .confidence = piece.confidence,
                                                   .pixels_per_inch = piece.pixels_per_inch,
                                                   .cut_out = true,
                                                   .warnings = piece.warnings};
    *fabric.colour = palette::rounded(std::move(*fabric.colour));
    return fabric;
}

void write_alone(const fs::path& file, std::vector<std::byte> bytes) {
    document::write_files(file.parent_path().empty() ? fs::path(".") : file.parent_path(),
                          {{file.filename().string(), std::move(bytes)}});
}

/// Into the palette: a fabric that is there already is measured anew, if its photo is such a cutting.
void put(palette::Palette& palette, palette::Fabric fabric) {
    for (palette::Fabric& known : palette.fabrics) {
        if (known.id != fabric.id) continue;
        if (known.photo != fabric.photo)
            throw Fault(Cause::input, fabric.id, "the palette already has another fabric of this name",
                        "give the pieces other names with --names");
        known.colour = std::move(fabric.colour);
        known.photo_width = fabric.photo_width;
        return;
    }
    palette.fabrics.push_back(std::move(fabric));
}

} // namespace

Swatched split(const SwatchRequest& request, palette::Palette kept) {
    expects(request.pieces > 0);
    if (request.photos.size() != 1 || fs::is_directory(request.photos.front()))
        throw Fault(Cause::input, "--split", "it takes one photo with all the pieces in it",
                    "name one photo; run it again for the next");
    const fs::path path = request.photos.front();
    const std::vector<std::string> names = names_for(request, path);
    const std::vector<std::byte> bytes = document::read_file(path);
    const photo::LinearImage picture =
        photo::read(bytes, path.string(), scene::looking_detail, {.pixels = request.common.most_pixels})
            .picture;
    scene::Scene scene = found_in(picture, path, request);
    Swatched out;
    out.palette = std::move(kept);
    std::vector<document::Output> files;
    std::vector<scene::Quad> corners;
    std::vector<std::string> warned;
    for (std::size_t i = 0; i < names.size(); ++i) {
        const scene::Piece& piece = scene.pieces[i];
        corners.push_back(piece.corners);
        std::vector<std::byte> png = photo::encode_png(raster_of(piece.picture), piece.pixels_per_inch);
        palette::Fabric fabric = fabric_of(piece, scene.by, names[i], png, request);
        out.measured.push_back(fabric.id);
        for (const std::string& warning : piece.warnings) out.remarks.push_back(fabric.id + ": " + warning);
        files.push_back({fabric.photo, std::move(png)});
        put(out.palette, std::move(fabric));
    }
    swatch::set_values(out.palette.fabrics);
    std::vector<std::byte> overview = photo::encode_png(render::draw_found(picture, corners, names));
    const bool apart = !request.overview.empty();
    if (request.palette) {
        if (!apart) files.push_back({std::string(palette::overview_file), overview});
        files.push_back(
            {"palette.json", document::bytes_of(document::print(palette::write_palette(out.palette)))});
        document::write_files(*request.palette, files);
    }
    if (apart) write_alone(request.overview, std::move(overview));
    return out;
}

void print_card(const fs::path& file, CardPaper paper, bool small) {
    const auto page = paper == CardPaper::a4 ? scene::CardKind::a4 : scene::CardKind::letter;
    write_alone(file, render::print_card(small ? scene::CardKind::small : page, page));
}

} // namespace motley::pipeline
