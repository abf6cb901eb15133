#pragma once
/// A quilt's files in one folder: the plan, the layout that hangs on the wall, kept versions, the history;
/// and the palette's folder, which the plan names. What the page changes is in the files before it is
/// answered.

#include <filesystem>
#include <string>
#include <vector>

#include "pipeline/pipeline.h"
#include "web/history.h"
#include "web/state.h"

namespace motley::web {

/// A layout kept under a name.
struct Version {
    std::string file; ///< In the folder `versions`.
    std::string name;
};

class Project {
public:
    /// A plan's file, a project's folder, or where a new one is to be (made when missing). Faults where the
    /// files there are not readable.
    Project(const std::filesystem::path& where, const pipeline::Common& common);

    const std::filesystem::path& folder() const { return folder_; }
    const std::filesystem::path& plan_file() const { return plan_file_; }
    const std::filesystem::path& layout_file() const { return layout_file_; }
    const State& state() const { return state_; }
    const layout::Plan& plan() const { return plan_; }
    const Outlook& outlook() const { return outlook_; }
    const History& history() const { return history_; }
    const std::vector<std::string>& remarks() const { return remarks_; }

    /// Makes `next` the state, as a step of that name that can be undone; false when nothing differs. Faults
    /// leave everything as it was.
    bool step(const std::string& what, State next);
    bool undo() { return go(false); } ///< False at the end.
    bool redo() { return go(true); }

    std::vector<Version> versions() const;
    void keep(const std::string& name);                    ///< The layout on the wall.
    layout::Layout version(const std::string& file) const; ///< `file` as `versions` says.
    void drop(const std::string& file);

    /// Files of the palette's folder that are written already (photos) are seen by what follows.
    State with_palette(palette::Palette palette) const;

private:
    struct Texts {
        std::string plan, palette, layout;
    };

    void load(const pipeline::Common& common);
    void load_palette(const pipeline::Common& common);
    void load_layout();
    void take_up_history();
    bool finish_last();
    void look(State state, layout::Plan plan);
    Texts texts(const State& state, const Outlook& outlook) const;
    Prints prints(const Texts& texts) const;
    void save(const Texts& texts);
    Outlook outlook_of(const State& state, layout::Plan plan) const;
    layout::Plan plan_of(const State& state) const;
    bool go(bool forward);
    std::filesystem::path version_path(const std::string& file) const;

    std::filesystem::path folder_, plan_file_, layout_file_, palette_file_;
    pipeline::Common common_;
    State state_;
    layout::Plan plan_;
    Outlook outlook_;
    Texts saved_; ///< As the program would write what the files say.
    Prints on_disk_;
    History history_;
    std::vector<std::string> remarks_;
};

} // namespace motley::web
