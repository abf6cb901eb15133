#include "mend/mend.h"

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "cutting/stock.h"
#include "document/document.h"
#include "layout/complaints.h"
#include "mend/in_the_way.h"
#include "pipeline/job.h"
#include "pipeline/mend_refusal.h"
#include "pipeline/pipeline.h"
#include "placement/bound.h"

namespace motley::pipeline {

namespace fs = std::filesystem;

namespace {

using document::in_quotes;
using document::Json;

/// A stored layout being mended: the state between the steps of one request.
class Bench {
public:
    explicit Bench(const MendRequest& request) : request_(request) {
        const std::string file = request.layout.string();
        const Json json = document::parse(document::read_text(request.layout), file);
        top_ = layout::read_layout(document::Node(json, file));
        if (!top_.assignment.units.empty())
            throw Fault(
                Cause::unmet, file,
                "these units are sewn in batches: what one of them shows is settled when its batch is "
                "sewn, so a layout of them is not mended unit by unit",
                "change the counts in the plan and lay it anew with motley make");
        if (top_.plan.setting.symmetry != layout::Symmetry::none)
            throw Fault(
                Cause::unmet, file, "a symmetric layout is not mended unit by unit: the images would differ",
                "change the counts in the plan and lay it anew, or take \"symmetry\" out of its plan");
        patches_ = top_.assignment.patches.size() / top_.assignment.turns.size();
        missing_.assign(top_.fabrics.size(), 0);
    }

    Mended run() {
        find_aim();
        take_shortages();
        asked_ = brief_of(top_.plan);
        check_sewn_against_pins();
        check_held();
        const layout::Brief brief = shortages() > 0 ? brief_without_missing() : asked_;
        const mend::Worn worn{top_.assignment, liked(brief)};
        const mend::Mended mended = mend::mend(mend::held(brief, top_.assignment, top_.sewn), worn, effort());
        if (mended.ending != mend::Mended::Ending::every_rule_met)
            refuse_mending(request_.layout.string(), top_, brief, worn, mended, effort());
        return told(mended);
    }

private:
    int uses(std::size_t f) const {
        return static_cast<int>(std::count(top_.assignment.patches.begin(), top_.assignment.patches.end(),
                                           palette::FabricId{static_cast<std::uint16_t>(f)}));
    }
    int shortages() const {
        int sum = 0;
        for (const int missing : missing_) sum += missing;
        return sum;
    }
    const std::string& name(std::size_t f) const { return top_.fabrics[f].name; }

    void find_aim();
    void take_shortages();
    std::size_t find_fabric(const std::string& word) const;
    void check_sewn_against_pins() const;
    void check_held() const;
    bool is_even(std::size_t f) const;
    layout::Brief brief_of(const layout::Plan& plan) const;
    layout::Brief brief_without_missing() const;
    std::vector<layout::Range> liked(const layout::Brief& brief) const;
    mend::Effort effort() const;
    Mended told(const mend::Mended& mended);
    void record_counts();
    layout::Plan plan_with(const Json& counts) const;
    std::set<std::size_t> out_of_range(const Json& counts) const;

