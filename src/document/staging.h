#pragma once
/// Several files brought into a folder together: prepared under hidden names, then put in place, or taken
/// back. Private to this folder; see `write_files`.

#include <filesystem>
#include <string>
#include <vector>

#include "document/document.h"

namespace motley::document {

/// Whatever happens before `commit` has returned, the folder ends as it was: the destructor takes back every
/// step.
class Staging {
public:
    explicit Staging(std::filesystem::path folder); ///< Creates the folder and those above it where missing.
    ~Staging();
    Staging(const Staging&) = delete;
    Staging& operator=(const Staging&) = delete;

    void stage(const Output& file); ///< Written and flushed, under a hidden name.
    void commit();                  ///< All files take their places; the last thing to be called.

private:
    /// A file's way into its place. `exchanged`: the hidden name holds what stood there before.
    struct Entry {
        std::filesystem::path hidden;
        std::filesystem::path place;
        enum class State { staged, placed, exchanged } state = State::staged;
    };

    void create_folders();
    void put_in_place(Entry& entry);

    std::filesystem::path folder_;
    std::vector<std::filesystem::path> created_; ///< Outermost first.
    std::vector<Entry> entries_;
    bool committed_ = false;
};

/// Fault(Cause::system) in plain words: what was tried, the system's reason, what to do about it.
[[noreturn]] void refuse_by_system(const std::filesystem::path& path, const std::string& tried, int error);

} // namespace motley::document
