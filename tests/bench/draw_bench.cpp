/// Drawing a top, against what its picture costs at least: writing the file.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <stdexcept>
#include <string>
#include <vector>

#include "bench.h"
#include "layout/layout.h"
#include "painter/demo.h"
#include "photo/photo.h"
#include "render/cloth.h"
#include "render/crew.h"
#include "render/render.h"
#include "render/tone.h"
#include "unit/sewn.h"

namespace motley::bench {

namespace {

using Clock = std::chrono::steady_clock;

template <class Step>
double seconds(const Step& step) {
    const auto began = Clock::now();
    step();
    return std::chrono::duration<double>(Clock::now() - began).count();
}

double median(std::vector<double> figures) {
    std::sort(figures.begin(), figures.end());
    return figures[figures.size() / 2];
}

/// Photos of invented fabrics as they come from reading: 5 in of each, `width` pixels across.
std::vector<render::Cloth> cloths(long seed, int count, int width) {
    std::vector<render::Cloth> made;
    for (const painter::Design& design : painter::invented_designs(static_cast<std::uint64_t>(seed), count))
        made.push_back(
            {painter::paint(design, width, width / 5.0, width * 3 / 4).picture, measure::Length::inches(5)});
    return made;
}

/// A straight top, its units' fabrics, forms and turns by turns.
layout::Layout top(int columns, int rows, const std::string& recipe,
                   const std::vector<render::Cloth>& cloths) {
    layout::Layout top;
    top.plan.columns = top.plan.setting.columns = columns;
    top.plan.rows = top.plan.setting.rows = rows;
    top.plan.recipe = recipe;
    top.plan.finished = measure::Length::inches(6);
    const unit::Recipe* found = unit::find_recipe(recipe);
    if (!found) throw std::invalid_argument("there is no recipe " + recipe);
    top.plan.sewn = unit::sew(*found, {});
    for (std::size_t f = 0; f < cloths.size(); ++f) {
        palette::Fabric fabric;
        fabric.id = fmt::format("cloth-{}", f);
        const colour::LinearRgb light = render::mean(cloths[f].picture);
        fabric.colour.emplace();
        fabric.colour->srgb = colour::srgb(light);
        fabric.colour->lab = colour::lab(light);
        top.fabrics.push_back(fabric);
    }
    std::size_t places = 0;
    for (const unit::Form& form : top.plan.forms()) places = std::max(places, form.patches.size());
    const auto cells = static_cast<std::size_t>(columns) * static_cast<std::size_t>(rows);
    for (std::size_t cell = 0; cell < cells; ++cell) {
        const std::size_t form = cell % top.plan.forms().size();
        top.assignment.forms.push_back(static_cast<std::uint8_t>(form));
        top.assignment.turns.push_back(cell / top.plan.forms().size() % 4);
        for (std::size_t p = 0; p < places; ++p) {
            const auto& patches = top.plan.forms()[form].patches;
            const std::size_t input = p < patches.size() ? static_cast<std::size_t>(patches[p].input) : 0;
            const std::size_t fabric = (cell * 7 + input * 5) % cloths.size();
            top.assignment.patches.push_back(static_cast<palette::FabricId>(fabric));
        }
    }
    return top;
}

/// What any drawing from linear light must do: read a pixel, round it to a byte of sRGB, write it.
double seconds_to_copy(const photo::LinearImage& cloth, photo::Raster& picture, int threads) {
    const std::size_t row = static_cast<std::size_t>(picture.width) * 3;
    return seconds([&] {
        render::share_out(threads, picture.height, [&](int y) {
            std::uint8_t* out = &picture.pixels[static_cast<std::size_t>(y) * row];
            const std::size_t from = static_cast<std::size_t>(y) * row;
            for (std::size_t i = 0; i < row; ++i)
                out[i] = render::tones().code(cloth.pixels[(from + i) % cloth.pixels.size()]);
        });
    });
}

} // namespace

std::string draw(const Options& options) {
    const int columns = static_cast<int>(integer(options, "columns", 20, 1, 200));
    const int rows = static_cast<int>(integer(options, "rows", 24, 1, 200));
    const int side = static_cast<int>(integer(options, "side", 4000, 64, 20'000));
    const int threads = static_cast<int>(integer(options, "threads", 2, 1, 64));
    const int rounds = static_cast<int>(integer(options, "rounds", 5, 1, 100));
    const std::string recipe = options.contains("recipe") ? options.at("recipe") : "strip-set-triangle";
    const int fabrics = static_cast<int>(integer(options, "fabrics", 30, 1, 200));
    const std::vector<render::Cloth> photographed =
        cloths(integer(options, "seed", 1, 0, 1'000'000), fabrics, 1024);
    const layout::Layout drawn = top(columns, rows, recipe, photographed);
    const render::Options how{.longest_side = side, .threads = threads};
    std::vector<double> ours, floor, flat, ratios;
    photo::Raster picture;
    for (int round = 0; round < rounds; ++round) {
        ours.push_back(seconds([&] { picture = render::draw_preview(drawn, photographed, how); }));
        flat.push_back(seconds([&] { render::draw_flat(drawn, how); }));
        floor.push_back(seconds_to_copy(photographed.front().picture, picture, threads));
        ratios.push_back(ours.back() / floor.back());
    }
    return fmt::format(
        R"({{"name": "draw", "recipe": "{}", "columns": {}, "rows": {}, "megapixels": {:.1f}, "threads": {}, )"
        R"("seconds": {:.3f}, "flat_seconds": {:.3f}, "copying_seconds": {:.3f}, "ratio": {:.3f}}})",
        recipe, columns, rows, picture.width * static_cast<double>(picture.height) / 1e6, threads,
        median(ours), median(flat), median(floor), median(ratios));
}

} // namespace motley::bench
