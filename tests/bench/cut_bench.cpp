/// Cutting plans for ten invented lists, against cutting type by type.

#include <fmt/format.h>

#include <algorithm>
#include <chrono>
#include <filesystem>
#include <stdexcept>
#include <string>
#include <vector>

#include "bench.h"
#include "cutting/cut_file.h"
#include "cutting/cut_plan.h"
#include "document/document.h"

namespace motley::bench {

namespace {

using measure::Length;

/// What is bought where every kind of piece gets strips of its own, turned the better way.
Length type_by_type(const cutting::CutList& list) {
    Length sum;
    for (const cutting::CutListPiece& piece : list.pieces) {
        Length best{-1};
        for (const bool turned : {false, true}) {
            if (turned && !piece.turn) continue;
            const Length across = turned ? piece.height : piece.width;
            const std::int64_t fit = list.usable_width.ticks / across.ticks;
            if (fit == 0) continue;
            const Length here = (turned ? piece.width : piece.height) * ((piece.count + fit - 1) / fit);
            if (best.ticks < 0 || here < best) best = here;
        }
        sum = sum + best;
    }
    return measure::round_up(sum, list.step);
}

std::string line(const std::string& name, const char* key, Length length, Length buy, Length bound,
                 const std::string& proved, double seconds, Length peer) {
    const auto yards = [](Length cloth) { return cloth.in_inches() / 36; };
    return fmt::format(
        R"({{"bench": "cut", "{}": "{}", "length": {:.4f}, "buy_yards": {:.4f}, "bound": {:.4f}, "proved": {}, )"
        R"("seconds": {:.4f}, "peer_yards": {:.4f}, "ratio": {:.4f}}})",
        key, name, length.in_inches(), yards(buy), bound.in_inches(), proved, seconds, yards(peer),
        yards(buy) / yards(peer));
}

} // namespace

std::string cut(const Options& options) {
    const long rounds = integer(options, "rounds", 1, 1, 100);
    const auto folder = std::filesystem::path(MOTLEY_SOURCE) / "tests/data/cuts";
    std::vector<std::filesystem::path> files;
    for (const auto& entry : std::filesystem::directory_iterator(folder))
        if (entry.path().extension() == ".json") files.push_back(entry.path());
    if (files.empty()) throw std::runtime_error("no cut lists in " + folder.string());
    std::sort(files.begin(), files.end());
    std::string lines;
    Length length, buy, bound, peer;
    double seconds = 0;
    int proved = 0;
    for (const auto& file : files) {
        const document::Json json = document::parse(document::read_text(file), file.string());
        const cutting::CutList list = cutting::read_cut_list(document::Node(json, file.string()));
        const auto began = std::chrono::steady_clock::now();
        cutting::CutPlan plan;
        for (long round = 0; round < rounds; ++round) plan = cutting::plan_cuts(list);
        const double took = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count() /
                            static_cast<double>(rounds);
        lines += line(file.stem().string(), "list", plan.length, plan.buy, plan.bound,
                      plan.proved ? "true" : "false", took, type_by_type(list)) +
                 "\n";
        length = length + plan.length;
        buy = buy + plan.buy;
        bound = bound + plan.bound;
        peer = peer + type_by_type(list);
        seconds += took;
        proved += plan.proved ? 1 : 0;
    }
    return lines + line("all", "total", length, buy, bound, fmt::format("{}", proved), seconds, peer);
}

} // namespace motley::bench
