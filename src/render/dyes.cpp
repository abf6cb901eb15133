#include "render/dyes.h"

#include <algorithm>
#include <cstddef>

namespace motley::render {

namespace {

using Colour = std::array<std::int64_t, 3>;

std::int64_t apart(const Colour& one, const std::int16_t* other) {
    std::int64_t sum = 0;
    for (std::size_t c = 0; c < 3; ++c) sum += (one[c] - other[c]) * (one[c] - other[c]);
    return sum;
}

/// The first is the mean; each further one is the place farthest from those before it.
std::vector<Colour> far_apart(const Codes& codes) {
    const std::size_t count = codes.values.size() / 3;
    Colour mean{};
    for (std::size_t i = 0; i < codes.values.size(); ++i) mean[i % 3] += codes.values[i];
    for (std::int64_t& channel : mean) channel /= static_cast<std::int64_t>(count);
    std::vector<Colour> dyes{mean};
    std::vector<std::int64_t> least(count, -1);
    while (static_cast<int>(dyes.size()) < most_dyes) {
        for (std::size_t i = 0; i < count; ++i) {
            const std::int64_t here = apart(dyes.back(), &codes.values[i * 3]);
            least[i] = least[i] < 0 ? here : std::min(least[i], here);
        }
        const auto farthest =
            static_cast<std::size_t>(std::max_element(least.begin(), least.end()) - least.begin());
        if (least[farthest] == 0) break;
        const std::int16_t* found = &codes.values[farthest * 3];
        dyes.push_back({found[0], found[1], found[2]});
    }
    return dyes;
}

} // namespace

Dyes dyes_of(const Codes& codes) {
    const std::size_t count = codes.values.size() / 3;
    std::vector<Colour> dyes = far_apart(codes);
    Dyes found{codes.width, codes.height, std::vector<std::uint8_t>(count)};
    constexpr int rounds = 4;
    for (int round = 0; round < rounds; ++round) {
        std::vector<Colour> sums(dyes.size());
        std::vector<std::int64_t> members(dyes.size());
        for (std::size_t i = 0; i < count; ++i) {
            std::size_t nearest = 0;
            std::int64_t least = apart(dyes[0], &codes.values[i * 3]);
            for (std::size_t k = 1; k < dyes.size(); ++k) {
                const std::int64_t here = apart(dyes[k], &codes.values[i * 3]);
                if (here >= least) continue;
                least = here;
                nearest = k;
            }
            found.at[i] = static_cast<std::uint8_t>(nearest);
            ++members[nearest];
            for (std::size_t c = 0; c < 3; ++c) sums[nearest][c] += codes.values[i * 3 + c];
        }
        for (std::size_t k = 0; k < dyes.size(); ++k)
            if (members[k] > 0)
                for (std::size_t c = 0; c < 3; ++c) dyes[k][c] = sums[k][c] / members[k];
    }
    return found;
}

} // namespace motley::render
