/// Tight and planted tops: how long until every rule is kept, over ten seeds of each.

#include <fmt/format.h>
#include <time.h>

#include <algorithm>
#include <functional>
#include <stop_token>
#include <thread>

#include "bench.h"
#include "oracle/planted.h"
#include "placement/placement.h"

namespace motley::bench {

namespace {

using layout::Brief;
using layout::Rules;
using layout::Touching;

/// A kind of top; `draw` makes the one of a seed.
struct Kind {
    std::string name;
    int columns, rows;
    std::function<Brief(std::uint32_t)> draw;
};

struct Size {
    int columns, rows;
};

constexpr Size sizes[] = {{10, 12}, {20, 24}, {11, 13}, {100, 100}};

Rules rules_of(Touching touching, int apart = 1, bool line = false) {
    Rules rules;
    rules.touching = touching;
    rules.apart = apart;
    rules.line = line;
    return rules;
}

Brief with(Rules rules, int columns, int rows, const std::vector<int>& counts) {
    Brief brief = oracle::squares(columns, rows, counts);
    brief.rules = std::move(rules);
    return brief;
}

std::vector<int> one_and_many(int cells, int one, int many) {
    std::vector<int> counts{one};
    for (const int n : oracle::even(cells - one, many)) counts.push_back(n);
    return counts;
}

/// Counts at their limits, no pins.
void add_tight(std::vector<Kind>& kinds) {
    for (const auto [columns, rows] : sizes) {
        const int cells = columns * rows, half = (cells + 1) / 2;
        const int corner = (columns + 1) / 2 * ((rows + 1) / 2);
        std::vector<int> residues(4);
        for (int cell = 0; cell < cells; ++cell)
            ++residues[static_cast<std::size_t>(cell / columns % 2 * 2 + cell % columns % 2)];
        const auto add = [&](const std::string& name, Touching touching, const std::vector<int>& counts) {
            kinds.push_back({name, columns, rows,
                             [=](std::uint32_t) { return with(rules_of(touching), columns, rows, counts); }});
        };
        add("edge, one fabric half", Touching::edge, one_and_many(cells, half, 9));
        add("edge, two fabrics half each", Touching::edge, {half, cells - half});
        add("corner, four fabrics", Touching::corner, residues);
        add("corner, one fabric at its limit", Touching::corner, one_and_many(cells, corner, 20));
        std::vector<int> two{residues[0], residues[1]};
        for (const int n : oracle::even(cells - two[0] - two[1], 12)) two.push_back(n);
        add("corner, two fabrics at their limit", Touching::corner, two);
    }
}

void add_planted(std::vector<Kind>& kinds, const std::string& name, const Rules& rules, Size size,
                 const std::vector<int>& fabrics, const std::vector<int>& percents) {
    for (const int f : fabrics)
        for (const int percent : percents)
            kinds.push_back({fmt::format("{}, {} fabrics, {} % pinned", name, f, percent), size.columns,
                             size.rows, [=](std::uint32_t seed) {
                                 return oracle::planted_squares(size.columns, size.rows, f, rules, percent,
                                                                seed);
                             }});
}

void add_triangles(std::vector<Kind>& kinds, Size size) {
    struct Set {
        Touching touching;
        int fabrics;
        bool one_set;
    };
    for (const Set set :
         {Set{Touching::edge, 4, true}, Set{Touching::edge, 5, true}, Set{Touching::edge, 4, false},
          Set{Touching::corner, 8, true}, Set{Touching::corner, 8, false}, Set{Touching::corner, 10, false}})
        for (const bool open : {false, true})
            for (const int percent : {0, 20, 50})
                kinds.push_back(
                    {fmt::format("triangles, {}, {} fabrics in {}, turns {}, {} % pinned",
                                 set.touching == Touching::edge ? "edge" : "corner", set.fabrics,
                                 set.one_set ? "one set" : "two sets", open ? "any" : "fixed", percent),
                     size.columns, size.rows, [=](std::uint32_t seed) {
                         return oracle::planted_triangles(size.columns, size.rows, set.fabrics, set.one_set,
                                                          open, set.touching, percent, seed);
                     }});
}

std::vector<Kind> all_kinds() {
    std::vector<Kind> kinds;
    add_tight(kinds);
    const std::vector<int> percents{0, 5, 20, 50, 80};
    for (const Size size : sizes) {
        add_planted(kinds, "edge", rules_of(Touching::edge), size, {2, 3, 4, 5}, percents);
        add_planted(kinds, "corner", rules_of(Touching::corner), size, {4, 5, 6, 8}, percents);
        add_planted(kinds, "apart 3", rules_of(Touching::edge, 3), size, {9, 10, 11, 12}, percents);
        add_triangles(kinds, size);
    }
    for (const Size size : {Size{10, 10}, Size{12, 12}, Size{11, 13}, Size{30, 30}})
        add_planted(kinds, "line", rules_of(Touching::free, 1, true), size,
                    {std::max(size.columns, size.rows)}, {0, 5, 20, 40, 50, 80});
    return kinds;
}

/// Of this thread's processor time: what else the machine does must not count.
double processor_seconds() {
    timespec now{};
    clock_gettime(CLOCK_THREAD_CPUTIME_ID, &now);
    return static_cast<double>(now.tv_sec) + 1e-9 * static_cast<double>(now.tv_nsec);
}

/// Seconds of `place` on one core with no wish, so that it ends once every rule is kept; `limit` when it did
/// not get there.
double seconds_to_keep_rules(Brief brief, std::uint64_t seed, double limit) {
    brief.wishes.spread = brief.wishes.colour = brief.wishes.value = 0;
    placement::Effort effort;
    effort.seed = seed;
    effort.moves = 1;
    effort.restarts = 1;
    std::stop_source source;
    effort.stop = source.get_token();
    std::jthread watch([&](const std::stop_token& over) {
        const auto began = std::chrono::steady_clock::now();
        constexpr int slack = 4; // A busy machine: the limit is one of processor time.
        while (!over.stop_requested() &&
               std::chrono::steady_clock::now() - began < std::chrono::duration<double>(slack * limit))
            std::this_thread::sleep_for(std::chrono::milliseconds(5));
        source.request_stop();
    });
    const double began = processor_seconds();
    const placement::Outcome found = placement::place(brief, effort);
    return found.broken.empty() ? std::min(limit, processor_seconds() - began) : limit;
}

} // namespace

std::string tight(const Options& options) {
    constexpr double allowed = 0.5; // Seconds, the figure to reach.
    const int seeds = static_cast<int>(integer(options, "seeds", 10, 1, 1000));
    const double limit = static_cast<double>(integer(options, "limit", 2, 1, 600));
    const std::string only = options.contains("only") ? options.at("only") : "";
    std::string lines;
    for (const Kind& kind : all_kinds()) {
        const std::string name = fmt::format("{} x {}: {}", kind.columns, kind.rows, kind.name);
        if (name.find(only) == std::string::npos) continue;
        std::vector<double> seconds;
        for (int seed = 1; seed <= seeds; ++seed)
            seconds.push_back(seconds_to_keep_rules(kind.draw(static_cast<std::uint32_t>(seed)),
                                                    static_cast<std::uint64_t>(seed), limit));
        std::sort(seconds.begin(), seconds.end());
        const auto in_time =
            std::count_if(seconds.begin(), seconds.end(), [&](double s) { return s <= allowed; });
        if (!lines.empty()) lines += '\n';
        lines += fmt::format(
            R"({{"name": "tight", "top": "{}", "seeds": {}, "in_time": {}, "median_seconds": {:.4f}, "worst_seconds": {:.4f}, "allowed_seconds": {}, "ratio": {:.4f}}})",
            name, seeds, in_time, seconds[seconds.size() / 2], seconds.back(), allowed,
            seconds.back() / allowed);
        if (options.contains("watch")) fmt::print(stderr, "{}\n", lines.substr(lines.rfind('\n') + 1));
    }
    if (lines.empty()) throw std::invalid_argument("no kind of top has \"" + only + "\" in its name");
    return lines;
}

} // namespace motley::bench
