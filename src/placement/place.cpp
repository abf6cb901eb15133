#include <algorithm>
#include <atomic>
#include <mutex>
#include <thread>

#include "placement/anneal.h"
#include "placement/arrange_search.h"
#include "placement/exhaust.h"
#include "placement/placement.h"
#include "placement/start.h"
#include "placement/symmetric.h"

namespace motley::placement {

namespace {

using Clock = std::chrono::steady_clock;

double seconds_since(Clock::time_point began) {
    return std::chrono::duration<double>(Clock::now() - began).count();
}

double weights_of(const layout::Brief& brief) {
    return brief.wishes.spread + brief.wishes.colour + brief.wishes.value;
}

double cost_of(const layout::Brief& brief, const layout::Assignment& assignment) {
    if (weights_of(brief) <= 0) return 0;
    const layout::Sums sums = layout::sums(brief, assignment);
    const auto ratio = [](const layout::Sum& sum) {
        return sum.expected > 1e-12 ? sum.found / sum.expected : 0.0;
    };
    const layout::Wishes& w = brief.wishes;
    return (w.spread * ratio(sums.spread) + w.colour * ratio(sums.colour) + w.value * ratio(sums.value)) /
           weights_of(brief);
}

std::int64_t moves_for(const layout::Brief& brief) {
    if (brief.kit)
        return std::clamp<std::int64_t>(std::int64_t{1'500} * brief.board.units(), 100'000, 4'000'000);
    if (brief.symmetry != layout::Symmetry::none) // Exchanges of whole orbits, each made to be looked at.
        return std::clamp<std::int64_t>(std::int64_t{500} * brief.patches(), 50'000, 1'000'000);
    return std::clamp<std::int64_t>(std::int64_t{5'000} * brief.patches(), 200'000, 24'000'000);
}

/// What no search changes: one table or the other.
struct Tables {
    explicit Tables(const layout::Brief& b) : brief(b) {
        if (b.kit)
            kit.emplace(b);
        else
            model.emplace(b);
    }
    const layout::Brief& brief;
    std::optional<Model> model;
    std::optional<KitTables> kit;
};

struct Shared {
    Shared(const Tables& t, const Effort& e, Clock::time_point start = Clock::now())
        : tables(t), effort(e), moves(e.moves > 0 ? e.moves : moves_for(t.brief)), began(start) {}

    const Tables& tables;
    const Effort& effort;
    std::int64_t moves;
    Clock::time_point began;
    int searches = 1;
    std::mutex progress_mutex;
    std::int64_t tried = 0; // Under the mutex.

    void report(std::int64_t more) {
        if (!effort.progress) return;
        const std::lock_guard lock(progress_mutex);
        tried += more;
        const double share = effort.seconds
                                 ? seconds_since(began) / *effort.seconds
                                 : static_cast<double>(tried) / (static_cast<double>(moves) * searches);
        effort.progress(std::min(1.0, share));
    }
};

AnnealEffort anneal_effort(Shared& shared, std::uint64_t stream) {
    AnnealEffort effort{
        .moves = shared.moves, .until = {}, .stop = shared.effort.stop, .tried = [&](std::int64_t n) {
            shared.report(n);
        }};
    if (shared.effort.seconds)
        effort.until = shared.began + std::chrono::duration_cast<Clock::duration>(
                                          std::chrono::duration<double>(*shared.effort.seconds));
    if (shared.effort.shown && stream == 0)
        effort.glance = [&shared, last = Clock::now()](const auto& now) mutable {
            constexpr auto pause = std::chrono::milliseconds(80);
            if (Clock::now() - last < pause) return;
            shared.effort.shown(now());
            last = Clock::now();
        };
    return effort;
}

Outcome search_kit(Shared& shared, std::uint64_t stream) {
    Chance chance(shared.effort.seed, stream);
    KitTop top = place_kit(*shared.tables.kit, chance, anneal_effort(shared, stream));
    Outcome outcome;
    outcome.assignment = std::move(top.assignment);
    outcome.broken = std::move(top.broken);
    outcome.twins = top.twins;
    outcome.ending = outcome.broken.empty() ? Ending::every_rule_met : Ending::none_found;
    outcome.cost = cost_of(shared.tables.brief, outcome.assignment);
    outcome.moves = top.moves;
    if (top.first_valid)
        outcome.first_valid = std::chrono::duration<double>(*top.first_valid - shared.began).count();
    return outcome;
}

Outcome search_symmetric(Shared& shared, std::uint64_t stream) {
    const layout::Brief& brief = shared.tables.brief;
    Chance chance(shared.effort.seed, stream);
    Outcome outcome;
    Symmetric placed = place_symmetric(*shared.tables.model, layout::orbits(brief, brief.symmetry), chance,
                                       anneal_effort(shared, stream));
    outcome.assignment = std::move(placed.assignment);
    outcome.moves = placed.moves;
    outcome.broken = layout::broken_rules(brief, outcome.assignment);
    outcome.ending = outcome.broken.empty() ? Ending::every_rule_met : Ending::none_found;
    if (outcome.broken.empty()) outcome.first_valid = seconds_since(shared.began);
    outcome.cost = cost_of(brief, outcome.assignment);
    return outcome;
}

/// One restart: its own stream of chance, start, mending, annealing.
Outcome search(Shared& shared, std::uint64_t stream) {
    if (shared.tables.kit) return search_kit(shared, stream);
    if (shared.tables.brief.symmetry != layout::Symmetry::none) return search_symmetric(shared, stream);
    const Model& model = *shared.tables.model;
    const layout::Brief& brief = model.brief;
    const auto out_of_time = [&] {
        return shared.effort.stop.stop_requested() ||
               (shared.effort.seconds && seconds_since(shared.began) > *shared.effort.seconds);
    };
    Chance chance(shared.effort.seed, stream);
    Outcome outcome;
    FirstTop first = look_for_first(model, chance, out_of_time, shared.effort.stop);
    outcome.assignment = std::move(first.assignment);
    outcome.broken = layout::broken_rules(brief, outcome.assignment);
    if (outcome.broken.empty()) {
        outcome.first_valid = seconds_since(shared.began);
        if (shared.effort.shown && stream == 0) shared.effort.shown(outcome.assignment);
    }
    if (outcome.broken.empty() && weights_of(brief) > 0) {
        Annealed annealed = anneal(model, outcome.assignment, chance, anneal_effort(shared, stream));
        outcome.assignment = std::move(annealed.assignment);
        outcome.moves = annealed.moves;
        outcome.broken = layout::broken_rules(brief, outcome.assignment);
        expects(outcome.broken.empty());
    }
    outcome.ending = outcome.broken.empty() ? Ending::every_rule_met
                     : first.impossible     ? Ending::impossible
                                            : Ending::none_found;
    outcome.cost = cost_of(brief, outcome.assignment);
    return outcome;
}

/// What one search has proved holds for all.
bool better(const Outcome& one, const Outcome& other) {
    if ((one.ending == Ending::impossible) != (other.ending == Ending::impossible))
        return one.ending == Ending::impossible;
    if (one.broken.size() != other.broken.size()) return one.broken.size() < other.broken.size();
    if (one.twins != other.twins) return one.twins < other.twins;
    return one.cost < other.cost;
}

/// Runs searches of the streams [first, first + count) on the effort's threads; results in the order of
/// streams.
std::vector<Outcome> search_all(Shared& shared, std::uint64_t first, int count) {
    std::vector<Outcome> outcomes(static_cast<std::size_t>(count));
    std::atomic<int> next{0};
    std::exception_ptr failure;
    std::mutex failure_mutex;
    const auto work = [&] {
        for (int i = next++; i < count; i = next++) try {
                outcomes[static_cast<std::size_t>(i)] = search(shared, first + static_cast<std::uint64_t>(i));
            } catch (...) {
                const std::lock_guard lock(failure_mutex);
                failure = std::current_exception();
            }
    };
    {
        std::vector<std::jthread> threads;
        for (int t = 1; t < std::min(shared.effort.threads, count); ++t) threads.emplace_back(work);
        work();
    }
    if (failure) std::rethrow_exception(failure);
    return outcomes;
}

double share_that_differs(const layout::Brief& brief, const layout::Assignment& one,
                          const layout::Assignment& other) {
    int free = 0, differ = 0;
    for (std::size_t patch = 0; patch < one.patches.size(); ++patch) {
        if (brief.pinned[patch] != layout::no_fabric) continue;
        ++free;
        differ += one.patches[patch] != other.patches[patch];
    }
    return free == 0 ? 0 : static_cast<double>(differ) / free;
}

} // namespace

namespace {

/// Tiny tops are searched to the end, whatever the effort.
void exhaust(const Model& model, Outcome& outcome) {
    constexpr std::int64_t steps = 2'000'000;
    if (!outcome.broken.empty() || !model.brief.board.full()) return;
    outcome.assignment = cheapest(model, outcome.assignment, steps).assignment;
    outcome.cost = cost_of(model.brief, outcome.assignment);
}

} // namespace

Outcome place(const layout::Brief& brief, const Effort& effort) {
    const Clock::time_point began = Clock::now();
    const Tables tables(brief);
    Shared shared(tables, effort, began);
    // Against the clock one long search on each thread beats several short ones.
    shared.searches = effort.seconds ? std::max(1, effort.threads) : std::max(1, effort.restarts);
    std::vector<Outcome> outcomes = search_all(shared, 0, shared.searches);
    std::int64_t moves = 0;
    std::optional<double> first_valid;
    for (const Outcome& outcome : outcomes) {
        moves += outcome.moves;
        if (outcome.first_valid) first_valid = std::min(*outcome.first_valid, first_valid.value_or(1e300));
    }
    Outcome best = std::move(*std::min_element(outcomes.begin(), outcomes.end(), better));
    best.moves = moves;
    best.first_valid = first_valid;
    if (tables.model && brief.symmetry == layout::Symmetry::none && !effort.stop.stop_requested())
        exhaust(*tables.model, best);
    return best;
}

std::vector<Outcome> candidates(const layout::Brief& brief, const Effort& effort, int count) {
    expects(count >= 1);
    const Tables tables(brief);
    Shared shared(tables, effort);
    // Half as many again as asked, so that look-alikes can be left out; with a limit in seconds they share
    // it.
    shared.searches = count == 1 ? std::max(1, effort.restarts) : count + count / 2;
    Effort each = effort;
    if (effort.seconds) each.seconds = *effort.seconds * std::max(1, effort.threads) / shared.searches;
    std::vector<Outcome> found;
    if (effort.seconds) {
        for (int i = 0; i < shared.searches; i += std::max(1, effort.threads)) {
            Shared part(tables, each);
            for (Outcome& outcome : search_all(part, static_cast<std::uint64_t>(i),
                                               std::min(std::max(1, effort.threads), shared.searches - i)))
                found.push_back(std::move(outcome));
        }
    } else {
        found = search_all(shared, 0, shared.searches);
    }
    if (tables.model && brief.symmetry == layout::Symmetry::none && !effort.stop.stop_requested())
        exhaust(*tables.model, *std::min_element(found.begin(), found.end(), better));
    std::stable_sort(found.begin(), found.end(), better);
    std::vector<Outcome> kept;
    constexpr double visibly = 1.0 / 3;
    for (Outcome& outcome : found) {
        if (static_cast<int>(kept.size()) == count) break;
        const bool valid = kept.empty() || outcome.broken.empty();
        const bool fresh = std::all_of(kept.begin(), kept.end(), [&](const Outcome& earlier) {
            return share_that_differs(brief, earlier.assignment, outcome.assignment) >= visibly;
        });
        if (valid && fresh) kept.push_back(std::move(outcome));
    }
    return kept;
}

} // namespace motley::placement
