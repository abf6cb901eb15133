#pragma once
/// The command line: words in, text and an exit code out.

#include <ostream>
#include <string>
#include <vector>

namespace motley::cli {

/// Where text goes, and whether a bar may be drawn on `err`.
struct Streams {
    std::ostream& out;
    std::ostream& err;
    bool bar = false;
};

/// Does what the words ask (without the program's name) and returns the exit code: 0 done, 1 the plan cannot
/// be met as asked, 2 the words or an input file are wrong, 3 reading or writing failed. Results go to `out`,
/// everything else to `err`. Throws nothing.
int run(const std::vector<std::string>& words, const Streams& streams);

} // namespace motley::cli
