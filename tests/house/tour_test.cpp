// The contributor's tour names things that exist.

#include <algorithm>
#include <catch.hpp>
#include <filesystem>
#include <fstream>
#include <regex>
#include <sstream>
#include <string>

namespace {

namespace fs = std::filesystem;

std::string content(const fs::path& path) {
    std::ifstream file(path);
    std::ostringstream text;
    text << file.rdbuf();
    return text.str();
}

std::string all_sources() {
    std::string text;
    for (const char* folder : {"/src", "/tests"})
        for (const auto& entry : fs::recursive_directory_iterator(std::string(MOTLEY_SOURCE) + folder))
            if (entry.path().extension() == ".h" || entry.path().extension() == ".cpp")
                text += content(entry.path());
    return text;
}

} // namespace

TEST_CASE("every path and function that the tour names exists") {
    const std::string tour = content(MOTLEY_SOURCE "/DEVELOPERS.md");
    const std::string sources = all_sources();
    const std::regex quoted("`([^`\n]+)`");
    int paths = 0, functions = 0;
    for (std::sregex_iterator it(tour.begin(), tour.end(), quoted), end; it != end; ++it) {
        const std::string word = (*it)[1];
        if (word.find(' ') != std::string::npos || word.find('*') != std::string::npos) continue;
        INFO(word);
        if (word.ends_with("()")) {
            ++functions;
            const std::string name =
                word.substr(word.rfind(':') == std::string::npos ? 0 : word.rfind(':') + 1);
            CHECK(sources.find(name.substr(0, name.size() - 1)) != std::string::npos);
        } else if (word.find('/') != std::string::npos && !word.starts_with("-")) {
            ++paths;
            const bool exists = fs::exists(fs::path(MOTLEY_SOURCE) / word) ||
                                fs::exists(fs::path(MOTLEY_SOURCE "/src") / word);
            CHECK((exists || word.starts_with("build/")));
        }
    }
    CHECK(paths > 10);
    CHECK(functions > 5);
}

TEST_CASE("the tour and the README keep to their length") {
    const auto lines = [](const std::string& text) { return std::count(text.begin(), text.end(), '\n'); };
    CHECK(lines(content(MOTLEY_SOURCE "/DEVELOPERS.md")) < 130); // Two screens and a little.
    CHECK(lines(content(MOTLEY_SOURCE "/README.md")) < 160);
}

TEST_CASE("the top of the repo holds what it should") {
    for (const auto& entry : fs::directory_iterator(MOTLEY_SOURCE)) {
        const std::string name = entry.path().filename().string();
        INFO(name);
        const bool known = name == "CMakeLists.txt" || name == "README.md" || name == "DEVELOPERS.md" ||
                           name == "src" || name == "palettes" || name == "tests" || name == "renders" ||
                           name == "build" || name.starts_with('.');
        CHECK(known);
    }
}
