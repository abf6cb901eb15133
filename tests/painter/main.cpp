// motley-paint: paints invented fabrics and writes their photos into a folder.
#include <fmt/format.h>

#include <charconv>
#include <cstdio>
#include <filesystem>
#include <fstream>
#include <string_view>

#include "fault/fault.h"
#include "painter/demo.h"

namespace {

using namespace motley;

std::vector<painter::Sample> invented(std::uint64_t seed, int count) {
    std::vector<painter::Sample> samples;
    for (painter::Design& design : painter::invented_designs(seed, count)) {
        samples.push_back(
            {.id = fmt::format("cloth-{:03}", samples.size() + 1), .design = std::move(design)});
    }
    return samples;
}

std::uint64_t number(std::string_view word, std::uint64_t highest) {
    std::uint64_t value = 0;
    const auto [end, error] = std::from_chars(word.data(), word.data() + word.size(), value);
    if (error != std::errc{} || end != word.data() + word.size() || value < 1 || value > highest) {
        throw Fault(Cause::input, "",
                    fmt::format("\"{}\" is not a whole number from 1 to {}", word, highest));
    }
    return value;
}

void write(const std::filesystem::path& file, const std::vector<std::byte>& bytes) {
    std::ofstream out(file, std::ios::binary);
    out.write(reinterpret_cast<const char*>(bytes.data()), static_cast<std::streamsize>(bytes.size()));
    if (!out.flush()) throw Fault(Cause::system, file.string(), "could not be written");
}

int run(const std::vector<std::string_view>& words) {
    const std::string_view which = words.empty() ? "" : words[0];
    const bool demo = which == "orchard" || which == "harbour";
    if (!(demo && words.size() == 2) && !(which == "invented" && words.size() >= 2 && words.size() <= 5)) {
        fmt::print(stderr,
                   "motley-paint orchard FOLDER\nmotley-paint harbour FOLDER\nmotley-paint invented FOLDER "
                   "[COUNT [SEED [PIXELS ACROSS]]]\n");
        return 2;
    }
    const auto count = words.size() > 2 ? static_cast<int>(number(words[2], 4096)) : 30;
    const std::uint64_t seed = words.size() > 3 ? number(words[3], ~std::uint64_t{0}) : 1;
    const auto width = words.size() > 4 ? static_cast<int>(number(words[4], 8192)) : 1200;
    const std::filesystem::path folder(words[1]);
    std::filesystem::create_directories(folder);
    const auto samples = which == "orchard"   ? painter::orchard()
                         : which == "harbour" ? painter::harbour()
                                              : invented(seed, count);
    for (const painter::Sample& sample : samples)
        write(folder / painter::file_name(sample), painter::photo_of(sample, width));
    return 0;
}

} // namespace

int main(int argc, char** argv) {
    try {
        return run({argv + 1, argv + argc});
    } catch (const Fault& fault) {
        fmt::print(stderr, "{}\n", fault.what());
        return static_cast<int>(fault.cause());
    } catch (const std::filesystem::filesystem_error& error) {
        fmt::print(stderr, "{}\n", error.what());
        return 3;
    }
}
