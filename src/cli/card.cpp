#include <fmt/format.h>

#include "cli/commands.h"
#include "fault/fault.h"

namespace motley::cli {

int card(const Words& words, const Streams& streams) {
    if (words.paper != "letter" && words.paper != "a4")
        throw Fault(Cause::input, "--paper", fmt::format("found \"{}\"", words.paper), "give letter or a4");
    const std::filesystem::path file = words.out.empty() ? std::filesystem::path("card.pdf") : words.out;
    pipeline::print_card(file, words.paper == "a4" ? pipeline::CardPaper::a4 : pipeline::CardPaper::letter,
                         words.small);
    streams.out << fmt::format("Wrote {}. Print it at 100 %, and measure the ruler on it.\n", file.string());
    return 0;
}

} // namespace motley::cli
