#pragma once
// A temporary folder with a small palette of invented photos and a plan, and the program run in it.

#include <algorithm>
#include <cmath>
#include <filesystem>
#include <fstream>
#include <map>
#include <sstream>
#include <string>
#include <vector>

#include "cli/run.h"
#include "document/document.h"
#include "document/temporary_folder.h"
#include "photo/photo.h"

namespace motley::tests {

namespace fs = std::filesystem;

struct Told {
    int code = 0;
    std::string out, err;
};

inline Told say(const std::vector<std::string>& words) {
    std::ostringstream out, err;
    const int code = cli::run(words, {out, err, false});
    return {code, out.str(), err.str()};
}

inline std::string content(const fs::path& path) {
    std::ifstream file(path, std::ios::binary);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

inline void write(const fs::path& path, const std::string& text) {
    fs::create_directories(path.parent_path());
    std::ofstream(path, std::ios::binary) << text;
}

/// Every file below a folder, with its bytes.
inline std::map<std::string, std::string> snapshot(const fs::path& folder) {
    std::map<std::string, std::string> files;
    for (const auto& entry : fs::recursive_directory_iterator(folder))
        if (entry.is_regular_file())
            files[fs::relative(entry.path(), folder).string()] = content(entry.path());
    return files;
}

/// A photo of cloth: a ground with dots or stripes, in colours that differ from number to number.
inline std::vector<std::byte> invented_photo(int number) {
    const int size = 120;
    photo::Raster raster{size, size, 3, {}};
    const auto shade = [&](int channel) {
        return static_cast<std::uint8_t>(40 + (number * 67 + channel * 89 + number * number * 13) % 200);
    };
    for (int y = 0; y < size; ++y)
        for (int x = 0; x < size; ++x) {
            const bool figure = number % 2 == 0
                                    ? (x % 20 - 10) * (x % 20 - 10) + (y % 20 - 10) * (y % 20 - 10) < 25
                                    : x % 24 < 6;
            for (int c = 0; c < 3; ++c)
                raster.pixels.push_back(figure ? static_cast<std::uint8_t>(255 - shade(c)) : shade(c));
        }
    return photo::encode_png(raster);
}

class Workshop {
public:
    explicit Workshop(int fabrics = 9) {
        std::vector<document::Output> photos;
        for (int f = 0; f < fabrics; ++f)
            photos.push_back({"cloth-" + std::to_string(f) + ".png", invented_photo(f)});
        document::write_files(folder() / "cloths", photos);
    }

    fs::path folder() const { return temporary_.path(); }
    std::string path(const std::string& name) const { return (folder() / name).string(); }

    /// A plan file; `more` is what follows the setting.
    std::string plan(const std::string& more = "", int columns = 5, int rows = 6) const {
        write(folder() / "plan.json", R"({"palette": "cloths", "setting": {"columns": )" +
                                          std::to_string(columns) + R"(, "rows": )" + std::to_string(rows) +
                                          "}" + more + "}");
        return path("plan.json");
    }

private:
    TemporaryFolder temporary_;
};

} // namespace motley::tests
