#include <fmt/format.h>

#include <algorithm>

#include "document/document.h"
#include "photo/photo.h"
#include "pipeline/handout.h"
#include "pipeline/job.h"
#include "pipeline/pipeline.h"
#include "render/render.h"

namespace motley::pipeline {

namespace fs = std::filesystem;

Pictures draw_pictures(const std::vector<layout::Layout>& layouts, const std::vector<render::Cloth>& cloths,
                       const Common& common) {
    render::Options options;
    options.threads = threads_of(common);
    options.longest_side = common.picture_side;
    const layout::Layout& best = layouts.front();
    const double scale = render::pixels_per_inch(best, options);
    if (common.progress) common.progress("drawing", 0.2);
    photo::Raster preview = render::draw_preview(best, cloths, options);
    if (common.progress) common.progress("drawing", 0.6);
    // The preview takes longest to write: meanwhile the others are drawn, each on one thread.
    render::Options alone = options;
    alone.threads = 1;
    using Drawing = std::pair<std::string, std::function<std::vector<std::byte>()>>;
    std::vector<Drawing> drawings{
        {"preview.png", [&] { return photo::encode_png(preview, scale); }},
        {"squint.png", [&] { return photo::encode_png(render::draw_squint(best, cloths, alone)); }},
        {"values.png", [&] { return photo::encode_png(render::draw_values(best, alone)); }},
        {"flat.png", [&] { return photo::encode_png(render::draw_flat(best, alone)); }},
    };
    if (layouts.size() > 1)
        drawings.push_back({"candidates.png", [&] {
                                return photo::encode_png(render::draw_candidates(layouts, cloths, alone));
                            }});
    std::vector<document::Output> files(drawings.size());
    in_parallel(static_cast<int>(drawings.size()), options.threads, [&](int k) {
        const auto& [name, draw] = drawings[static_cast<std::size_t>(k)];
        files[static_cast<std::size_t>(k)] = {name, draw()};
    });
    return {std::move(files), std::move(preview)};
}

namespace {

std::vector<std::string> names_of(const std::vector<document::Output>& files) {
    std::vector<std::string> names;
    for (const document::Output& file : files) names.push_back(file.name);
    return names;
}

document::Output text_file(const std::string& name, const std::string& text) {
    return {name, document::bytes_of(text)};
}

/// The folder of photos for a stored layout: the plan's `palette`, seen from the layout's folder and each
/// folder above it, then from here.
fs::path find_palette(const fs::path& layout_file, const std::string& palette) {
    std::error_code ignored;
    const fs::path start = fs::absolute(layout_file, ignored).parent_path();
    std::vector<fs::path> places;
    for (fs::path at = start; !at.empty(); at = at.parent_path()) {
        places.push_back(at);
        if (at == at.root_path()) break;
    }
    places.push_back(fs::current_path(ignored));
    for (const fs::path& place : places)
        for (const fs::path& path : {place / palette, place / "palettes" / palette})
            if (fs::exists(path, ignored)) return path;
    return {};
}

} // namespace

Made make(const PlaceRequest& request, fs::path folder) {
    if (folder.empty()) folder = fs::path("renders") / request.plan.stem();
    Made made;
    const Job job = read_job(request.plan, request.seed, true, request.common);
    made.placed = place_job(job, request);
    std::vector<layout::Layout>& layouts = made.placed.layouts;
    std::vector<document::Output> files;
    Pictures pictures;
    std::vector<std::optional<double>> bounds;
    in_parallel(2, threads_of(request.common), [&](int k) {
        if (k == 0)
            pictures = draw_pictures(layouts, job.measured.cloths, request.common);
        else {
            bounds = spread_bounds(job.brief, layouts);
            made.lists = lists_of(layouts.front());
        }
    });
    for (std::size_t i = 0; i < bounds.size(); ++i) layouts[i].score.spread_bound = bounds[i];
    for (std::size_t i = 0; i < layouts.size(); ++i)
        files.push_back(text_file(i == 0 ? "layout.json" : fmt::format("layout-{}.json", i + 1),
                                  document::print(layout::write_layout(layouts[i]))));
    for (document::Output& picture : pictures.files) files.push_back(std::move(picture));
    for (document::Output& list : list_files(layouts.front(), *made.lists)) files.push_back(std::move(list));
    if (request.common.progress) request.common.progress("handout", 0);
    files.push_back({"handout.pdf", handout_of(layouts.front(), *made.lists, pictures.preview)});
    document::write_files(folder, files);
    made.folder = folder;
    made.files = names_of(files);
    std::vector<std::string> old;
    for (std::size_t i = layouts.size() + 1; fs::exists(folder / fmt::format("layout-{}.json", i)); ++i)
        old.push_back(fmt::format("layout-{}.json", i));
    if (layouts.size() == 1 && fs::exists(folder / "candidates.png")) old.push_back("candidates.png");
    if (!old.empty())
        made.placed.remarks.push_back(
            fmt::format("left in {} by an earlier run: {}", folder.string(), fmt::join(old, ", ")));
    return made;
}

namespace {

layout::Layout read_layout_file(const fs::path& path) {
    const document::Json json = document::parse(document::read_text(path), path.string());
    return layout::read_layout(document::Node(json, path.string()));
}

} // namespace

Made draw(const DrawRequest& request) {
    Made made;
    made.placed.layouts.push_back(read_layout_file(request.layout));
    const layout::Layout& top = made.placed.layouts.front();
    palette::Palette palette;
    palette.fabrics = top.fabrics;
    palette.folder =
        request.palette.empty() ? find_palette(request.layout, top.plan.palette) : request.palette;
    if (fs::is_regular_file(palette.folder)) palette.folder = palette.folder.parent_path();
    std::error_code ignored;
    // The layout's own colours are what was placed; a photo that has gone missing is drawn as a solid of that
    // colour.
    std::vector<std::string> missing;
    for (palette::Fabric& fabric : palette.fabrics)
        if (!fabric.photo.empty() &&
            (palette.folder.empty() || !fs::exists(palette.folder / fabric.photo, ignored))) {
            missing.push_back(fabric.id);
            fabric.photo.clear();
        }
    const Measured measured = measure_fabrics(palette, &top.plan, request.common);
    if (!missing.empty())
        made.placed.remarks.push_back(fmt::format(
            "{} of {} photos were not found{}; those fabrics are drawn as solids (say where they are with "
            "--palette FOLDER)",
            missing.size(), palette.fabrics.size(),
            missing.size() <= 5 ? fmt::format(" ({})", fmt::join(missing, ", ")) : ""));
    const std::vector<document::Output> files =
        draw_pictures(made.placed.layouts, measured.cloths, request.common).files;
    made.folder = request.folder.empty() ? request.layout.parent_path() : request.folder;
    if (made.folder.empty()) made.folder = ".";
    document::write_files(made.folder, files);
    made.files = names_of(files);
    return made;
}

Counted count(const fs::path& layout, const fs::path& folder) {
    Counted counted;
    counted.layout = read_layout_file(layout);
    counted.lists = lists_of(counted.layout);
    if (folder.empty()) return counted;
    std::vector<document::Output> files = list_files(counted.layout, counted.lists);
    // Without the photos: the fabrics' colours stand for them on the cover.
    files.push_back(
        {"handout.pdf", handout_of(counted.layout, counted.lists, render::draw_flat(counted.layout))});
    document::write_files(folder, files);
    counted.files = names_of(files);
    return counted;
}

} // namespace motley::pipeline
