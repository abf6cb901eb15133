#pragma once
/// Chooses a fabric for every patch, and a turn for every unit where the plan leaves it open.
/// In: a brief. Out: a whole assignment, always; the rules it does not keep are named. Chance starts from the
/// seed and from nothing else. Method: pour the fabrics by falling count into classes of cells that cannot
/// touch, mend what is left by a tabu search on broken rules and, where that is not enough, by deduction that
/// learns from contradictions (start_deduction.h); then anneal by exchanges that keep every rule (see state.h
/// for the cost of one exchange). Tops of at most 16 patches are then searched to the end (exhaust.h).
/// Threads: restarts run side by side; the answer does not depend on their number.

#include <cstdint>
#include <functional>
#include <optional>
#include <stop_token>
#include <string>
#include <vector>

#include "fault/fault.h"
#include "layout/layout.h"

namespace motley::placement {

/// How hard to look, and where chance starts.
struct Effort {
    std::uint64_t seed = 1;        ///< Same seed, brief and effort: same outcome, unless `seconds` is set.
    std::int64_t moves = 0;        ///< Exchanges tried in each restart; 0 chooses by the size of the top.
    int restarts = 2;              ///< Independent searches; the best wins, ties go to the lowest.
    int threads = 1;               ///< At most this many run at once, [1, 256].
    std::optional<double> seconds; ///< Search this long instead of counting moves.
    std::stop_token stop;          ///< When asked to stop, the best so far is returned.
    std::function<void(double)>
        progress; ///< Share of the moves made, [0, 1]; called from one thread at a time.
    /// The top as the first search stands, keeping every rule: its start, then now and then while it is made
    /// better. Whoever looks does not change the outcome. Called from one thread.
    std::function<void(const layout::Assignment&)> shown;
};

enum class Ending : std::uint8_t {
    every_rule_met,
    none_found, ///< Nothing is proved: a longer search might meet the rules.
    impossible, ///< The search went through all there is: no assignment meets the rules.
};

/// Never partial: `assignment` names a fabric for every patch, whatever `ending` says.
struct Outcome {
    layout::Assignment assignment;
    Ending ending = Ending::none_found;
    std::vector<std::string> broken; ///< As layout::broken_rules; empty exactly when every rule is met.
    int twins =
        0; ///< Where units are sewn in batches: pairs from one set that meet. No rule, but as few as can be.
    double cost = 0; ///< Wishes' weights times their ratios, over the sum of the weights. Comparable between
                     ///< equal briefs.
    std::int64_t moves = 0; ///< Exchanges tried, over all restarts.
    std::optional<double>
        first_valid; ///< Seconds until the first assignment that met every rule, of all restarts.
};

/// The best of `effort.restarts` searches.
Outcome place(const layout::Brief& brief, const Effort& effort);

/// `count` outcomes, best first, that differ visibly: any two show different fabrics in at least a third of
/// the patches that are not pinned. Fewer when the brief leaves no room for that; never none.
std::vector<Outcome> candidates(const layout::Brief& brief, const Effort& effort, int count);

/// What proves, before any search, that no assignment can meet the brief: each names the rule, the fabrics,
/// the number asked, the most that fits, and what would do. Empty when nothing is proved. Never a false
/// alarm.
std::vector<Problem> obstacles(const layout::Brief& brief);

} // namespace motley::placement
