#pragma once
/// The page as the build put it into the program (src/CMakeLists.txt). Private to this folder.

#include <string_view>
#include <vector>

namespace motley::web {

struct PageFile {
    std::string_view name;
    std::string_view text;
};

const std::vector<PageFile>& page_files();

} // namespace motley::web
