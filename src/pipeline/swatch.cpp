#include "swatch/swatch.h"

#include <fmt/format.h>

#include <algorithm>
#include <mutex>

#include "document/document.h"
#include "photo/photo.h"
#include "pipeline/fabrics.h"
#include "pipeline/pipeline.h"
#include "pipeline/reading.h"
#include "pipeline/split.h"

namespace motley::pipeline {

namespace fs = std::filesystem;

namespace {

/// A photo to be measured: where it is, and the fabric it becomes.
struct Item {
    fs::path path;
    palette::Fabric fabric;
    bool unchanged = false; ///< Since it was measured.
    std::vector<std::byte>
        copy; ///< Bytes to be copied into the palette's folder; empty when the photo is there already.
};

/// The photos asked for; a folder stands for the photos in it.
std::vector<fs::path> listed(const std::vector<fs::path>& asked) {
    std::vector<fs::path> paths;
    for (const fs::path& path : asked) {
        if (!fs::is_directory(path)) {
            paths.push_back(path);
            continue;
        }
        const palette::Palette folder = palette::read_palette(path);
        for (const palette::Fabric& fabric : folder.fabrics)
            if (!fabric.photo.empty()) paths.push_back(folder.folder / fabric.photo);
    }
    return paths;
}

/// Unless the photo is the one it was measured from: then what is known of it holds.
void measure_one(Item& item, const std::vector<std::byte>& bytes, const SwatchRequest& request) {
    const std::string hash = document::content_hash(bytes);
    std::optional<palette::FabricColour>& colour = item.fabric.colour;
    const bool told_anew = request.width.ticks > 0 || request.true_inch != 1;
    if (colour && colour->photo_hash == hash && colour->reading && colour->print && !told_anew) {
        item.unchanged = true;
        return;
    }
    if (request.width.ticks > 0) item.fabric.photo_width = request.width;
    const bool cut_out = colour && colour->photo_hash == hash && colour->reading && colour->reading->cut_out;
    const ClothReading cloth = read_cloth(bytes, item.path.string(),
                                          {.detail = measuring_detail,
                                           .most_pixels = request.common.most_pixels,
                                           .photo_width = item.fabric.photo_width,
                                           .true_inch = request.true_inch,
                                           .cut_out = cut_out});
    if (cloth.how.by == palette::PhotoReading::By::card) item.fabric.photo_width = cloth.shown;
    colour = swatch::measure(cloth.reading, hash, cloth.shown);
    colour->reading = cloth.how;
}

void measure(std::vector<Item>& items, const SwatchRequest& request) {
    const Common& common = request.common;
    std::vector<std::vector<Problem>> problems(items.size());
    std::mutex mutex;
    int done = 0;
    in_parallel(static_cast<int>(items.size()), threads_of(common), [&](int i) {
        Item& item = items[static_cast<std::size_t>(i)];
        try {
            const std::vector<std::byte> bytes = document::read_file(item.path);
            measure_one(item, bytes, request);
            if (!item.copy.empty()) item.copy = bytes;
        } catch (const Fault& fault) {
            if (fault.cause() == Cause::system) throw;
            problems[static_cast<std::size_t>(i)] = fault.problems();
        }
        const std::lock_guard lock(mutex);
        if (common.progress)
            common.progress("reading photos",
                            static_cast<double>(++done) / static_cast<double>(items.size()));
    });
    std::vector<Problem> all;
    for (const auto& some : problems) all.insert(all.end(), some.begin(), some.end());
    if (!all.empty()) throw Fault(Cause::input, std::move(all));
}

bool has_photos_or_file(const fs::path& folder) {
    std::error_code ignored;
    return fs::is_directory(folder, ignored) && !fs::is_empty(folder, ignored);
}

palette::Palette kept_palette(const fs::path& folder) {
    std::error_code ignored;
    if (fs::exists(folder / "palette.json", ignored)) return palette::read_palette(folder);
    if (fs::exists(folder, ignored) && !fs::is_directory(folder, ignored))
        throw Fault(Cause::input, folder.string(), "this is a file", "--palette takes a folder");
    palette::Palette fresh;
    fresh.folder = folder;
    fresh.name = fs::absolute(folder, ignored).lexically_normal().filename().string();
    return fresh;
}

/// What the palette calls a photo: its path inside the folder, where it lies in it or below; else the file's
/// name.
std::string name_in_palette(const fs::path& photo, const fs::path& folder) {
    std::error_code ignored;
    const fs::path inside = folder.empty() ? fs::path() : fs::proximate(photo, folder, ignored);
    const bool below = !inside.empty() && inside.is_relative() && *inside.begin() != "..";
    return below ? inside.generic_string() : photo.filename().string();
}

} // namespace

Swatched swatch(const SwatchRequest& request) {
    if (request.pieces > 0)
        return split(request, request.palette ? kept_palette(*request.palette) : palette::Palette{});
    Swatched out;
    std::vector<fs::path> asked = request.photos;
    if (request.palette) out.palette = kept_palette(*request.palette);
    if (asked.empty() && request.palette && has_photos_or_file(*request.palette)) {
        if (out.palette.fabrics.empty()) asked.push_back(*request.palette);
        for (const palette::Fabric& fabric : out.palette.fabrics) {
            if (fabric.photo.empty()) continue;
            if (!fs::exists(out.palette.folder / fabric.photo))
                throw Fault(Cause::input, (out.palette.folder / "palette.json").string(),
                            fmt::format("the photo \"{}\" of {} is not there", fabric.photo, fabric.id),
                            "put it back, or take the fabric out of palette.json");
            asked.push_back(out.palette.folder / fabric.photo);
        }
        for (const std::string& photo : out.palette.unlisted) asked.push_back(out.palette.folder / photo);
    }
    std::vector<Item> items;
    for (const fs::path& path : listed(asked)) {
        Item item{path, {}, false, {}};
        item.fabric.photo = name_in_palette(path, request.palette ? out.palette.folder : fs::path());
        item.fabric.id = item.fabric.name = path.stem().string();
        for (const palette::Fabric& known : out.palette.fabrics)
            if (known.photo == item.fabric.photo) {
                item.fabric.photo_width = known.photo_width;
                item.fabric.colour = known.colour;
            }
        std::error_code ignored;
        if (request.palette && !fs::equivalent(path, out.palette.folder / item.fabric.photo, ignored)) {
            if (fs::exists(out.palette.folder / item.fabric.photo, ignored))
                throw Fault(Cause::input, path.string(),
                            fmt::format("the palette already has another photo called {}", item.fabric.photo),
                            "rename one of them");
            item.copy.resize(1); // To be filled with the photo's bytes.
        }
        items.push_back(std::move(item));
    }
    if (items.empty())
        throw Fault(Cause::input, "",
                    fmt::format("there is no photo to measure{}",
                                request.palette ? " in " + request.palette->string() : std::string()),
                    "name photos or a folder of photos");
    measure(items, request);
    std::vector<document::Output> files;
    for (Item& item : items) {
        const auto known =
            std::find_if(out.palette.fabrics.begin(), out.palette.fabrics.end(),
                         [&](const palette::Fabric& fabric) { return fabric.photo == item.fabric.photo; });
        const auto namesake =
            std::find_if(out.palette.fabrics.begin(), out.palette.fabrics.end(),
                         [&](const palette::Fabric& fabric) { return fabric.id == item.fabric.id; });
        if (known != out.palette.fabrics.end()) {
            known->colour = item.fabric.colour;
            known->photo_width = item.fabric.photo_width;
            out.measured.push_back(known->id);
        } else if (namesake != out.palette.fabrics.end()) {
            throw Fault(Cause::input, item.path.string(),
                        fmt::format("there are two fabrics called {}", item.fabric.id),
                        "rename one of the photos");
        } else {
            out.measured.push_back(item.fabric.id);
            out.palette.fabrics.push_back(item.fabric);
        }
        if (!item.copy.empty()) files.push_back({item.fabric.photo, std::move(item.copy)});
    }
    const auto unchanged =
        std::count_if(items.begin(), items.end(), [](const Item& item) { return item.unchanged; });
    if (unchanged > 0)
        out.remarks.push_back(
            fmt::format("{} of {} photos are as they were when they were measured", unchanged, items.size()));
    swatch::set_values(out.palette.fabrics);
    if (request.palette) {
        files.push_back(
            {"palette.json", document::bytes_of(document::print(palette::write_palette(out.palette)))});
        document::write_files(*request.palette, files);
    }
    return out;
}

} // namespace motley::pipeline
