#pragma once
/// What each command does once its words are understood: asks the pipeline and tells the result.

#include <filesystem>

#include "cli/run.h"
#include "pipeline/pipeline.h"

namespace motley::cli {

/// All options of all commands; each command fills what it knows.
struct Words {
    std::filesystem::path input;
    std::vector<std::filesystem::path> photos;
    std::filesystem::path out, palette;
    std::vector<std::string> shortages; ///< FABRIC=N
    std::string name;                   ///< Of a recipe, or its file.
    std::vector<std::string> choices;   ///< NAME=VALUE
    std::string finished, seam, usable_width;
    std::filesystem::path draw;
    int units = 0;
    bool metric = false;
    int split = 0;
    std::string names; ///< A list with commas, or a file with one name a line.
    std::string ruler; ///< What the card's ruler measures.
    std::string width; ///< Of the fabrics in photos.
    std::string paper = "letter";
    bool small = false;
    std::optional<std::uint64_t> seed;
    std::optional<double> seconds;
    int candidates = 1;
    int threads = 0;
    double megapixels = 100;
    int pixels = 1600;
    bool json = false;
    int port = 0; ///< 0: any that is free.
    bool no_open = false;
};

class Bar;
pipeline::Common common(const Words& words, Bar& bar); ///< What they say for every request.

int make(const Words& words, const Streams& streams);
int place(const Words& words, const Streams& streams);
int mend(const Words& words, const Streams& streams);
int check(const Words& words, const Streams& streams);
int draw(const Words& words, const Streams& streams);
int count(const Words& words, const Streams& streams);
int swatch(const Words& words, const Streams& streams);
int card(const Words& words, const Streams& streams);
int cut(const Words& words, const Streams& streams);
int recipes(const Words& words, const Streams& streams);
int wall(const Words& words, const Streams& streams);

} // namespace motley::cli