    const MendRequest& request_;
    layout::Layout top_;
    std::size_t patches_ = 1; // Of a unit.
    layout::AimPicture aim_;
    std::vector<int> missing_; // By fabric.
    layout::Brief asked_;      // By the plan as it stands.
};

/// A picture that the plan aims at is looked for from the layout's folder upwards, then from here.
void Bench::find_aim() {
    if (top_.plan.wishes.aim != layout::Aim::picture) return;
    std::error_code ignored;
    layout::Plan plan = top_.plan;
    for (fs::path at = fs::absolute(request_.layout, ignored).parent_path();; at = at.parent_path()) {
        if (fs::exists(at / plan.wishes.picture, ignored)) plan.file = (at / "plan.json").string();
        if (!plan.file.empty() || at == at.root_path()) break;
    }
    if (plan.file.empty() && !fs::exists(plan.wishes.picture, ignored))
        throw Fault(Cause::input, top_.plan.where("/wishes/value_aim/picture"),
                    fmt::format("the picture {} is not found from the layout's folder",
                                in_quotes(plan.wishes.picture)),
                    "put it beside the layout, or write where it is");
    aim_ = aim_picture(plan, request_.common);
}

std::size_t Bench::find_fabric(const std::string& word) const {
    std::vector<std::string> ids;
    for (const palette::Fabric& fabric : top_.fabrics) ids.push_back(fabric.id);
    const auto found = std::find(ids.begin(), ids.end(), word);
    if (found != ids.end()) return static_cast<std::size_t>(found - ids.begin());
    std::vector<std::size_t> called;
    for (std::size_t f = 0; f < ids.size(); ++f)
        if (name(f) == word) called.push_back(f);
    if (called.size() == 1) return called.front();
    throw Fault(Cause::input, "--short",
                called.empty() ? fmt::format("the layout has no fabric {}", in_quotes(word))
                               : fmt::format("{} fabrics are called {}", called.size(), in_quotes(word)),
                called.empty() ? layout::suggestion(word, ids, "the ids are under \"palette\" in the layout")
                               : "give its id");
}

void Bench::take_shortages() {
    layout::Complaints complaints;
    for (const Shortage& shortage : request_.shortages)
        complaints.attempt([&] {
            expects(shortage.patches >= 1);
            const std::size_t f = find_fabric(shortage.fabric);
            if (missing_[f] > 0)
                complaints.add("--short", fmt::format("{} is named twice", in_quotes(shortage.fabric)),
                               "say once how many are missing");
            missing_[f] = shortage.patches;
            if (shortage.patches > uses(f))
                complaints.add("--short",
                               fmt::format("{} patches of {} are said to be missing, the layout uses {}",
                                           shortage.patches, name(f), uses(f)),
                               fmt::format("give a number from 1 to {}", std::max(1, uses(f))));
        });
    complaints.raise();
}

void Bench::check_sewn_against_pins() const {
    layout::Complaints complaints;
    for (std::size_t i = 0; i < top_.plan.pins.size(); ++i) {
        const layout::Pin& pin = top_.plan.pins[i];
        const int cell = top_.plan.board().cell(pin.row, pin.column);
        if (!top_.sewn[static_cast<std::size_t>(cell)]) continue;
        const auto complain = [&](const std::string& sewn, const std::string& pinned) {
            complaints.add(top_.plan.where(fmt::format("/pins/{}", i)),
                           fmt::format("the unit at {} is sewn with {}, the pin says {}",
                                       row_and_column(top_.plan, cell), sewn, pinned),
                           "change the pin, or take \"sewn\" off the cell");
        };
        for (std::size_t p = 0; p < pin.fabrics.size(); ++p) {
            const palette::FabricId shown =
                top_.assignment.patches[static_cast<std::size_t>(cell) * patches_ + p];
            if (const std::string& id = top_.fabrics[palette::index(shown)].id;
                pin.fabrics[p] && *pin.fabrics[p] != id)
                complain(in_quotes(id), in_quotes(*pin.fabrics[p]));
        }
        if (const int turn = top_.assignment.turns[static_cast<std::size_t>(cell)];
            pin.turn && *pin.turn != turn)
            complain(fmt::format("turn {}", turn), fmt::format("turn {}", *pin.turn));
    }
    complaints.raise();
}

/// Sewn and pinned patches of a fabric that alone are more than what is left of it, or than its count.
void Bench::check_held() const {
    std::vector<Problem> problems;
    for (std::size_t f = 0; f < top_.fabrics.size(); ++f) {
        int sewn = 0, pinned = 0;
        std::vector<int> cells;
        for (std::size_t p = 0; p < top_.assignment.patches.size(); ++p)
            if (top_.sewn[p / patches_] && palette::index(top_.assignment.patches[p]) == f) {
                ++sewn;
                cells.push_back(static_cast<int>(p / patches_));
            } else if (!top_.sewn[p / patches_])
                pinned += asked_.pinned[p] != layout::no_fabric && palette::index(asked_.pinned[p]) == f;
        const int left = missing_[f] > 0                 ? uses(f) - missing_[f]
                         : is_even(f) && shortages() > 0 ? sewn + pinned
                                                         : asked_.counts[f].most;
        if (sewn + pinned <= left) continue;
        std::vector<std::string> held;
        if (sewn > 0)
            held.push_back(fmt::format("{} sewn ({})",
                                       sewn == 1 ? "1 patch is" : fmt::format("{} patches are", sewn),
                                       rows_and_columns(top_.plan, cells)));
        if (pinned > 0)
            held.push_back(pinned == 1 ? "1 patch is pinned" : fmt::format("{} patches are pinned", pinned));
        problems.push_back(
            {request_.layout.string(),
             missing_[f] > 0 ? fmt::format("only {} of {} {} left, but {}", left, name(f),
                                           left == 1 ? "is" : "are", fmt::join(held, " and "))
                             : fmt::format("the plan asks for at most {} of {}, but {}", left, name(f),
                                           fmt::join(held, " and ")),
             fmt::format("unpick or unpin {}, or find {} more", sewn + pinned - left, sewn + pinned - left)});
    }
    if (!problems.empty()) throw Fault(Cause::unmet, std::move(problems));
}

/// Whether the plan's count of the fabric is "even".
bool Bench::is_even(std::size_t f) const {
    layout::Count::Kind kind = layout::Count::Kind::even;
    bool named = false;
    for (const auto& [key, count] : top_.plan.counts) {
        if (key != top_.fabrics[f].id && (key != "*" || named)) continue;
        kind = count.kind;
        named = key != "*";
    }
    return kind == layout::Count::Kind::even;
}

layout::Brief Bench::brief_of(const layout::Plan& plan) const {
    return layout::make_brief(plan, top_.fabrics, cutting::stock_yields(top_.fabrics, plan), aim_);
}

/// What is left of the fabrics that are short; "even" gives way as far as need be, all other counts stand.
layout::Brief Bench::brief_without_missing() const {
    layout::Plan plan = top_.plan;
    const auto set = [&](std::size_t f, int most) {
        std::erase_if(plan.counts, [&](const auto& entry) { return entry.first == top_.fabrics[f].id; });
        plan.counts.emplace_back(top_.fabrics[f].id, layout::Count{layout::Count::Kind::between, 0, most});
    };
    for (std::size_t f = 0; f < top_.fabrics.size(); ++f)
        if (missing_[f] > 0)
            set(f, uses(f) - missing_[f]);
        else if (is_even(f) && asked_.counts[f].most > 0)
            set(f, static_cast<int>(top_.assignment.patches.size()));
    try {
        return brief_of(plan);
    } catch (const Fault& fault) {
        if (fault.cause() != Cause::input) throw;
        std::vector<Problem> problems = fault.problems();
        for (Problem& problem : problems) {
            problem.what = "impossible with what is left: " + problem.what;
            problem.remedy =
                "let the count of another fabric in the layout's plan be \"even\" or {\"at_least\": ...}, so "
                "that it can stand in";
        }
        throw Fault(Cause::unmet, std::move(problems));
    }
}

/// After a shortage: exactly what is left of the fabric; of an "even" one no less than its share, and no more
/// than its stock gives.
std::vector<layout::Range> Bench::liked(const layout::Brief& brief) const {
    if (shortages() == 0) return {};
    std::vector<layout::Range> liked = brief.counts;
    const std::vector<int> yields = cutting::stock_yields(top_.fabrics, top_.plan);
    for (std::size_t f = 0; f < liked.size(); ++f)
        if (missing_[f] > 0)
            liked[f] = {uses(f) - missing_[f], uses(f) - missing_[f]};
        else if (is_even(f))
            liked[f] = {asked_.counts[f].least,
                        top_.fabrics[f].stock.empty()
                            ? asked_.counts[f].most + shortages()
                            : std::min(asked_.counts[f].most + shortages(), std::max(uses(f), yields[f]))};
    return liked;
}

mend::Effort Bench::effort() const {
    mend::Effort effort;
    effort.seed = top_.seed;
    effort.stop = request_.common.stop;
    if (const auto& tell = request_.common.progress)
        effort.progress = [&tell](double share) { tell("mending", share); };
    return effort;
}

Mended Bench::told(const mend::Mended& mended) {
    Mended out;
    out.at_least = mended.at_least;
    const layout::Board board = top_.plan.board();
    for (const int cell : mended.changed) {
        const auto units = [&](const layout::Assignment& top) {
            const auto first =
                top.patches.begin() + static_cast<std::ptrdiff_t>(static_cast<std::size_t>(cell) * patches_);
            return std::vector<palette::FabricId>(first, first + static_cast<std::ptrdiff_t>(patches_));
        };
        out.changes.push_back({board.row(cell), board.column(cell), units(top_.assignment),
                               units(mended.assignment),
                               top_.assignment.turns[static_cast<std::size_t>(cell)],
                               mended.assignment.turns[static_cast<std::size_t>(cell)]});
    }
    top_.assignment = mended.assignment;
    if (shortages() > 0) record_counts();
    top_.version = version();
    std::fill(top_.pinned.begin(), top_.pinned.end(), 0);
    for (const layout::Pin& pin : top_.plan.pins)
        top_.pinned[static_cast<std::size_t>(top_.plan.board().cell(pin.row, pin.column))] = 1;
    const layout::Brief brief = brief_of(top_.plan);
    top_.score = layout::judge(mend::held(brief, top_.assignment, top_.sewn), top_.assignment);
    if (brief.wishes.spread > 0) top_.score.spread_bound = placement::spread_bound(brief, top_.assignment);
    out.layout = std::move(top_);
    return out;
}

/// The plan with these counts, read as it will be read from the layout.
layout::Plan Bench::plan_with(const Json& counts) const {
    Json json = top_.plan.json;
    json["counts"] = counts;
    return layout::read_plan(document::Node(json, request_.layout.string(), "/plan"));
}

/// Fabrics used more or less often than such counts allow; all of them when the counts cannot be met at all.
std::set<std::size_t> Bench::out_of_range(const Json& counts) const {
    std::set<std::size_t> found;
    try {
        const layout::Brief brief = brief_of(plan_with(counts));
        for (std::size_t f = 0; f < top_.fabrics.size(); ++f) {
            std::vector<int> in_place(patches_);
            for (std::size_t p = 0; p < top_.assignment.patches.size(); ++p)
                in_place[p % patches_] += palette::index(top_.assignment.patches[p]) == f;
            const auto outside = [](const layout::Range& range, int uses) {
                return uses < range.least || uses > range.most;
            };
            bool out = outside(brief.counts[f], uses(f));
            for (std::size_t place = 0; place < patches_; ++place)
                out = out || outside(brief.role_counts[place][f], in_place[place]);
            if (out) found.insert(f);
        }
    } catch (const Fault&) {
        for (std::size_t f = 0; f < top_.fabrics.size(); ++f) found.insert(f);
    }
    return found;
}

/// The plan asks for what is left; fabrics that cannot be even any more get the range from their share to
/// their use.
void Bench::record_counts() {
    Json counts = top_.plan.json.contains("counts") ? top_.plan.json["counts"] : Json::object();
    std::set<std::size_t> even;
    for (std::size_t f = 0; f < top_.fabrics.size(); ++f)
        if (missing_[f] > 0)
            counts[top_.fabrics[f].id] = uses(f);
        else if (is_even(f) && asked_.counts[f].most > 0)
            even.insert(f);
    for (std::set<std::size_t> out = out_of_range(counts); !out.empty() && !even.empty();
         out = out_of_range(counts)) {
        bool any = false;
        for (const std::size_t f : out) {
            if (even.erase(f) == 0) continue;
            any = true;
            counts[top_.fabrics[f].id] = {{"at_least", std::min(uses(f), asked_.counts[f].least)},
                                          {"at_most", std::max(uses(f), asked_.counts[f].most)}};
        }
        if (any) continue;
        for (const std::size_t f : even) counts[top_.fabrics[f].id] = uses(f);
        even.clear();
    }
    top_.plan = plan_with(counts);
    top_.plan.file.clear();
}

} // namespace

Mended mend(const MendRequest& request) {
    return Bench(request).run();
}

Mended mend_into(const MendRequest& request, const fs::path& file) {
    Mended mended = mend(request);
    const std::string text = document::print(layout::write_layout(mended.layout));
    document::write_files(file.parent_path().empty() ? fs::path(".") : file.parent_path(),
                          {{file.filename().string(), document::bytes_of(text)}});
    return mended;
}

} // namespace motley::pipeline
