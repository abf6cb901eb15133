// Layouts that are kept: plain layout files in the folder "versions", named as the user says.

#include <fmt/format.h>

#include <algorithm>

#include "web/project.h"

namespace motley::web {

namespace {

namespace fs = std::filesystem;

/// A name as a file can have it.
std::string file_stem(const std::string& name) {
    constexpr std::size_t longest = 80;
    std::string stem;
    for (const char c : document::shortened(name, longest)) {
        const auto byte = static_cast<unsigned char>(c);
        stem +=
            byte < 0x20 || byte == 0x7f || std::string_view("/\\:*?\"<>|").find(c) != std::string_view::npos
                ? '-'
                : c;
    }
    while (!stem.empty() && (stem.front() == '.' || stem.front() == ' ')) stem.erase(0, 1);
    while (!stem.empty() && stem.back() == ' ') stem.pop_back();
    return stem.empty() ? "version" : stem;
}

} // namespace

std::vector<Version> Project::versions() const {
    std::vector<Version> found;
    std::error_code error;
    for (fs::directory_iterator entry(folder_ / "versions", error), end; !error && entry != end;
         entry.increment(error)) {
        const fs::path name = entry->path().filename();
        if (name.extension() != ".json" || name.native().starts_with('.') || !entry->is_regular_file())
            continue;
        found.push_back({name.string(), name.stem().string()});
    }
    std::sort(found.begin(), found.end(),
              [](const Version& one, const Version& other) { return one.file < other.file; });
    return found;
}

fs::path Project::version_path(const std::string& file) const {
    const std::vector<Version> all = versions();
    if (std::none_of(all.begin(), all.end(), [&](const Version& one) { return one.file == file; }))
        throw Fault(Cause::input, "versions",
                    fmt::format("there is no version {}", document::in_quotes(file)),
                    "it may have been dropped in another window");
    return folder_ / "versions" / file;
}

void Project::keep(const std::string& name) {
    if (!outlook_.layout)
        throw Fault(Cause::input, "versions", "there is nothing on the wall to keep", "shuffle first");
    const std::string stem = file_stem(name);
    std::string file = stem + ".json";
    const std::vector<Version> all = versions();
    for (int i = 2; std::any_of(all.begin(), all.end(), [&](const Version& one) { return one.file == file; });
         ++i)
        file = fmt::format("{} {}.json", stem, i);
    document::write_files(
        folder_ / "versions",
        {{file, document::bytes_of(document::print(layout::write_layout(*outlook_.layout)))}});
}

layout::Layout Project::version(const std::string& file) const {
    const fs::path path = version_path(file);
    const document::Json json = document::parse(document::read_text(path), path.string());
    return layout::read_layout(document::Node(json, path.string()));
}

void Project::drop(const std::string& file) {
    std::error_code error;
    fs::remove(version_path(file), error);
    if (error)
        throw Fault(Cause::system, file, "this version could not be dropped: " + error.message(),
                    "is the folder yours to write to?");
}

} // namespace motley::web
