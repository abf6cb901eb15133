// What a page may ask for. Every action is an object with "do"; each is one step that can be undone, but for
// those that run for a while: they end in one.

#include <fmt/format.h>

#include <algorithm>

#include "mend/in_the_way.h"
#include "pipeline/fabrics.h"
#include "pipeline/handout.h"
#include "pipeline/job.h"
#include "placement/extras.h"
#include "web/session.h"

namespace motley::web {

namespace fs = std::filesystem;
using document::Json;
using document::Node;

namespace {

constexpr const char* asked = "what was asked";

int cell_at(const Node& node) {
    return static_cast<int>(node.integer(0, layout::most_cells * std::int64_t{4}));
}

std::vector<int> cells_at(const Node& node) {
    std::vector<int> cells;
    for (const Node& item : node.items()) cells.push_back(cell_at(item));
    if (cells.empty()) throw Fault(Cause::input, "", "no unit is chosen", "choose one or more on the wall");
    std::sort(cells.begin(), cells.end());
    cells.erase(std::unique(cells.begin(), cells.end()), cells.end());
    return cells;
}

using Handler = Handled (*)(const Wall&, const Node&);

const std::vector<std::pair<std::string, Handler>>& handlers() {
    static const std::vector<std::pair<std::string, Handler>> all{
        {"swap",
         [](const Wall& w, const Node& n) { return swap(w, cell_at(n.at("one")), cell_at(n.at("other"))); }},
        {"turn",
         [](const Wall& w, const Node& n) {
             return turn(w, cells_at(n.at("cells")), static_cast<int>(n.at("quarters").integer(-3, 3)));
         }},
        {"pin",
         [](const Wall& w, const Node& n) { return pin(w, cells_at(n.at("cells")), n.at("on").boolean()); }},
        {"sewn", [](const Wall& w,
                    const Node& n) { return mark_sewn(w, cells_at(n.at("cells")), n.at("on").boolean()); }},
        {"replace",
         [](const Wall& w, const Node& n) {
             return replace_here(w, cell_at(n.at("cell")), static_cast<int>(n.at("patch").integer(0, 1000)),
                                 n.at("fabric").text());
         }},
        {"replace-all",
         [](const Wall& w, const Node& n) {
             return replace_everywhere(w, n.at("from").text(), n.at("to").text());
         }},
        {"follow", [](const Wall& w, const Node&) { return let_counts_follow(w); }},
        {"plan", [](const Wall& w, const Node& n) { return set_plan(w, n.at("set").json()); }},
        {"fabric",
         [](const Wall& w, const Node& n) { return set_fabric(w, n.at("id").text(), n.at("set").json()); }},
        {"drop-fabric", [](const Wall& w, const Node& n) { return drop_fabric(w, n.at("id").text()); }},
    };
    return all;
}

} // namespace

Json Session::act(const Json& action) {
    const Node node(action, asked);
    const std::string what = node.at("do").text();
    std::optional<Task> task;
    {
        const std::lock_guard lock(mutex_);
        task = act_locked(what, action);
    }
    if (task) worker_.start(task->what, std::move(task->work));
    return view();
}

std::optional<Session::Task> Session::act_locked(const std::string& what, const Json& action) {
    const Node node(action, asked);
    for (const auto& [name, handle] : handlers())
        if (name == what) {
            do_step(handle(wall(), node));
            return std::nullopt;
        }
    if (what == "shuffle") return shuffling(action);
    if (what == "mend") return mending(action);
    if (what == "export") return exporting();
    if (what == "stop")
        worker_.stop();
    else if (what == "undo" || what == "redo") {
        ++round_;
        worker_.stop();
        if (what == "undo" ? project_.undo() : project_.redo()) changed();
    } else if (what == "take")
        take_candidate(static_cast<std::size_t>(node.at("number").integer(0, 59)));
    else if (what == "put-away") {
        candidates_.clear();
        changed();
    } else if (what == "keep") {
        project_.keep(node.at("name").text());
        changed();
    } else if (what == "bring-back")
        bring_back(node.at("file").text());
    else if (what == "drop-version") {
        project_.drop(node.at("file").text());
        changed();
    } else
        node.at("do").refuse(fmt::format("nothing is called {} here", document::in_quotes(what)));
    return std::nullopt;
}

void Session::take_candidate(std::size_t number) {
    if (number >= candidates_.size())
        throw Fault(Cause::input, "", "this candidate is not there any more", "look for candidates again");
    const layout::Layout& chosen = candidates_[number];
    State next = project_.state();
    next.plan["seed"] = chosen.seed;
    next.laid = taken_down(chosen);
    do_step({std::move(next), fmt::format("Take candidate {}", number + 1)});
}

void Session::bring_back(const std::string& file) {
    const layout::Layout kept = project_.version(file);
    State next = project_.state();
    next.laid = renumbered(taken_down(kept), kept.fabrics, next.palette.fabrics);
    if (!next.laid)
        throw Fault(Cause::input, file, "this version shows fabrics that are not on the shelf any more",
                    "put their photos on the shelf again");
    const Json palette = next.plan.at("palette");
    next.plan = kept.plan.json;
    next.plan["palette"] = palette;
    do_step({std::move(next), fmt::format("Bring back {}", fs::path(file).stem().string())});
}

pipeline::Common Session::common_for(const std::stop_token& stop) {
    pipeline::Common common = common_;
    common.stop = stop;
    common.progress = [this, last = std::chrono::steady_clock::time_point()](std::string_view step,
                                                                             double share) mutable {
        const auto now = std::chrono::steady_clock::now();
        if (now - last < std::chrono::milliseconds(100)) return;
        last = now;
        hub_.tell("progress", Json{{"step", step}, {"share", share}}.dump());
    };
    return common;
}

/// `take` puts what was found into the project, under the lock; Faults of the work come out of it.
void Session::end_work(std::uint64_t round, const std::function<void()>& take) {
    const std::lock_guard lock(mutex_);
    if (round != round_) return;
    std::vector<Trouble> refused_now;
    std::string said;
    try {
        take();
    } catch (const Fault& fault) {
        refused_now = refused(project_.state(), project_.outlook(), fault.problems());
    } catch (const std::exception& error) {
        said = error.what();
    }
    if (refused_now.empty() && said.empty()) return;
    changed();
    refused_ = std::move(refused_now);
    said_ = std::move(said);
}

namespace {

/// The top while it is being looked for: with the borders there were, or the first that come.
class Preview {
public:
    explicit Preview(layout::Layout layout, bool has_extras)
        : layout_(std::move(layout)), has_extras_(has_extras) {}

