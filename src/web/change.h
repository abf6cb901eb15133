#pragma once
/// A step from one state of a project to another, and back: what the history holds. Only what differs is
/// kept, as plain JSON that stands on one line of the history file.

#include <string>

#include "web/state.h"

namespace motley::web {

class Change {
public:
    /// What leads from one to the other. `what` is how the step is called: "Swap two units".
    Change(std::string what, const State& before, const State& after);
    /// As `json` wrote it. Faults (Cause::input).
    explicit Change(const document::Node& node);

    document::Json json() const;
    const std::string& what() const { return what_; }
    bool empty() const { return plan_.is_null() && palette_.is_null() && laid_.is_null(); }

    /// Expects the state that the change was made from, or leads to.
    void redo(State& state) const { apply(state, true); }
    void undo(State& state) const { apply(state, false); }

private:
    void apply(State& state, bool forward) const;

    std::string what_;
    document::Json plan_, palette_; ///< [before, after], or null.
    document::Json laid_;           ///< By name: texts of numbers; see change.cpp. Null: nothing moved.
};

} // namespace motley::web
