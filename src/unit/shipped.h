#pragma once
/// The recipe files as the build put them into the program (src/CMakeLists.txt). Private to this folder.

#include <string_view>
#include <vector>

namespace motley::unit {

struct Shipped {
    const char* file;
    std::string_view text;
};

const std::vector<Shipped>& shipped_recipes();

} // namespace motley::unit