    const layout::Layout& with(const layout::Assignment& assignment) {
        layout_.assignment = assignment;
        if (!has_extras_) placement::mix_extras(layout_);
        has_extras_ = true;
        return layout_;
    }

private:
    layout::Layout layout_;
    bool has_extras_;
};

} // namespace

Session::Task Session::shuffling(const Json& action) {
    const Outlook& outlook = project_.outlook();
    const State& state = project_.state();
    if (state.palette.fabrics.empty())
        throw Fault(Cause::input, "", "there is no fabric on the shelf yet", "put photos there first");
    if (!outlook.brief) throw Fault(Cause::unmet, outlook.problems);
    const Node node(action, asked);
    const auto region = node.find("cells");
    const auto wanted = node.find("candidates");
    pipeline::Job job{
        outlook.plan, outlook.plan.seed, state.palette, {}, said_by_name(*outlook.brief, state.palette)};
    if (const auto seed = node.find("seed"))
        job.seed = layout::read_seed(*seed);
    else if (state.laid && state.laid->seed == job.seed)
        ++job.seed;
    const bool in_batches = state.laid && !state.laid->assignment.units.empty();
    if (in_batches && std::count(state.laid->sewn.begin(), state.laid->sewn.end(), 1) > 0)
        throw Fault(
            Cause::input, "",
            "some units are sewn already, and units that are sewn in batches cannot be held one by one",
            "swap units by hand, or take the marks \"sewn\" off");
    if (state.laid) {
        std::vector<char> held = state.laid->sewn;
        if (region) {
            if (!state.laid->assignment.units.empty() ||
                outlook.plan.setting.symmetry != layout::Symmetry::none)
                throw Fault(Cause::input, "",
                            "only a part cannot be shuffled where units are sewn in batches, or the top is "
                            "symmetric",
                            "pin what is to stay, and shuffle the whole");
            std::fill(held.begin(), held.end(), 1);
            for (const int cell : cells_at(*region))
                if (std::cmp_less(cell, held.size()))
                    held[static_cast<std::size_t>(cell)] = state.laid->sewn[static_cast<std::size_t>(cell)];
        }
        job.brief = mend::held(std::move(job.brief), state.laid->assignment, held);
    }
    const int candidates = wanted ? static_cast<int>(wanted->integer(1, 12)) : 1;
    const std::uint64_t round = ++round_;
    const bool part = region.has_value();
    State base = state;
    return {candidates > 1 ? "candidates" : "shuffle",
            [this, job = std::move(job), base = std::move(base), candidates, round,
             part](const std::stop_token& stop) {
                pipeline::PlaceRequest request;
                request.candidates = candidates;
                request.common = common_for(stop);
                layout::Layout empty;
                empty.plan = job.plan;
                empty.seed = job.seed;
                empty.fabrics = job.palette.fabrics;
                empty.pinned.assign(static_cast<std::size_t>(job.brief.cells()), 0);
                empty.sewn = empty.pinned;
                Preview preview(base.laid ? hang(base, job.plan) : empty, base.laid.has_value());
                if (candidates == 1)
                    request.shown = [&](const layout::Assignment& top) {
                        Json shown = top_json(preview.with(top), geometries_);
                        shown["round"] = round;
                        hub_.tell("shown", shown.dump());
                    };
                std::vector<layout::Layout> found;
                std::exception_ptr failure;
                try {
                    found = pipeline::place_job(job, request).layouts;
                } catch (...) {
                    failure = std::current_exception();
                }
                end_work(round, [&] {
                    if (failure) std::rethrow_exception(failure);
                    for (layout::Layout& top : found) {
                        if (base.laid) top.sewn = base.laid->sewn;
                        if (part)
                            top.cornerstones = base.laid->cornerstones, top.borders = base.laid->borders;
                    }
                    if (candidates > 1) {
                        candidates_ = std::move(found);
                        changed();
                        return;
                    }
                    State next = base;
                    next.plan["seed"] = job.seed;
                    next.laid = taken_down(found.front());
                    if (project_.step(part ? "Shuffle a part" : "Shuffle", std::move(next))) changed();
                });
            }};
}

Session::Task Session::mending(const Json& action) {
    if (!project_.state().laid)
        throw Fault(Cause::input, "", "there is nothing on the wall to mend", "shuffle first");
    pipeline::MendRequest request;
    request.layout = project_.layout_file();
    if (const auto missing = Node(action, asked).find("short"))
        for (const auto& [fabric, patches] : missing->members())
            request.shortages.push_back({fabric, static_cast<int>(patches.integer(1, 1'000'000))});
    const std::uint64_t round = ++round_;
    return {"mend", [this, request, round](const std::stop_token& stop) mutable {
                request.common = common_for(stop);
                std::optional<pipeline::Mended> mended;
                std::exception_ptr failure;
                try {
                    mended = pipeline::mend(request);
                } catch (...) {
                    failure = std::current_exception();
                }
                end_work(round, [&] {
                    if (failure) std::rethrow_exception(failure);
                    State next = project_.state();
                    const Json& plan = mended->layout.plan.json;
                    if (plan.contains("counts")) next.plan["counts"] = plan.at("counts");
                    next.laid = taken_down(mended->layout);
                    const auto changes = static_cast<int>(mended->changes.size());
                    project_.step("Mend", std::move(next));
                    changed();
                    const layout::Board board = project_.plan().board();
                    for (const pipeline::Mended::Change& change : mended->changes)
                        touched_.push_back(board.cell(change.row, change.column));
                    said_ =
                        changes == 0
                            ? "Nothing needs to change."
                            : fmt::format(
                                  "{} unit{}. {}", changes, changes == 1 ? " changes" : "s change",
                                  mended->at_least == changes
                                      ? "Fewer would not do: that is proved."
                                      : fmt::format("At least {} must: that is proved.", mended->at_least));
                });
            }};
}

const std::vector<std::string>& export_names() {
    static const std::vector<std::string> all{"handout.pdf", "preview.png", "values.png",  "squint.png",
                                              "flat.png",    "counts.csv",  "cutting.csv", "buying.csv",
                                              "layout.json", "plan.json",   "palette.json"};
    return all;
}

Session::Task Session::exporting() {
    if (!project_.outlook().layout)
        throw Fault(Cause::input, "", "there is nothing on the wall yet", "shuffle first");
    const std::uint64_t round = ++round_;
    return {"export", [this, round, top = *project_.outlook().layout,
                       state = project_.state()](const std::stop_token& stop) {
                const pipeline::Common common = common_for(stop);
                std::exception_ptr failure;
                try {
                    palette::Palette palette = state.palette;
                    const pipeline::Measured measured = pipeline::measure_fabrics(palette, &top.plan, common);
                    pipeline::Pictures pictures = pipeline::draw_pictures({top}, measured.cloths, common);
                    const pipeline::Lists lists = pipeline::lists_of(top);
                    std::vector<document::Output> files = std::move(pictures.files);
                    for (document::Output& list : pipeline::list_files(top, lists))
                        files.push_back(std::move(list));
                    files.push_back({"handout.pdf", pipeline::handout_of(top, lists, pictures.preview)});
                    const auto add = [&](const char* name, const Json& json) {
                        files.push_back({name, document::bytes_of(document::print(json))});
                    };
                    add("layout.json", layout::write_layout(top));
                    add("plan.json", state.plan);
                    add("palette.json", palette::write_palette(state.palette));
                    if (!stop.stop_requested()) document::write_files(project_.folder() / "export", files);
                } catch (...) {
                    failure = std::current_exception();
                }
                end_work(round, [&] {
                    if (failure) std::rethrow_exception(failure);
                    if (stop.stop_requested()) return;
                    hub_.tell("exported", Json{{"files", export_names()},
                                               {"folder", (project_.folder() / "export").string()}}
                                              .dump());
                });
            }};
}

} // namespace motley::web
