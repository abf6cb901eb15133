#include <fmt/format.h>

#include <algorithm>
#include <sstream>

#include "cli/commands.h"
#include "cli/progress.h"
#include "cli/table.h"
#include "document/document.h"
#include "fault/fault.h"
#include "measure/length.h"

namespace motley::cli {

namespace {

std::string hex(colour::Srgb srgb) {
    return fmt::format("#{:02x}{:02x}{:02x}", srgb.r, srgb.g, srgb.b);
}

std::string trimmed(const std::string& word) {
    const auto first = word.find_first_not_of(" \t\r");
    return first == std::string::npos ? std::string()
                                      : word.substr(first, word.find_last_not_of(" \t\r") - first + 1);
}

/// Names out of a file where there is one of that name, else out of the words themselves.
std::vector<std::string> names_of(const std::string& said) {
    if (said.empty()) return {};
    std::error_code ignored;
    const bool file = std::filesystem::is_regular_file(said, ignored);
    std::istringstream text(file ? document::read_text(said) : said);
    std::vector<std::string> names;
    for (std::string name; std::getline(text, name, file ? '\n' : ',');)
        if (name = trimmed(name); !name.empty()) names.push_back(name);
    return names;
}

/// What one printed inch of the card measures: its ruler is 6 in long, the small card's 3 in.
double true_inch(const std::string& ruler) {
    if (ruler.empty()) return 1;
    const double found = measure::read_length(ruler, measure::System::inch, "--ruler").in_inches();
    const double nominal = found < 4.2 ? 3 : 6; // No printer is off by so much that one passes for the other.
    if (found < 0.6 * nominal || found > 1.5 * nominal)
        throw Fault(Cause::input, "--ruler", fmt::format("found \"{}\"", ruler),
                    "give the length of the whole ruler on your card, such as \"5 15/16 in\"");
    return found / nominal;
}

std::string how(const palette::FabricColour& colour) {
    if (!colour.reading) return {};
    constexpr const char* by[] = {"card", "paper", "background", "edge to edge"};
    return fmt::format("{}, {:.0f} %", by[static_cast<std::size_t>(colour.reading->by)],
                       100 * colour.reading->confidence);
}

} // namespace

int swatch(const Words& words, const Streams& streams) {
    pipeline::SwatchRequest request;
    request.photos = words.photos;
    if (!words.palette.empty()) request.palette = words.palette;
    request.pieces = words.split;
    request.names = names_of(words.names);
    if (words.split == 0 && !words.names.empty())
        throw Fault(Cause::input, "--names", "it goes with --split", "say how many fabrics are in the photo");
    request.overview = words.out;
    request.true_inch = true_inch(words.ruler);
    if (!words.width.empty()) {
        request.width = measure::read_length(words.width, measure::System::inch, "--width");
        if (request.width.in_inches() < 0.25 || request.width.in_inches() > 120)
            throw Fault(Cause::input, "--width", fmt::format("found \"{}\"", words.width),
                        "give a length from 1/4 in to 120 in");
    }
    pipeline::Swatched swatched;
    {
        Bar bar(streams.err, streams.bar);
        request.common = common(words, bar);
        swatched = pipeline::swatch(request);
    }
    for (const std::string& remark : swatched.remarks) streams.err << "motley: " << remark << '\n';
    if (words.json) {
        streams.out << document::print(palette::write_palette(swatched.palette));
        return 0;
    }
    Table table({"fabric", "colour", ">L*", "value", ">busy", "print", "what stands out", "read by"});
    for (const palette::Fabric& fabric : swatched.palette.fabrics) {
        if (!fabric.colour) continue;
        std::string accents;
        for (const palette::Accent& accent : fabric.colour->accents)
            accents += fmt::format("{}{} {:.0f} %", accents.empty() ? "" : ", ", hex(accent.srgb),
                                   100 * accent.share);
        table.add({fabric.name, hex(fabric.colour->srgb), fmt::format("{:.1f}", fabric.colour->lab.l),
                   fabric.colour->value ? std::string(colour::name(*fabric.colour->value)) : "",
                   fmt::format("{:.2f}", fabric.colour->busy),
                   fabric.colour->print ? in_words(*fabric.colour->print, swatched.palette.measure) : "",
                   accents, how(*fabric.colour)});
    }
    streams.out << table.text();
    if (request.palette)
        streams.out << fmt::format("Kept in {}.\n", (*request.palette / "palette.json").string());
    return 0;
}

} // namespace motley::cli
