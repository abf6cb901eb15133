#include "fault/fault.h"

#include <fmt/format.h>

#include <algorithm>
#include <numeric>

namespace motley {

Fault::Fault(Cause cause, std::string where, std::string what, std::string remedy)
    : Fault(cause, std::vector<Problem>{{std::move(where), std::move(what), std::move(remedy)}}) {}

Fault::Fault(Cause cause, std::vector<Problem> problems)
    : std::runtime_error(text(problems)), cause_(cause), problems_(std::move(problems)) {
    expects(!problems_.empty());
}

std::string text(const std::vector<Problem>& problems) {
    std::string out;
    for (const Problem& problem : problems) {
        if (!out.empty()) out += '\n';
        if (!problem.where.empty()) out += problem.where + ": ";
        out += problem.what;
        if (!problem.remedy.empty()) out += " (" + problem.remedy + ")";
    }
    return out;
}

void expects(bool holds, std::source_location place) {
    if (holds) return;
    throw std::logic_error(fmt::format("a promise inside motley was broken at {}:{} in {}; please report it",
                                       place.file_name(), place.line(), place.function_name()));
}

namespace {

std::size_t edit_distance(std::string_view a, std::string_view b) {
    std::vector<std::size_t> row(b.size() + 1);
    std::iota(row.begin(), row.end(), std::size_t{0});
    for (std::size_t i = 1; i <= a.size(); ++i) {
        std::size_t diagonal = row[0];
        row[0] = i;
        for (std::size_t j = 1; j <= b.size(); ++j) {
            const std::size_t replaced = diagonal + (a[i - 1] == b[j - 1] ? 0 : 1);
            diagonal = row[j];
            row[j] = std::min({row[j] + 1, row[j - 1] + 1, replaced});
        }
    }
    return row[b.size()];
}

} // namespace

std::string nearest(std::string_view word, const std::vector<std::string>& candidates) {
    if (word.size() > 200) return {}; // Nothing of ours is that long, and the distance is quadratic.
    const std::string* best = nullptr;
    std::size_t best_distance = std::max<std::size_t>(2, word.size() / 3) + 1;
    for (const std::string& candidate : candidates) {
        if (candidate.size() > 200) continue;
        const std::size_t distance = edit_distance(word, candidate);
        if (distance < best_distance && distance < std::max(word.size(), candidate.size())) {
            best = &candidate;
            best_distance = distance;
        }
    }
    return best ? *best : std::string{};
}

} // namespace motley
