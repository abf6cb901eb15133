// The layer table in src/CMakeLists.txt, as CMake read it, against every #include under src/.

#include <catch.hpp>
#include <filesystem>
#include <fstream>
#include <map>
#include <regex>
#include <set>
#include <sstream>
#include <string>
#include <vector>

namespace {

namespace fs = std::filesystem;

struct Layer {
    std::set<std::string> needs, owns;
};

std::set<std::string> split(const std::string& text, char separator) {
    std::set<std::string> out;
    std::istringstream stream(text);
    for (std::string part; std::getline(stream, part, separator);)
        if (!part.empty()) out.insert(part);
    return out;
}

/// Lines of `name|needs;...|owns;...`, lowest layer first.
std::vector<std::pair<std::string, Layer>> layer_table() {
    std::ifstream file(MOTLEY_BUILD "/layers.txt");
    std::vector<std::pair<std::string, Layer>> layers;
    for (std::string line; std::getline(file, line);) {
        const std::size_t first = line.find('|'), second = line.find('|', first + 1);
        layers.push_back(
            {line.substr(0, first),
             {split(line.substr(first + 1, second - first - 1), ';'), split(line.substr(second + 1), ';')}});
    }
    return layers;
}

} // namespace

TEST_CASE("modules need only lower ones") {
    std::set<std::string> lower;
    const auto layers = layer_table();
    REQUIRE(layers.size() > 5);
    for (const auto& [name, layer] : layers) {
        for (const std::string& needed : layer.needs) {
            INFO(name << " needs " << needed);
            CHECK(lower.contains(needed));
        }
        lower.insert(name);
    }
}

TEST_CASE("every folder under src stands in the layer table") {
    std::set<std::string> names;
    for (const auto& [name, layer] : layer_table()) names.insert(name);
    for (const auto& entry : fs::directory_iterator(MOTLEY_SOURCE "/src")) {
        INFO(entry.path());
        if (entry.is_directory()) CHECK(names.contains(entry.path().filename().string()));
    }
}

TEST_CASE("every include is allowed by the layer table") {
    std::map<std::string, Layer> layers;
    std::map<std::string, std::string> owner; // Library to the one module that owns it.
    for (const auto& [name, layer] : layer_table()) {
        layers[name] = layer;
        for (const std::string& library : layer.owns) {
            INFO(library << " is owned by " << name << " and by " << owner[library]);
            CHECK(owner[library].empty());
            owner[library] = name;
        }
    }
    const std::regex include(R"re(^\s*#\s*include\s*[<"]([^>"]+)[>"])re");
    int seen = 0;
    for (const auto& entry : fs::recursive_directory_iterator(MOTLEY_SOURCE "/src")) {
        const std::string extension = entry.path().extension().string();
        if (extension != ".h" && extension != ".cpp") continue;
        const std::string own = (*fs::relative(entry.path(), MOTLEY_SOURCE "/src").begin()).string();
        std::ifstream file(entry.path());
        int number = 0;
        for (std::string line; std::getline(file, line);) {
            ++number;
            std::smatch match;
            if (!std::regex_search(line, match, include)) continue;
            ++seen;
            const std::string target = match[1];
            const std::string room = target.substr(0, target.find('/'));
            INFO(entry.path().string() << ":" << number << ": " << line);
            if (layers.contains(room) && target != room)
                CHECK((room == own || layers[own].needs.contains(room)));
            else if (owner.contains(room))
                CHECK(owner[room] == own);
            else if (target.find('/') != std::string::npos && room != "fmt" && room != "sys")
                FAIL_CHECK("a library that no module owns");
        }
    }
    CHECK(seen > 50);
}
