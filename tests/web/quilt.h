#pragma once
// A small project in a temporary folder: invented fabrics of one colour each, and a plan.

#include <unistd.h>

#include <cstdlib>
#include <filesystem>
#include <string>

#include "document/document.h"
#include "document/temporary_folder.h"
#include "web/session.h"

namespace motley::tests {

namespace fs = std::filesystem;
using document::Json;

inline Json small_palette(int fabrics) {
    Json list = Json::array();
    for (int f = 0; f < fabrics; ++f)
        list.push_back(
            {{"id", "cloth-" + std::to_string(f)},
             {"name", "Cloth " + std::to_string(f)},
             {"colour", {{"srgb", {(20 + 28 * f) % 256, (60 + 71 * f) % 256, (130 + 97 * f) % 256}}}}});
    return {{"format", "motley palette 1"}, {"name", "Invented"}, {"fabrics", list}};
}

inline void put(const fs::path& folder, const std::string& name, const Json& json) {
    document::write_files(folder, {{name, document::bytes_of(document::print(json))}});
}

inline Json read_json(const fs::path& file) {
    return document::parse(document::read_text(file), file.string());
}

/// plan.json and cloths/palette.json; 5 across, 4 down, 8 fabrics unless said.
class Quilt {
public:
    explicit Quilt(int fabrics = 8, const Json& more = Json::object()) {
        put(folder() / "cloths", "palette.json", small_palette(fabrics));
        Json plan = {{"format", "motley plan 1"},
                     {"name", "Test"},
                     {"palette", "cloths"},
                     {"setting", {{"columns", 5}, {"rows", 4}}}};
        plan.update(more);
        put(folder(), "plan.json", plan);
    }

    fs::path folder() const { return temporary_.path(); }

private:
    /// Every step is flushed to the disk before it is answered: thousands of steps are quicker in memory.
    static int in_memory() {
        std::error_code ignored;
        if (fs::is_directory("/dev/shm", ignored) && ::access("/dev/shm", W_OK) == 0)
            ::setenv("TMPDIR", "/dev/shm", 1);
        return 0;
    }

    int in_memory_ = in_memory(); // Before the folder is made.
    TemporaryFolder temporary_;
};

inline pipeline::Common alone() {
    pipeline::Common common;
    common.threads = 1;
    return common;
}

/// Done, and whatever it started has come to its end.
inline Json act(web::Session& session, const Json& action) {
    session.act(action);
    session.settle();
    return session.view();
}

} // namespace motley::tests
