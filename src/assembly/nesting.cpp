#include "assembly/nesting.h"

#include <algorithm>
#include <cstdint>

#include "fault/fault.h"

namespace motley::assembly {

namespace {

/// From the uppermost seam of a chain down.
std::vector<std::size_t> chain_from(const std::vector<Loose>& seams, std::size_t first) {
    std::vector<std::size_t> chain{first};
    while (seams[chain.back()].below >= 0) {
        chain.push_back(static_cast<std::size_t>(seams[chain.back()].below));
        expects(chain.size() <= seams.size());
    }
    return chain;
}

constexpr std::int64_t impossible = -1;

} // namespace

std::vector<Way> most_nests(const std::vector<Loose>& seams) {
    std::vector<char> met(seams.size(), 0); // By a seam above it.
    for (const Loose& seam : seams)
        if (seam.below >= 0) {
            char& there = met[static_cast<std::size_t>(seam.below)];
            expects(there == 0);
            there = 1;
        }
    std::vector<Way> ways(seams.size(), right);
    std::size_t chosen = 0;
    for (std::size_t first = 0; first < seams.size(); ++first) {
        if (met[first]) continue;
        const std::vector<std::size_t> chain = chain_from(seams, first);
        // A nest outweighs all the darker sides of the chain.
        const auto nest = static_cast<std::int64_t>(chain.size()) + 1;
        std::vector<std::array<std::int64_t, 2>> best(chain.size()); // From this seam on down.
        for (std::size_t i = chain.size(); i-- > 0;) {
            const Loose& seam = seams[chain[i]];
            for (const Way way : {left, right}) {
                if (seam.fixed >= 0 && seam.fixed != way) {
                    best[i][way] = impossible;
                    continue;
                }
                best[i][way] = nest * seam.met[way] + (seam.darker == way);
                if (i + 1 < chain.size())
                    best[i][way] += std::max(best[i + 1][way], best[i + 1][1 - way] == impossible
                                                                   ? impossible
                                                                   : best[i + 1][1 - way] + nest);
            }
        }
        int above = -1;
        for (std::size_t i = 0; i < chain.size(); ++i) {
            const auto worth = [&](Way way) {
                if (best[i][way] == impossible) return impossible;
                return best[i][way] + (above >= 0 && above != way ? nest : 0);
            };
            ways[chain[i]] = worth(left) > worth(right) ? left : right;
            above = ways[chain[i]];
            ++chosen;
        }
    }
    expects(chosen == seams.size()); // A chain that goes round has no first seam.
    return ways;
}

} // namespace motley::assembly
