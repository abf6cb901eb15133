/// An even scatter of invented fabrics, against the best of 200 shuffles of the same pieces.

#include <fmt/format.h>

#include <chrono>
#include <cmath>

#include "bench.h"
#include "document/document.h"
#include "placement/bound.h"
#include "placement/chance.h"
#include "placement/placement.h"

namespace motley::bench {

namespace {

double weight(const Options& options, const std::string& key, double otherwise) {
    const auto found = options.find(key);
    return found == options.end() ? otherwise : std::stod(found->second);
}

/// Fabrics of colours of chance, used as evenly as the cells allow.
layout::Brief invented_brief(const Options& options) {
    layout::Brief brief;
    brief.columns = static_cast<int>(integer(options, "columns", 11, 1, 200));
    brief.rows = static_cast<int>(integer(options, "rows", 13, 1, 200));
    brief.board = layout::Board(brief.columns, brief.rows);
    brief.forms = unit::sew(*unit::find_recipe("plain-square"), {}).forms;
    const int fabrics = static_cast<int>(integer(options, "fabrics", 30, 1, 1000));
    placement::Chance chance(static_cast<std::uint64_t>(integer(options, "colours", 1, 0, 1'000'000)), 77);
    const int cells = brief.cells();
    for (int f = 0; f < fabrics; ++f) {
        brief.names.push_back(fmt::format("f{}", f));
        const auto draw = [&](double low, double high) {
            return low + (high - low) * chance.below(10'001) / 10'000;
        };
        const double l = draw(15, 95), angle = draw(0, 6.28318), strength = draw(0, 45);
        brief.labs.push_back({l, strength * std::cos(angle), strength * std::sin(angle)});
        brief.counts.push_back({cells / fabrics, (cells + fabrics - 1) / fabrics});
    }
    std::vector<int> shares(brief.names.size(), cells / fabrics);
    for (int f = 0; f < cells % fabrics; ++f) ++shares[static_cast<std::size_t>(f)];
    brief.shares = {shares};
    brief.exempt.assign(brief.names.size(), 0);
    brief.role_counts = {brief.counts};
    brief.turns.assign(static_cast<std::size_t>(cells), 0);
    brief.pinned.assign(static_cast<std::size_t>(cells), layout::no_fabric);
    brief.pinned_turn.assign(static_cast<std::size_t>(cells), 0);
    const std::string rule = options.contains("touching") ? options.at("touching") : "corner";
    brief.rules.touching = rule == "edge"   ? layout::Touching::edge
                           : rule == "free" ? layout::Touching::free
                                            : layout::Touching::corner;
    brief.wishes.spread = weight(options, "spread", 1);
    brief.wishes.colour = weight(options, "colour", 0);
    brief.wishes.value = weight(options, "value", 1);
    return brief;
}

/// The same top as a model for solvers of any kind: integer weights of pairs of cells, by the square of their
/// distance. Energy: for every pair of cells with one fabric round(1000/d^2), and for every pair within d <=
/// 3 with two round(1000 likeness/d^2).
struct PairModel {
    const layout::Brief& brief;
    std::vector<double> like;

    explicit PairModel(const layout::Brief& b) : brief(b), like(layout::likeness(b)) {}

    int distance_squared(int a, int b) const {
        const int dr = b / brief.columns - a / brief.columns, dc = b % brief.columns - a % brief.columns;
        return dr * dr + dc * dc;
    }
    long long weight(int d2, std::size_t f, std::size_t g) const {
        if (f == g) return std::llround(1000.0 / d2);
        return d2 <= 9 ? std::llround(1000.0 * like[f * brief.names.size() + g] / d2) : 0;
    }
    long long energy(const layout::Assignment& top) const {
        long long sum = 0;
        for (int a = 0; a < brief.cells(); ++a)
            for (int b = a + 1; b < brief.cells(); ++b)
                sum += weight(distance_squared(a, b), layout::index(top.patches[static_cast<std::size_t>(a)]),
                              layout::index(top.patches[static_cast<std::size_t>(b)]));
        return sum;
    }

    /// Facts for an answer-set solver (model.lp) and data for a constraint solver (model.dzn), read by
    /// tests/bench/scatter.lp and .mzn.
    void write(const std::string& folder) const {
        const int cells = brief.cells();
        const std::size_t fabrics = brief.names.size();
        std::string facts = fmt::format("cell(0..{}). fabric(0..{}).\n", cells - 1, fabrics - 1);
        std::string pairs, touching;
        int pair_count = 0, touching_count = 0;
        for (int a = 0; a < cells; ++a)
            for (int b = a + 1; b < cells; ++b) {
                const int d2 = distance_squared(a, b);
                facts += fmt::format("pair({},{},{}).\n", a, b, d2);
                pairs += fmt::format("|{},{},{}\n", a + 1, b + 1, d2);
                ++pair_count;
                if (d2 > (brief.rules.touching == layout::Touching::corner ? 2 : 1)) continue;
                facts += fmt::format("touch({},{}).\n", a, b);
                touching += fmt::format("|{},{}\n", a + 1, b + 1);
                ++touching_count;
            }
        std::string shares, likeness;
        for (std::size_t f = 0; f < fabrics; ++f) {
            facts += fmt::format("share({},{}).\n", f, brief.shares[0][f]);
            shares += fmt::format("{},", brief.shares[0][f]);
            for (std::size_t g = 0; g < fabrics; ++g)
                for (const int d2 : {1, 2, 4, 5, 8, 9}) {
                    likeness += fmt::format("{},", f == g ? 0 : weight(d2, f, g));
                    if (f != g && weight(d2, f, g) > 0)
                        facts += fmt::format("alike({},{},{},{}).\n", d2, f, g, weight(d2, f, g));
                }
        }
        const std::string data = fmt::format(
            "cells = {}; fabrics = {}; pairs = {}; touchings = {};\nshare = [{}];\npair = [{}|];\ntouch = "
            "[{}|];\nalike = array3d(1..{}, 1..{}, 1..6, [{}]);\n",
            cells, fabrics, pair_count, touching_count, shares, pairs, touching, fabrics, fabrics, likeness);
        document::write_files(
            folder, {{"model.lp", document::bytes_of(facts)}, {"model.dzn", document::bytes_of(data)}});
    }
};

} // namespace

std::string scatter(const Options& options) {
    layout::Brief brief = invented_brief(options);
    const PairModel model(brief);
    if (options.contains("model")) {
        // Weighed so that the search sees the model's energy and nothing else: a pair's share of each sum
        // counts the same.
        layout::Assignment any;
        for (std::size_t f = 0; f < brief.names.size(); ++f)
            any.patches.insert(any.patches.end(), static_cast<std::size_t>(brief.shares[0][f]),
                               layout::FabricId{static_cast<std::uint16_t>(f)});
        any.turns.assign(any.patches.size(), 0);
        const layout::Sums sums = layout::sums(brief, any);
        brief.wishes.spread = sums.spread.expected;
        brief.wishes.colour = sums.colour.expected;
        brief.wishes.value = 0;
        model.write(options.at("model"));
    }
    placement::Effort effort;
    effort.seed = static_cast<std::uint64_t>(integer(options, "seed", 1, 0, 1'000'000'000));
    effort.threads = static_cast<int>(integer(options, "threads", 1, 1, 64));
    effort.moves = integer(options, "moves", 0, 0, 1'000'000'000'000);
    effort.restarts = static_cast<int>(integer(options, "restarts", 1, 1, 1000));
    if (options.contains("seconds")) effort.seconds = weight(options, "seconds", 1);
    const auto began = std::chrono::steady_clock::now();
    const placement::Outcome found = placement::place(brief, effort);
    const double seconds = std::chrono::duration<double>(std::chrono::steady_clock::now() - began).count();
    const layout::Score score = layout::judge(brief, found.assignment);
    const auto bound_began = std::chrono::steady_clock::now();
    const double bound = placement::spread_bound(brief, found.assignment).value_or(0);
    const double bound_seconds =
        std::chrono::duration<double>(std::chrono::steady_clock::now() - bound_began).count();

    const auto weighed = [&](const layout::Score& s) {
        const layout::Wishes& w = brief.wishes;
        return (w.spread * s.spread.value_or(0) + w.colour * s.colour.value_or(0) +
                w.value * s.value.value_or(0)) /
               (w.spread + w.colour + w.value);
    };
    placement::Chance chance(effort.seed, 4242);
    layout::Assignment shuffled = found.assignment;
    double peer = 1e9;
    for (int k = 0; k < 200; ++k) {
        chance.shuffle(shuffled.patches);
        peer = std::min(peer, weighed(layout::judge(brief, shuffled)));
    }
    // 16 times the sum over same-fabric pairs of round(1000/d^2): comparable with the bound in the project's
    // notes for 30 x 4 on 10 x 12.
    long long pairs = 0;
    for (int a = 0; a < brief.cells(); ++a)
        for (int b = a + 1; b < brief.cells(); ++b)
            if (found.assignment.patches[static_cast<std::size_t>(a)] ==
                found.assignment.patches[static_cast<std::size_t>(b)]) {
                const int dr = b / brief.columns - a / brief.columns,
                          dc = b % brief.columns - a % brief.columns;
                pairs += 16 * std::llround(1000.0 / (dr * dr + dc * dc));
            }
    return fmt::format(
        R"({{"name": "scatter", "columns": {}, "rows": {}, "fabrics": {}, "seed": {}, "broken": {}, "spread": {:.4f}, "colour": {:.4f}, "value": {:.5f}, "pair_sum": {}, "first_valid_seconds": {:.4f}, "energy": {}, "seconds": {:.3f}, "moves_per_second": {:.0f}, "cost": {:.5f}, "best_of_200_shuffles": {:.5f}, "ratio": {:.4f}, "bound": {:.6f}, "gap": {:.4f}, "bound_seconds": {:.3f}}})",
        brief.columns, brief.rows, brief.names.size(), effort.seed, score.broken.size(),
        score.spread.value_or(-1), score.colour.value_or(-1), score.value.value_or(-1), pairs,
        found.first_valid.value_or(-1), model.energy(found.assignment), seconds,
        static_cast<double>(found.moves) / seconds, weighed(score), peer, weighed(score) / peer, bound,
        bound > 0 ? score.spread.value_or(0) / bound - 1 : -1, bound_seconds);
}

} // namespace motley::bench
