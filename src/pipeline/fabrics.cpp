#include "pipeline/fabrics.h"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>

#include "document/document.h"
#include "photo/photo.h"
#include "pipeline/reading.h"
#include "swatch/swatch.h"

namespace motley::pipeline {

namespace {

struct Photographed {
    std::optional<palette::FabricColour> colour; ///< Newly measured.
    bool changed = false;                        ///< The photo is not the one whose colour was recorded.
    render::Cloth cloth;
    std::vector<Problem> problems;
};

Photographed read_one(const palette::Palette& palette, const palette::Fabric& fabric,
                      const layout::Plan* drawn_for, const Common& common) {
    Photographed out;
    out.cloth.width = fabric.photo_width;
    if (fabric.photo.empty()) return out;
    const std::filesystem::path path = palette.folder / fabric.photo;
    std::error_code ignored;
    const std::string said = fmt::format("{} /fabrics/{}/photo", (palette.folder / "palette.json").string(),
                                         &fabric - palette.fabrics.data());
    if (!std::filesystem::exists(path, ignored))
        throw Fault(Cause::input, said, fmt::format("the photo \"{}\" is not there", fabric.photo),
                    fmt::format("put it back, or take the fabric {} out of palette.json", fabric.id));
    if (std::filesystem::is_directory(path, ignored))
        throw Fault(Cause::input, said, fmt::format("\"{}\" is a folder, not a photo", fabric.photo),
                    "name the photo itself");
    const std::vector<std::byte> bytes = document::read_file(path);
    const std::string hash = document::content_hash(bytes);
    const bool holds = fabric.colour && (fabric.colour->from == palette::FabricColour::From::typed ||
                                         fabric.colour->photo_hash == hash);
    if (holds && !drawn_for) return out;
    // Few large units show more of the print than measuring looks at. The shape is not known before reading:
    // a square stands for it.
    const bool closer =
        drawn_for && render::detail_needed(*drawn_for, fabric.photo_width, 1,
                                           {.longest_side = common.picture_side}) > measuring_detail;
    const bool known = holds && fabric.colour->reading; // Then what was found in it holds too.
    ClothReading cloth = read_cloth(
        bytes, path.string(),
        {.detail = closer ? drawing_detail : measuring_detail,
         .most_pixels = common.most_pixels,
         .photo_width = fabric.photo_width,
         .cut_out = known && (fabric.colour->reading->cut_out ||
                              fabric.colour->reading->by == palette::PhotoReading::By::edge_to_edge)});
    if (!holds) {
        out.colour = swatch::measure(cloth.reading, hash, cloth.shown);
        out.colour->reading = cloth.how;
    }
    out.changed = !holds && fabric.colour && !fabric.colour->photo_hash.empty();
    // A card tells the width when it is read, and then the palette says what it told.
    out.cloth.width = known && fabric.colour->reading->by == palette::PhotoReading::By::card
                          ? fabric.photo_width
                          : cloth.shown;
    if (drawn_for) {
        photo::LinearImage& picture = cloth.reading.picture;
        const double shape = static_cast<double>(picture.height) / picture.width;
        const int detail =
            render::detail_needed(*drawn_for, out.cloth.width, shape, {.longest_side = common.picture_side});
        out.cloth.picture = thinned(std::move(picture), detail);
    }
    return out;
}

} // namespace

int threads_of(const Common& common) {
    if (common.threads > 0) return common.threads;
    return std::clamp(static_cast<int>(std::thread::hardware_concurrency()), 1, 64);
}

void in_parallel(int count, int threads, const std::function<void(int)>& work) {
    std::atomic<int> next{0};
    std::vector<std::exception_ptr> failures(static_cast<std::size_t>(std::max(0, count)));
    const auto worker = [&] {
        for (int i = next++; i < count; i = next++) try {
                work(i);
            } catch (...) {
                failures[static_cast<std::size_t>(i)] = std::current_exception();
            }
    };
    {
        std::vector<std::jthread> pool;
        for (int t = 1; t < std::min(threads, count); ++t) pool.emplace_back(worker);
        worker();
    }
    for (const std::exception_ptr& failure : failures)
        if (failure) std::rethrow_exception(failure);
}

Measured measure_fabrics(palette::Palette& palette, const layout::Plan* drawn_for, const Common& common) {
    const int count = static_cast<int>(palette.fabrics.size());
    std::vector<Photographed> photographed(palette.fabrics.size());
    std::mutex mutex;
    int done = 0;
    in_parallel(count, threads_of(common), [&](int i) {
        Photographed& one = photographed[static_cast<std::size_t>(i)];
        try {
            one = read_one(palette, palette.fabrics[static_cast<std::size_t>(i)], drawn_for, common);
        } catch (const Fault& fault) {
            if (fault.cause() == Cause::system) throw;
            one.problems = fault.problems(); // All photos that are wrong are told at once.
        }
        const std::lock_guard lock(mutex);
        if (common.progress) common.progress("reading photos", static_cast<double>(++done) / count);
    });
    Measured out;
    std::vector<Problem> problems;
    std::vector<std::string> changed;
    for (std::size_t i = 0; i < palette.fabrics.size(); ++i) {
        palette::Fabric& fabric = palette.fabrics[i];
        Photographed& one = photographed[i];
        for (Problem& problem : one.problems) problems.push_back(std::move(problem));
        if (one.colour) fabric.colour = std::move(one.colour);
        if (one.changed) changed.push_back(fabric.photo);
        if (drawn_for) out.cloths.push_back(std::move(one.cloth));
    }
    if (!problems.empty()) throw Fault(Cause::input, std::move(problems));
    swatch::set_values(palette.fabrics);
    if (!changed.empty())
        out.remarks.push_back(
            fmt::format("changed since they were measured, so measured again: {}", fmt::join(changed, ", ")));
    if (!palette.unlisted.empty())
        out.remarks.push_back(
            fmt::format("in the folder {} but not in its palette.json, so not used: {} (\"motley swatch "
                        "--palette {}\" adds them)",
                        palette.folder.string(), fmt::join(palette.unlisted, ", "), palette.folder.string()));
    return out;
}

} // namespace motley::pipeline
