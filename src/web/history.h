#pragma once
/// All steps since the project was opened first, undone ones included, in memory and in a file beside the
/// plan. A step is in the file before it is in the plan, the palette or the layout, so that after a sudden
/// end the files can be brought up to it.

#include <filesystem>
#include <optional>
#include <string>
#include <vector>

#include "web/change.h"

namespace motley::web {

/// Content hashes of the project's files; empty where there is none.
struct Prints {
    std::string plan, palette, layout;
    bool operator==(const Prints&) const = default;
};

class History {
public:
    /// Reads what there is; a last line that was cut off is dropped, a file that is not a history is begun
    /// anew.
    explicit History(std::filesystem::path file);

    /// Forgets everything; the files are as `now` says.
    void begin(const Prints& now);
    /// Drops what was undone, then adds a step.
    void add(Change change, const Prints& after);
    void undone(const Prints& after); ///< Expects `to_undo`.
    void redone(const Prints& after); ///< Expects `to_redo`.

    const Change* to_undo() const { return next_ > 0 ? &steps_[next_ - 1] : nullptr; }
    const Change* to_redo() const { return next_ < steps_.size() ? &steps_[next_] : nullptr; }
    std::size_t undoable() const { return next_; }

    const std::optional<Prints>& now() const { return now_; } ///< Empty: never begun.
    /// The last thing that happened, which the files may not know yet.
    struct Last {
        Change change;
        bool forward;
        Prints before;
    };
    const std::optional<Last>& last() const { return last_; }

private:
    void read();
    void take(const document::Json& line);
    void append(const document::Json& line);

    std::filesystem::path file_;
    std::vector<Change> steps_;
    std::size_t next_ = 0; ///< Steps before it are done.
    std::optional<Prints> now_;
    std::optional<Last> last_;
};

} // namespace motley::web
