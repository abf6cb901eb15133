#pragma once
/// What would do: changes to a brief that were tried, and with which a whole layout was found.

#include <cstdint>
#include <optional>
#include <string>
#include <vector>

#include "layout/brief.h"

namespace motley::placement {

/// Each answer is a sentence without a stop, or nothing where no such change was found within the work.
class Advice {
public:
    /// Work as for `Search`.
    Advice(const layout::Brief& brief, std::int64_t work) : brief_(brief), work_(work) {}

    /// The first of these patches without whose pin the rest can be laid: "unpin row 3, column 4".
    std::optional<std::string> unpin(const std::vector<int>& patches);
    /// Numbers near those asked: "use 60 of plum instead of 61 and 41 of rose instead of 40".
    std::optional<std::string> other_counts();
    /// "let corners touch ("touching": "edge")", "set "apart" to 2", "leave the line rule out", "list linen
    /// under rules.exempt as a background".
    std::optional<std::string> looser_rule();
    /// All of these that were found, joined; or that none was.
    std::string all(const std::vector<int>& pins);

private:
    bool can_be_laid(const layout::Brief& changed);
    bool is_small(const layout::Brief& changed) const;
    std::optional<std::vector<int>> near_filling();
    std::optional<std::vector<int>> any_filling(const layout::Brief& changed);

    const layout::Brief& brief_;
    std::int64_t work_;
};

} // namespace motley::placement
