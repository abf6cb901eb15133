#include <fmt/format.h>

#include <algorithm>
#include <map>

#include "document/document.h"
#include "palette/palette.h"
#include "palette/read_fabric.h"
#include "palette/words.h"

namespace motley::palette {

namespace {

namespace fs = std::filesystem;
using document::in_quotes;
using document::Node;

constexpr std::size_t most_problems = 20; // Enough to work through before trying again.

const std::vector<std::string> photo_endings = {".jpg", ".jpeg", ".png", ".webp", ".heic", ".heif", ".avif"};

[[noreturn]] void refuse_all(std::vector<Problem> problems, const std::string& where) {
    if (problems.size() > most_problems) {
        const std::size_t more = problems.size() - most_problems;
        problems.resize(most_problems);
        problems.push_back({where, fmt::format("{} more problems like these", more), "mend these first"});
    }
    throw Fault(Cause::input, std::move(problems));
}

std::string name_of_folder(const fs::path& folder) {
    std::error_code error;
    const fs::path whole = fs::absolute(folder, error).lexically_normal();
    const std::string name = (whole.has_filename() ? whole : whole.parent_path()).filename().string();
    return name.empty() ? "palette" : document::shortened(name);
}

void check_format(const Node& root) {
    const auto format = root.find("format");
    if (!format) return;
    const std::string said = format->text();
    if (said == palette_format) return;
    const std::string remedy = fmt::format("this version of motley reads {}", in_quotes(palette_format));
    if (said.starts_with("motley palette "))
        format->refuse(
            fmt::format("this palette has the format {}, which this version does not know", in_quotes(said)),
            remedy);
    format->refuse(fmt::format("this file says that it is {}, not a palette", in_quotes(said)), remedy);
}

bool is_photo_name(const fs::path& name) {
    std::string ending = name.extension().string();
    for (char& c : ending)
        if (c >= 'A' && c <= 'Z') c = static_cast<char>(c | 0x20);
    return std::find(photo_endings.begin(), photo_endings.end(), ending) != photo_endings.end();
}

// Names of the photos in a folder, byte by byte in order. What is named like one but is no file stays in, or,
// a folder, is refused: leaving it out would lose a fabric silently. Where a list says what counts it is
// passed over.
std::vector<std::string> photo_names(const fs::path& folder, bool listed) {
    std::vector<std::string> names;
    std::error_code error;
    std::error_code ignored;
    for (fs::directory_iterator entry(folder, error), end; !error && entry != end; entry.increment(error)) {
        const fs::path name = entry->path().filename();
        if (name.native().starts_with('.') || !is_photo_name(name) || name == overview_file) continue;
        if (entry->is_directory(ignored)) {
            if (listed) continue;
            throw Fault(Cause::input, (folder / name).string(),
                        "this is a folder, though its name is that of a photo",
                        "rename it, or put the photo itself here");
        }
        names.push_back(name.string());
        if (names.size() > most_fabrics)
            throw Fault(Cause::input, folder.string(),
                        fmt::format("this folder holds more than {} photos", most_fabrics),
                        "spread them over several palettes");
    }
    if (error)
        throw Fault(Cause::system, folder.string(), "this folder could not be read: " + error.message(),
                    "check its permissions");
    std::sort(names.begin(), names.end());
    return names;
}

// Photos that lie in the folder and that the list does not mention.
std::vector<std::string> unlisted_photos(const fs::path& folder, const std::vector<Fabric>& fabrics) {
    std::vector<std::string> names = photo_names(folder, true);
    for (const Fabric& fabric : fabrics) std::erase(names, fabric.photo);
    return names;
}

Palette read_json(const fs::path& file, const fs::path& folder) {
    const document::Json json = document::parse(document::read_text(file), file.string());
    const Node root(json, file.string());
    check_format(root); // First: a plan given for a palette should hear that, not of its keys.
    root.allow_only({"format", "name", "measure", "fabrics"});
    Palette palette;
    palette.folder = folder;
    const auto name = root.find("name");
    palette.name = name ? read_name(*name) : name_of_folder(folder);
    if (const auto measure = root.find("measure"))
        palette.measure = static_cast<measure::System>(measure->choice(measure_words));
    const Node list = root.at("fabrics");
    palette.fabrics = read_fabrics(list, palette.measure);
    palette.unlisted = unlisted_photos(folder, palette.fabrics);
    if (palette.fabrics.empty())
        list.refuse("this palette lists no fabric",
                    R"(list at least one, such as {"id": "plum", "photo": "plum.jpg"})");
    return palette;
}

Palette read_folder(const fs::path& folder) {
    Palette palette;
    palette.folder = folder;
    palette.name = name_of_folder(folder);
    std::vector<Problem> problems;
    std::map<std::string, std::string> first_with; // Id to file name.
    for (const std::string& name : photo_names(folder, false)) {
        const std::string where = (folder / document::shortened(name, 255)).string();
        const std::string id = fs::path(name).stem().string();
        std::string trouble = trouble_with_id(id);
        if (trouble.empty() && document::shortened(id, id.size()) != id)
            trouble = "it holds bytes that are not UTF-8";
        const auto [other, is_new] = first_with.emplace(id, name);
        if (!trouble.empty())
            problems.push_back(
                {where, fmt::format("the file name makes no fabric id: {}", trouble), "rename the file"});
        else if (!is_new)
            problems.push_back({where,
                                fmt::format("two photos make the same fabric id {}: {} and {}", in_quotes(id),
                                            in_quotes(other->second), in_quotes(name)),
                                "rename or remove one of them"});
        if (!trouble.empty() || !is_new) continue;
        Fabric& fabric = palette.fabrics.emplace_back();
        fabric.id = fabric.name = id;
        fabric.photo = name;
    }
    if (!problems.empty()) refuse_all(std::move(problems), folder.string());
    if (palette.fabrics.empty())
        throw Fault(Cause::input, folder.string(),
                    fmt::format("there is neither {} nor a photo in this folder", in_quotes(palette_file)),
                    fmt::format("photos end in {}", fmt::join(photo_endings, ", ")));
    return palette;
}

} // namespace

std::vector<Fabric> read_fabrics(const Node& list, measure::System measure) {
    const std::vector<Node> items = list.items();
    if (items.size() > most_fabrics)
        list.refuse(fmt::format("found {} fabrics", items.size()),
                    fmt::format("a palette holds at most {}", most_fabrics));
    std::vector<Fabric> fabrics;
    std::vector<Problem> problems;
    std::map<std::string, std::string> first_with; // Id to where it stands.
    for (const Node& item : items) {
        try {
            Fabric fabric = read_fabric(item, measure);
            const auto [other, is_new] = first_with.emplace(fabric.id, item.where());
            if (!is_new)
                item.at("id").refuse(
                    fmt::format("the id {} is taken already, at {}", in_quotes(fabric.id), other->second),
                    "give every fabric an id of its own");
            fabrics.push_back(std::move(fabric));
        } catch (const Fault& fault) {
            problems.insert(problems.end(), fault.problems().begin(), fault.problems().end());
        }
    }
    if (!problems.empty()) refuse_all(std::move(problems), list.where());
    return fabrics;
}

Palette read_palette(const fs::path& path) {
    std::error_code error;
    if (!fs::is_directory(path, error))
        return read_json(path, path.has_parent_path() ? path.parent_path() : fs::path("."));
    const fs::path file = path / palette_file;
    // Whatever stands under that name is meant to be it; reading says so when it is none.
    if (fs::symlink_status(file, error).type() != fs::file_type::not_found) return read_json(file, path);
    return read_folder(path);
}

} // namespace motley::palette
