#pragma once
/// A project that is open in the program, and everybody who looks at it: actions one after the other, work
/// beside them, news to the pages. In: actions as JSON (see Session::act in acts.cpp). Out: the view after
/// it. May be called from any thread.

#include <condition_variable>
#include <cstdint>
#include <mutex>
#include <optional>
#include <string>
#include <thread>
#include <vector>

#include "web/cloth.h"
#include "web/hand.h"
#include "web/hub.h"
#include "web/project.h"
#include "web/view.h"
#include "web/worker.h"

namespace motley::web {

class Session {
public:
    Session(const std::filesystem::path& where, const pipeline::Common& common);
    ~Session();

    /// Faults say why an action was not done; then nothing has changed.
    document::Json act(const document::Json& action);
    document::Json view() const;

    /// A photo: written beside the others, measured, put on the shelf. `name` is what its file is called at
    /// home; only letters and digits of it are kept.
    document::Json add_photo(const std::string& name, const std::vector<std::byte>& bytes);
    std::vector<std::byte> cloth(const std::string& fabric) const;
    std::optional<std::string> geometry(int number) const { return geometries_.text(number); }
    document::Json lists() const; ///< Null while they are being worked out.
    /// A file of the last export. Fault when there is none of that name.
    std::vector<std::byte> exported(const std::string& name) const;

    Hub& hub() { return hub_; }
    std::string folder() const { return project_.folder().string(); }
    /// Nobody looks any more: what runs for them ends, and what it found so far is let go.
    void abandon();
    /// Waits until nothing runs.
    void settle() { worker_.wait(); }

private:
    /// What runs beside the actions, started when the lock is free.
    struct Task {
        std::string what;
        Worker::Work work;
    };

    std::optional<Task> act_locked(const std::string& what, const document::Json& action);
    void do_step(Handled handled);
    void changed();
    document::Json view_locked() const;
    Wall wall() const { return {project_.state(), project_.outlook()}; }

    Task shuffling(const document::Json& action);
    Task mending(const document::Json& action);
    Task exporting();
    void take_candidate(std::size_t number);
    void bring_back(const std::string& file);
    void end_work(std::uint64_t round, const std::function<void()>& take);
    pipeline::Common common_for(const std::stop_token& stop);
    void list_on(const std::stop_token& stop);

    pipeline::Common common_;
    mutable std::mutex mutex_; ///< Of everything down to the line.
    Project project_;
    mutable Geometries geometries_;
    std::uint64_t revision_ = 1;
    std::uint64_t round_ = 0; ///< Counts works; what an older one finds is dropped.
    std::vector<layout::Layout> candidates_;
    std::vector<Trouble> refused_; ///< By the last search; gone with the next change.
    std::string said_;             ///< What the last work has to tell.
    std::vector<int> touched_;     ///< Cells that the last mending changed.
    document::Json lists_;
    std::uint64_t listed_ = 0; ///< The revision that `lists_` are of.
    std::condition_variable_any list_wanted_;
    // ---
    ClothPictures cloths_;
    Hub hub_;
    Worker worker_;
    std::jthread lister_; ///< Last: it uses all of the above.
};

/// Files that an export writes into the project's folder "export".
const std::vector<std::string>& export_names();

} // namespace motley::web
