#include "web/project.h"

#include <fmt/format.h>

#include <algorithm>

#include "pipeline/fabrics.h"
#include "pipeline/job.h"

namespace motley::web {

namespace {

namespace fs = std::filesystem;
using document::Json;

Json new_plan() {
    return {{"format", layout::plan_format},
            {"name", "New quilt"},
            {"palette", "photos"},
            {"setting", {{"columns", 8}, {"rows", 10}}},
            {"unit", {{"recipe", "plain-square"}, {"finished", "6"}}},
            {"seed", 1}};
}

/// Where the plan of a new or known project is.
fs::path plan_at(const fs::path& where) {
    std::error_code ignored;
    if (fs::is_regular_file(where, ignored)) return fs::absolute(where).lexically_normal();
    if (where.extension() == ".json" && !fs::exists(where, ignored))
        throw Fault(Cause::system, where.string(), "there is no such plan",
                    "name a plan, or a folder for a new project");
    return fs::absolute(where).lexically_normal() / "plan.json";
}

/// "plan.json" has its layout in "layout.json", "throw.json" in "throw.layout.json".
fs::path layout_beside(const fs::path& plan) {
    const std::string stem = plan.stem().string();
    return plan.parent_path() / (stem == "plan" ? "layout.json" : stem + ".layout.json");
}

std::string text_at(const fs::path& file) {
    std::error_code ignored;
    return fs::exists(file, ignored) ? document::read_text(file) : std::string();
}

std::string print_of(const std::string& text) {
    return text.empty() ? std::string() : document::content_hash(document::bytes_of(text));
}

} // namespace

Project::Project(const fs::path& where, const pipeline::Common& common)
    : folder_(plan_at(where).parent_path()),
      plan_file_(plan_at(where)),
      layout_file_(layout_beside(plan_file_)),
      common_(common),
      history_(folder_ / fmt::format(".{}.history", plan_file_.stem().string())) {
    std::error_code error;
    fs::create_directories(folder_, error);
    if (!fs::is_directory(folder_))
        throw Fault(Cause::system, folder_.string(), "this folder could not be made: " + error.message(),
                    "name a folder where you may write");
    load(common);
    take_up_history();
}

layout::Plan Project::plan_of(const State& state) const {
    return read_plan(state.plan, plan_file_);
}

Outlook Project::outlook_of(const State& state, layout::Plan plan) const {
    layout::AimPicture aim;
    if (!state.palette.fabrics.empty()) aim = pipeline::aim_picture(plan, common_);
    return look_at(state, std::move(plan), aim);
}

void Project::look(State state, layout::Plan plan) {
    outlook_ = outlook_of(state, plan);
    plan_ = std::move(plan);
    state_ = std::move(state);
}

void Project::load(const pipeline::Common& common) {
    const std::string plan = text_at(plan_file_);
    on_disk_.plan = print_of(plan);
    state_.plan = plan.empty() ? new_plan() : document::parse(plan, plan_file_.string());
    plan_ = plan_of(state_);
    load_palette(common);
    load_layout();
    look(state_, plan_);
    saved_ = texts(state_, outlook_);
    if (plan.empty()) saved_.plan.clear(); // Written with the first step.
}

void Project::load_palette(const pipeline::Common& common) {
    const fs::path said = (folder_ / plan_.palette).lexically_normal();
    std::error_code ignored;
    const bool is_file = said.extension() == ".json" && !fs::is_directory(said, ignored);
    palette_file_ = is_file ? said : said / palette::palette_file;
    const std::string text = text_at(palette_file_);
    on_disk_.palette = print_of(text);
    palette::Palette& palette = state_.palette;
    const bool photos = fs::is_directory(said, ignored) && !fs::is_empty(said, ignored);
    const bool listed =
        !text.empty() && !document::parse(text, palette_file_.string()).value("fabrics", Json()).empty();
    if (listed || (text.empty() && photos)) {
        palette = palette::read_palette(said);
        pipeline::Measured measured = pipeline::measure_fabrics(palette, nullptr, common);
        remarks_ = std::move(measured.remarks);
    }
    palette.folder = palette_file_.parent_path();
    palette.measure = listed ? palette.measure : plan_.measure;
    if (palette.name.empty()) palette.name = plan_.name.empty() ? "fabrics" : plan_.name;
}

void Project::load_layout() {
    const std::string text = text_at(layout_file_);
    on_disk_.layout = print_of(text);
    if (text.empty()) return;
    const Json json = document::parse(text, layout_file_.string());
    const layout::Layout layout = layout::read_layout(document::Node(json, layout_file_.string()));
    state_.laid = renumbered(taken_down(layout), layout.fabrics, state_.palette.fabrics);
    if (state_.laid && !fits(*state_.laid, plan_, state_.palette)) state_.laid.reset();
    if (state_.laid)
        mark_pins(*state_.laid, plan_);
    else
        remarks_.push_back(
            fmt::format("{} is of another plan or other fabrics, so the wall starts empty; it is replaced by "
                        "the first layout you make",
                        layout_file_.filename().string()));
}

/// The history goes on where the files are as it left them, or are on the way from one step to the next.
void Project::take_up_history() {
    if (history_.now() == on_disk_ || finish_last()) return;
    history_.begin(on_disk_);
}

/// After a sudden end: what the last step says, brought into the files.
bool Project::finish_last() {
    if (!history_.last() || !history_.now()) return false;
    const Prints before = history_.last()->before, after = *history_.now();
    const auto known = [&](std::string Prints::* file) {
        return on_disk_.*file == before.*file || on_disk_.*file == after.*file;
    };
    if (!known(&Prints::plan) || !known(&Prints::palette) || !known(&Prints::layout)) return false;
    State state = state_;
    const bool laid_is_new = on_disk_.layout == after.layout && before.layout != after.layout;
    std::optional<Laid> laid;
    if (const std::string text = text_at(layout_file_); !text.empty()) {
        // As it stands in its own file, with its own palette: the one it had when it was written.
        const Json json = document::parse(text, layout_file_.string());
        const layout::Layout layout = layout::read_layout(document::Node(json, layout_file_.string()));
        laid = taken_down(layout);
        state.palette.fabrics = layout.fabrics;
    }
    state.laid = laid;
    const State seen = state;
    try {
        if (history_.last()->forward)
            history_.last()->change.redo(state);
        else
            history_.last()->change.undo(state);
    } catch (const std::exception&) {
        if (!laid_is_new) return false; // A change of rows that are not as they were.
        state = seen;
    }
    if (laid_is_new) state.laid = laid;
    if (state.palette.fabrics.empty()) state.palette = state_.palette;
    layout::Plan plan = plan_of(state);
    if (state.laid && !fits(*state.laid, plan, state.palette)) return false;
    look(std::move(state), std::move(plan));
    saved_ = {};
    const Texts now = texts(state_, outlook_);
    if (prints(now).plan != after.plan || prints(now).layout != after.layout) return false;
    saved_ = now;
    std::vector<document::Output> files{{plan_file_.filename().string(), document::bytes_of(now.plan)}};
    if (!now.layout.empty())
        files.push_back({layout_file_.filename().string(), document::bytes_of(now.layout)});
    document::write_files(folder_, files);
    std::error_code ignored;
    if (now.layout.empty()) fs::remove(layout_file_, ignored);
    if (on_disk_.palette != after.palette)
        document::write_files(palette_file_.parent_path(),
                              {{palette_file_.filename().string(), document::bytes_of(now.palette)}});
    on_disk_ = after;
    return true;
}

Project::Texts Project::texts(const State& state, const Outlook& outlook) const {
    Texts out;
    out.plan = document::print(state.plan);
    out.palette = document::print(palette::write_palette(state.palette));
    if (outlook.layout) out.layout = document::print(layout::write_layout(*outlook.layout));
    return out;
}

Prints Project::prints(const Texts& texts) const {
    return {texts.plan == saved_.plan ? on_disk_.plan : print_of(texts.plan),
            texts.palette == saved_.palette ? on_disk_.palette : print_of(texts.palette),
            texts.layout == saved_.layout ? on_disk_.layout : print_of(texts.layout)};
}

void Project::save(const Texts& texts) {
    const Prints now = prints(texts);
    if (texts.palette != saved_.palette)
        document::write_files(palette_file_.parent_path(),
                              {{palette_file_.filename().string(), document::bytes_of(texts.palette)}});
    std::vector<document::Output> files;
    if (texts.plan != saved_.plan)
        files.push_back({plan_file_.filename().string(), document::bytes_of(texts.plan)});
    if (texts.layout != saved_.layout && !texts.layout.empty())
        files.push_back({layout_file_.filename().string(), document::bytes_of(texts.layout)});
    if (!files.empty()) document::write_files(folder_, files);
    std::error_code ignored;
    if (texts.layout.empty() && !saved_.layout.empty()) fs::remove(layout_file_, ignored);
    saved_ = texts;
    on_disk_ = now;
}

bool Project::step(const std::string& what, State next) {
    layout::Plan plan = next.plan == state_.plan ? plan_ : plan_of(next);
    if (next.laid && !fits(*next.laid, plan, next.palette)) next.laid.reset();
    if (next.laid) mark_pins(*next.laid, plan);
    Change change(what, state_, next);
    if (change.empty()) return false;
    Outlook outlook = outlook_of(next, plan);
    if (!outlook.layout) next.laid.reset();
    change = Change(what, state_, next);
    const Texts now = texts(next, outlook);
    history_.add(std::move(change), prints(now));
    save(now);
    state_ = std::move(next);
    plan_ = std::move(plan);
    outlook_ = std::move(outlook);
    return true;
}

bool Project::go(bool forward) {
    const Change* change = forward ? history_.to_redo() : history_.to_undo();
    if (!change) return false;
    State next = state_;
    if (forward)
        change->redo(next);
    else
        change->undo(next);
    layout::Plan plan = next.plan == state_.plan ? plan_ : plan_of(next);
    Outlook outlook = outlook_of(next, plan);
    const Texts now = texts(next, outlook);
    if (forward)
        history_.redone(prints(now));
    else
        history_.undone(prints(now));
    save(now);
    state_ = std::move(next);
    plan_ = std::move(plan);
    outlook_ = std::move(outlook);
    return true;
}

State Project::with_palette(palette::Palette palette) const {
    State next = state_;
    const std::vector<palette::Fabric> before = next.palette.fabrics;
    next.palette.fabrics = std::move(palette.fabrics);
    if (next.laid) next.laid = renumbered(*next.laid, before, next.palette.fabrics);
    return next;
}

} // namespace motley::web
