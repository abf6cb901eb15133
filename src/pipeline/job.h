#pragma once
/// A plan with all it needs read and measured: the state between the steps of one request.

#include <filesystem>
#include <optional>

#include "layout/brief.h"
#include "pipeline/fabrics.h"
#include "pipeline/pipeline.h"

namespace motley::pipeline {

struct Job {
    layout::Plan plan;
    std::uint64_t seed = 1;
    palette::Palette palette; ///< Every fabric with its colour.
    Measured measured;
    layout::Brief brief;
};

/// Reads the plan, its palette and the photos; keeps the cloth when pictures are to be drawn.
Job read_job(const std::filesystem::path& plan, std::optional<std::uint64_t> seed, bool pictures,
             const Common& common);

/// Fault (Cause::input): a fabric that the setting, the binding or the backing names is not in the palette.
void check_setting(const layout::Plan& plan, const palette::Palette& palette);

/// The picture a plan aims at, seen from the plan's file, averaged over the cells and stretched: its darkest
/// and lightest fiftieth become dark and light. Empty with any other aim.
layout::AimPicture aim_picture(const layout::Plan& plan, const Common& common);

/// Searches, and leaves the bounds out; Fault (Cause::unmet) when it is proved that no layout will do, or
/// none was found.
Placed place_job(const Job& job, const PlaceRequest& request);

/// What each layout's `spread` cannot be under; empty where it is not wished, or none is known.
std::vector<std::optional<double>> spread_bounds(const layout::Brief& brief,
                                                 const std::vector<layout::Layout>& layouts);

struct Pictures {
    std::vector<document::Output> files; ///< PNG.
    photo::Raster preview;
};

/// The pictures of `layouts.front()`, and the sheet when there are several, to be written.
Pictures draw_pictures(const std::vector<layout::Layout>& layouts, const std::vector<render::Cloth>& cloths,
                       const Common& common);

} // namespace motley::pipeline
