#include "pipeline/fabrics.h"

#include <fmt/format.h>

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>

#include "document/document.h"
#include "photo/photo.h"
#include "swatch/swatch.h"

namespace motley::pipeline {

namespace {

/// Keeps of a picture what drawing at that scale can show: box averages by a whole factor, never coarser than
/// asked.
photo::LinearImage thinned(photo::LinearImage picture, int longest_side) {
    const int factor = std::max(1, std::max(picture.width, picture.height) / std::max(1, longest_side));
    if (factor == 1) return picture;
    photo::LinearImage out{std::max(1, picture.width / factor), std::max(1, picture.height / factor), {}};
    out.pixels.resize(3 * static_cast<std::size_t>(out.width) * static_cast<std::size_t>(out.height));
    const int across = std::min(factor, picture.width), down = std::min(factor, picture.height);
    const float share = 1.0F / static_cast<float>(across * down);
    for (int y = 0; y < out.height; ++y)
        for (int x = 0; x < out.width; ++x)
            for (int i = 0; i < down; ++i)
                for (int j = 0; j < across; ++j)
                    for (std::size_t c = 0; c < 3; ++c)
                        out.pixels[(static_cast<std::size_t>(y) * static_cast<std::size_t>(out.width) +
                                    static_cast<std::size_t>(x)) *
                                       3 +
                                   c] += share * picture.pixels[(static_cast<std::size_t>(y * factor + i) *
                                                                     static_cast<std::size_t>(picture.width) +
                                                                 static_cast<std::size_t>(x * factor + j)) *
                                                                    3 +
                                                                c];
    return out;
}

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
    photo::Reading reading = photo::read(bytes, path.string(), closer ? drawing_detail : measuring_detail,
                                         {.pixels = common.most_pixels});
    if (!holds) out.colour = swatch::measure(reading, hash, fabric.photo_width);
    out.changed = !holds && fabric.colour && !fabric.colour->photo_hash.empty();
    if (drawn_for) {
        const double shape = static_cast<double>(reading.picture.height) / reading.picture.width;
        out.cloth.picture =
            thinned(std::move(reading.picture), render::detail_needed(*drawn_for, fabric.photo_width, shape,
                                                                      {.longest_side = common.picture_side}));
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
