/// motley-bench NAME [--option value]...: measures one thing and prints one JSON object on one line.

#include <exception>
#include <functional>
#include <iostream>
#include <map>
#include <stdexcept>
#include <string>
#include <string_view>
#include <vector>

#include "bench.h"

namespace motley::bench {

namespace {

const std::map<std::string, std::function<std::string(const Options&)>, std::less<>> benches{
    {"cut", cut},     {"draw", draw},       {"grey", grey},   {"make", make},
    {"photo", photo}, {"scatter", scatter}, {"scene", scene}, {"tight", tight},
};

Options options_of(const std::vector<std::string_view>& words) {
    Options options;
    for (std::size_t i = 0; i < words.size(); i += 2) {
        const std::string_view word = words[i];
        if (!word.starts_with("--") || word.size() == 2) {
            throw std::invalid_argument("expected an option such as --seed, found \"" + std::string(word) +
                                        "\"");
        }
        if (i + 1 == words.size())
            throw std::invalid_argument("a value is missing after " + std::string(word));
        options[std::string(word.substr(2))] = words[i + 1];
    }
    return options;
}

int run(const std::vector<std::string_view>& words) {
    const auto bench = words.empty() ? benches.end() : benches.find(words.front());
    if (bench == benches.end()) {
        std::cerr << "usage: motley-bench NAME [--option value]...; the names are:";
        for (const auto& [name, function] : benches) std::cerr << ' ' << name;
        std::cerr << '\n';
        return 2;
    }
    try {
        std::cout << bench->second(options_of({words.begin() + 1, words.end()})) << '\n';
        return 0;
    } catch (const std::invalid_argument& wrong) {
        std::cerr << "motley-bench " << bench->first << ": " << wrong.what() << '\n';
        return 2;
    } catch (const std::exception& failure) {
        std::cerr << "motley-bench " << bench->first << ": " << failure.what() << '\n';
        return 3;
    }
}

} // namespace

long integer(const Options& options, const std::string& key, long otherwise, long least, long most) {
    const auto found = options.find(key);
    if (found == options.end()) return otherwise;
    std::size_t used = 0;
    long number = 0;
    try {
        number = std::stol(found->second, &used);
    } catch (const std::logic_error&) {
        used = 0;
    }
    if (used == 0 || used != found->second.size() || number < least || number > most) {
        throw std::invalid_argument("--" + key + " should be a whole number from " + std::to_string(least) +
                                    " to " + std::to_string(most) + ", found \"" + found->second + "\"");
    }
    return number;
}

} // namespace motley::bench

int main(int count, char** words) {
    return motley::bench::run({words + 1, words + count});
}
