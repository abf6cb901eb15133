#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <string_view>

#include "cutting/stock.h"
#include "document/document.h"
#include "layout/complaints.h"
#include "layout/extras.h"
#include "layout/top.h"
#include "photo/photo.h"
#include "pipeline/fabrics.h"
#include "pipeline/job.h"
#include "pipeline/pipeline.h"
#include "placement/bound.h"
#include "placement/extras.h"

#ifndef MOTLEY_VERSION
#error "the version comes from CMakeLists.txt"
#endif

namespace motley::pipeline {

namespace fs = std::filesystem;

std::string version() {
    return MOTLEY_VERSION;
}

layout::AimPicture aim_picture(const layout::Plan& plan, const Common& common) {
    if (plan.wishes.aim != layout::Aim::picture) return {};
    const fs::path path = fs::path(plan.file).parent_path() / plan.wishes.picture;
    if (!fs::is_regular_file(path))
        throw Fault(Cause::input, plan.where("/wishes/value_aim/picture"),
                    fmt::format("there is no picture at {}", path.string()),
                    "name a picture file, seen from the plan's own folder");
    const std::vector<std::byte> bytes = document::read_file(path);
    const photo::LinearImage picture =
        photo::read(bytes, path.string(), 2048, {.pixels = common.most_pixels}).picture;
    // A unit aims at the mean of the upright square around its middle, of the part inside the borders.
    const layout::Board board = plan.board();
    const std::vector<unit::Point> middles = layout::middles_of(plan);
    layout::Extent whole = layout::extent_of(plan);
    for (const layout::Border& border : plan.setting.borders) {
        whole.width -= 2 * border.width.in_inches();
        whole.height -= 2 * border.level_width().in_inches();
    }
    const double half = plan.finished.in_inches() / 2;
    const auto range = [](double from, double to, double whole_length, int pixels) {
        const auto at = [&](double inches) {
            return std::clamp(static_cast<int>(inches / whole_length * pixels + 1e-6), 0, pixels);
        };
        const int first = std::min(at(from), pixels - 1);
        return std::pair{first, std::max(first + 1, at(to))};
    };
    layout::AimPicture aim;
    for (int cell = 0; cell < board.cells(); ++cell) {
        if (!board.present(cell)) {
            aim.light.push_back(0);
            continue;
        }
        const unit::Point middle = middles[static_cast<std::size_t>(cell)];
        const auto [top, bottom] = range(middle.y - half, middle.y + half, whole.height, picture.height);
        const auto [left, right] = range(middle.x - half, middle.x + half, whole.width, picture.width);
        double light[3] = {};
        for (int y = top; y < bottom; ++y)
            for (int x = left; x < right; ++x)
                for (int k = 0; k < 3; ++k)
                    light[k] += static_cast<double>(
                        picture.pixels[static_cast<std::size_t>((y * picture.width + x) * 3 + k)]);
        const double area = static_cast<double>(bottom - top) * (right - left);
        aim.light.push_back(colour::lightness({light[0] / area, light[1] / area, light[2] / area}) / 100);
    }
    std::vector<double> sorted;
    for (int cell = 0; cell < board.cells(); ++cell)
        if (board.present(cell)) sorted.push_back(aim.light[static_cast<std::size_t>(cell)]);
    std::sort(sorted.begin(), sorted.end());
    const double low = sorted[sorted.size() / 50], high = sorted[sorted.size() - 1 - sorted.size() / 50];
    for (double& light : aim.light)
        light = high > low ? std::clamp((light - low) / (high - low), 0.0, 1.0) : 0.5;
    return aim;
}

namespace {

std::vector<Problem> placed_in_file(std::vector<Problem> problems, const std::string& file) {
    for (Problem& problem : problems)
        if (problem.where.empty()) problem.where = file;
    return problems;
}

void refuse_unmet(const layout::Plan& plan, const std::vector<std::string>& broken, bool proved) {
    constexpr std::string_view none =
        "none found: no layout that keeps every rule came up, though nothing proves that there is none";
    constexpr std::string_view never =
        "impossible: the search proved that with these fabrics and pins no layout keeps every rule";
    constexpr std::string_view loosen =
        "add fabrics, take pins away, loosen a rule, or, where it is a border, give it other or more fabrics "
        "or list its fabric under \"rules\", \"exempt\"";
    std::vector<Problem> problems{
        {plan.file, std::string(proved ? never : none),
         fmt::format("{}{}", proved ? "" : "try another --seed or more --seconds, ", loosen)}};
    constexpr std::size_t most = 6;
    for (std::size_t i = 0; i < std::min(most, broken.size()); ++i)
        problems.push_back({"", "  the nearest has " + broken[i], ""});
    if (broken.size() > most)
        problems.push_back({"", fmt::format("  and {} more like these", broken.size() - most), ""});
    throw Fault(Cause::unmet, std::move(problems));
}

/// "stock" for a fabric that lists none counts as nothing: better said than found out.
void remark_on_counts(const Job& job, std::vector<std::string>& remarks) {
    std::vector<std::string> without;
    for (const palette::Fabric& fabric : job.palette.fabrics) {
        const layout::Count* said = nullptr;
        for (const auto& [id, count] : job.plan.counts)
            if (id == fabric.id || (id == "*" && !said)) said = &count;
        if (said && said->kind == layout::Count::Kind::stock && fabric.stock.empty())
            without.push_back(fabric.id);
    }
    if (!without.empty())
        remarks.push_back(
            fmt::format("counted by their stock, but none is listed in palette.json, so not used: {}",
                        fmt::join(without, ", ")));
}

/// A suggestion binds nobody; it is dropped for good once the user has said yes or no.
void remark_on_one_way(const Job& job, std::vector<std::string>& remarks) {
    std::vector<std::string> looking;
    for (const palette::Fabric& fabric : job.palette.fabrics)
        if (!fabric.one_way_said && fabric.colour && fabric.colour->print && fabric.colour->print->one_way)
            looking.push_back(fabric.id);
    if (!looking.empty())
        remarks.push_back(fmt::format(
            "these prints look one-way; say \"one_way\": true in palette.json if their pieces must "
            "not be turned, or false if they may: {}",
            fmt::join(looking, ", ")));
}

} // namespace

void check_setting(const layout::Plan& plan, const palette::Palette& palette) {
    std::vector<std::string> ids;
    for (const palette::Fabric& fabric : palette.fabrics) ids.push_back(fabric.id);
    layout::Complaints complaints;
    const auto look = [&](const std::string& pointer, const std::string& id, bool star = false) {
        if (id.empty() || (star && id == "*") || std::find(ids.begin(), ids.end(), id) != ids.end()) return;
        complaints.add(plan.where(pointer),
                       fmt::format("the palette has no fabric {}", document::in_quotes(id)),
                       layout::suggestion(id, ids, "the ids are in the palette"));
    };
    const layout::Setting& setting = plan.setting;
    look("/setting/alternate", setting.alternate);
    look("/setting/edge", setting.edge);
    look("/finish/binding/fabric", plan.making_up.finish.binding.fabric);
    look("/finish/backing/fabric", plan.making_up.finish.backing.fabric);
    if (setting.sashing) {
        look("/setting/sashing/fabric", setting.sashing->fabric);
        for (const std::string& id : setting.sashing->cornerstones)
            look("/setting/sashing/cornerstone", id, true);
    }
    for (std::size_t i = 0; i < setting.borders.size(); ++i) {
        for (const std::string& id : setting.borders[i].fabrics)
            look(fmt::format("/setting/borders/{}/fabric", i), id, setting.borders[i].pieced);
        look(fmt::format("/setting/borders/{}/corner", i), setting.borders[i].corner);
        if (!setting.borders[i].units) continue;
        for (const auto& [role, list] : setting.borders[i].units->roles)
            for (const std::string& id : list)
                look(fmt::format("/setting/borders/{}/pieced/roles/{}", i, layout::pointer_step(role)), id,
                     true);
    }
    complaints.raise();
}

Job read_job(const fs::path& plan_path, std::optional<std::uint64_t> seed, bool pictures,
             const Common& common) {
    Job job;
    const document::Json json = document::parse(document::read_text(plan_path), plan_path.string());
    job.plan = layout::read_plan(document::Node(json, plan_path.string()));
    job.seed = seed.value_or(job.plan.seed);
    const fs::path folder = plan_path.parent_path() / job.plan.palette;
    try {
        job.palette = palette::read_palette(folder);
    } catch (const Fault& fault) {
        if (fs::exists(folder)) throw;
        throw Fault(Cause::input, job.plan.where("/palette"),
                    fmt::format("there is no palette at {}", folder.lexically_normal().string()),
                    "name a folder of photos or a palette.json, seen from the plan's own folder");
    }
    check_setting(job.plan, job.palette);
    job.measured = measure_fabrics(job.palette, pictures ? &job.plan : nullptr, common);
    job.brief = layout::make_brief(job.plan, job.palette.fabrics,
                                   cutting::stock_yields(job.palette.fabrics, job.plan),
                                   aim_picture(job.plan, common));
    refuse_narrow_cloth(job.plan, job.palette.fabrics);
    return job;
}

Placed place_job(const Job& job, const PlaceRequest& request) {
    if (std::vector<Problem> problems = placement::obstacles(job.brief); !problems.empty())
        throw Fault(Cause::unmet, placed_in_file(std::move(problems), job.plan.file));
    placement::Effort effort;
    effort.seed = job.seed;
    effort.threads = threads_of(request.common);
    effort.seconds = request.seconds;
    effort.stop = request.common.stop;
    effort.shown = request.shown;
    if (request.common.progress)
        effort.progress = [&](double share) { request.common.progress("placing", share); };
    const std::vector<placement::Outcome> outcomes =
        request.candidates == 1 ? std::vector{placement::place(job.brief, effort)}
                                : placement::candidates(job.brief, effort, request.candidates);
    if (outcomes.front().ending != placement::Ending::every_rule_met)
        refuse_unmet(job.plan, outcomes.front().broken,
                     outcomes.front().ending == placement::Ending::impossible);
    Placed placed;
    for (const placement::Outcome& outcome : outcomes) {
        layout::Layout top;
        top.plan = job.plan;
        top.seed = job.seed;
        top.version = version();
        top.fabrics = job.palette.fabrics;
        top.assignment = outcome.assignment;
        top.pinned.assign(static_cast<std::size_t>(job.brief.cells()), 0);
        for (const layout::Pin& pin : job.plan.pins)
            top.pinned[static_cast<std::size_t>(job.brief.board.cell(pin.row, pin.column))] = 1;
        top.sewn.assign(static_cast<std::size_t>(job.brief.cells()), 0);
        placement::keep_off_borders(top, job.brief);
        placement::mix_extras(top);
        top.score = layout::judge(job.brief, top.assignment);
        const std::vector<std::string> at_borders = layout::broken_borders(top);
        if (!at_borders.empty() && placed.layouts.empty()) refuse_unmet(job.plan, at_borders, false);
        if (at_borders.empty()) placed.layouts.push_back(std::move(top));
    }
    placed.remarks = job.measured.remarks;
    remark_on_counts(job, placed.remarks);
    remark_on_one_way(job, placed.remarks);
    if (job.plan.rules.contrast > 0 && job.brief.patches_per_unit() == 1)
        placed.remarks.push_back(
            "\"contrast\" compares the fabrics within a unit; a plain square has only one, so it asks "
            "nothing here");
    if (static_cast<int>(placed.layouts.size()) < request.candidates)
        placed.remarks.push_back(fmt::format("{} layouts were asked for, {} that differ visibly were found",
                                             request.candidates, placed.layouts.size()));
    return placed;
}

std::vector<std::optional<double>> spread_bounds(const layout::Brief& brief,
                                                 const std::vector<layout::Layout>& layouts) {
    std::vector<std::optional<double>> bounds(layouts.size());
    if (brief.wishes.spread <= 0) return bounds;
    std::map<std::vector<int>, std::optional<double>> known; // By counts: most candidates have the same.
    for (std::size_t i = 0; i < layouts.size(); ++i) {
        std::vector<int> uses(brief.names.size());
        for (const layout::FabricId f : layouts[i].assignment.patches) ++uses[layout::index(f)];
        const auto [at, fresh] = known.try_emplace(std::move(uses));
        if (fresh) at->second = placement::spread_bound(brief, layouts[i].assignment);
        bounds[i] = at->second;
    }
    return bounds;
}

Placed place(const PlaceRequest& request) {
    const Job job = read_job(request.plan, request.seed, false, request.common);
    Placed placed = place_job(job, request);
    const auto bounds = spread_bounds(job.brief, placed.layouts);
    for (std::size_t i = 0; i < bounds.size(); ++i) placed.layouts[i].score.spread_bound = bounds[i];
    return placed;
}

Placed place_into(const PlaceRequest& request, const fs::path& file) {
    Placed placed = place(request);
    const std::string text = document::print(layout::write_layout(placed.layouts.front()));
    document::write_files(file.parent_path().empty() ? fs::path(".") : file.parent_path(),
                          {{file.filename().string(), document::bytes_of(text)}});
    return placed;
}

std::vector<Problem> check(const fs::path& plan, const Common& common) {
    const Job job = read_job(plan, {}, false, common);
    return placed_in_file(placement::obstacles(job.brief), job.plan.file);
}

} // namespace motley::pipeline
