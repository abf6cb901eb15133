#pragma once
/// What hands do at the wall: pure steps from a state to the next. Cells are the lattice's, as geometry sends
/// them. Faults (Cause::input) say in the quilter's words why something cannot be done.

#include <string>
#include <vector>

#include "web/state.h"

namespace motley::web {

/// The state after it, and how the step is called.
struct Handled {
    State next;
    std::string what;
};

/// A project as it is, for those who change it.
struct Wall {
    const State& state;
    const Outlook& outlook;

    const layout::Plan& plan() const { return outlook.plan; }
};

Handled swap(const Wall& wall, int one, int other);
Handled turn(const Wall& wall, const std::vector<int>& cells, int quarters);
Handled pin(const Wall& wall, const std::vector<int>& cells, bool on);
Handled mark_sewn(const Wall& wall, const std::vector<int>& cells, bool on);
/// One patch. Where units are sewn in batches, the piece it is cut from: all that show it change.
Handled replace_here(const Wall& wall, int cell, int patch, const std::string& fabric);
Handled replace_everywhere(const Wall& wall, const std::string& from, const std::string& to);
/// The plan asks for the numbers that the wall shows.
Handled let_counts_follow(const Wall& wall);

/// Keys of the plan by JSON pointer ("/setting/columns"), each with its new value; null takes it out. Only
/// what a page may set, see plan_keys.cpp: no file is ever named from there.
Handled set_plan(const Wall& wall, const document::Json& values);

/// A fabric's own keys: name, value, photo_width, one_way, price, stock.
Handled set_fabric(const Wall& wall, const std::string& id, const document::Json& values);
/// Takes a fabric off the shelf; its photo stays in the folder. Not while the wall shows it or the plan names
/// it.
Handled drop_fabric(const Wall& wall, const std::string& id);

} // namespace motley::web
