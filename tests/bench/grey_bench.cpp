/// The grey-pattern problem: black cells scattered over a torus, against a proved floor.

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <chrono>
#include <stdexcept>

#include "bench.h"
#include "placement/accent.h"

namespace motley::bench {

namespace {

/// 100000 / d^2 to the nearest whole number, halves to the even one.
std::int32_t grey_weight(int row_step, int column_step) {
    const int square = row_step * row_step + column_step * column_step;
    const int whole = 100'000 / square, rest = 100'000 % square;
    const bool up = 2 * rest > square || (2 * rest == square && whole % 2 == 1);
    return whole + (up ? 1 : 0);
}

double seconds_of(const std::string& text) {
    std::size_t used = 0;
    double seconds = 0;
    try {
        seconds = std::stod(text, &used);
    } catch (const std::logic_error&) {
        used = 0;
    }
    if (used == 0 || used != text.size() || !(seconds > 0 && seconds <= 1e6))
        throw std::invalid_argument("--seconds should be a number above 0 and at most 1000000, found \"" +
                                    text + "\"");
    return seconds;
}

/// As `integer`, of an option that has to be there.
int needed(const Options& options, const std::string& key, long least, long most) {
    if (!options.contains(key)) throw std::invalid_argument("--" + key + " is missing");
    return static_cast<int>(integer(options, key, 0, least, most));
}

std::string ratio_of(std::int64_t cost, std::int64_t floor) {
    if (cost == floor) return "1";
    return floor == 0 ? "null"
                      : fmt::format("{:.5f}", static_cast<double>(cost) / static_cast<double>(floor));
}

} // namespace

std::string grey(const Options& options) {
    const int columns = needed(options, "columns", 1, placement::Ground::most_cells);
    const int rows = needed(options, "rows", 1, placement::Ground::most_cells);
    if (columns > placement::Ground::most_cells / rows)
        throw std::invalid_argument(fmt::format("{} x {} are {} cells; at most {} can be searched", columns,
                                                rows, columns * rows, placement::Ground::most_cells));
    const int black = needed(options, "black", 0, columns * rows);
    placement::AccentEffort effort;
    effort.seed = static_cast<std::uint64_t>(integer(options, "seed", 1, 0, 1'000'000'000));
    effort.moves = integer(options, "moves", effort.moves, 1, 1'000'000'000'000);
    if (options.contains("seconds")) effort.seconds = seconds_of(options.at("seconds"));

    const auto began = std::chrono::steady_clock::now();
    const auto elapsed = [&] {
        return std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    };
    const placement::Ground ground(columns, rows, placement::Ground::Edges::meet, grey_weight);
    const std::int64_t floor = placement::least_cost(ground, black);
    effort.enough = floor;
    const double ready = elapsed();
    const placement::Accent found = placement::scatter_accent(ground, black, effort);
    const std::int64_t cost = ground.cost(found.cells);
    if (cost != found.cost) throw std::logic_error("the cost of the cells is not the cost that was reported");
    return fmt::format(
        R"({{"bench": "grey", "columns": {}, "rows": {}, "black": {}, "seed": {}, "cost": {}, "floor": {}, )"
        R"("ratio": {}, "proved_best": {}, "seconds": {:.3f}, "seconds_total": {:.3f}, "moves": {}, )"
        R"("best_after_moves": {}, "cells": [{}]}})",
        columns, rows, black, effort.seed, cost, floor, ratio_of(cost, floor), cost == floor,
        ready + found.best_seconds, elapsed(), found.moves, found.best_after, fmt::join(found.cells, ", "));
}

} // namespace motley::bench
