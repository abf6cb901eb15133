// Why a board that was refuted cannot be filled: pins and counts are let go one by one as long as it stays
// impossible; what is left is to blame.

#include <fmt/format.h>

#include <algorithm>

#include "placement/obstacles_pins.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class Reason {
public:
    Reason(const Board& board, std::int64_t work)
        : board_(board), brief_(board.brief), work_(work), blamed_(board.brief) {}

    std::vector<Problem> find() {
        const Finding finding = ask(blamed_);
        if (finding.answer != Answer::impossible) return {};
        let_go();
        return {{"", what(finding), remedy()}};
    }

private:
    /// The work is shared: an early question may take all of it, the later ones then go without an answer.
    Finding ask(const Demand& demand) {
        if (work_ <= 0) return {};
        Search search(board_, demand, work_);
        Finding finding = search.decide();
        work_ = search.work_left();
        return finding;
    }

    static void loosen(Demand& demand, std::size_t f, int most) {
        demand.counts[f] = {0, most};
        for (auto& role : demand.role_counts)
            if (role[f].most > 0) role[f] = {0, most};
    }

    void let_go() {
        for (int patch = 0; patch < board_.patches; ++patch) {
            if (blamed_.pinned[at(patch)] == layout::no_fabric) continue;
            Demand without = blamed_;
            without.pinned[at(patch)] = layout::no_fabric;
            if (ask(without).answer == Answer::impossible)
                blamed_ = std::move(without);
            else
                pins_.push_back(patch);
        }
        for (std::size_t f = 0; f < brief_.names.size(); ++f) {
            const layout::Range range = blamed_.counts[f];
            if (range.most == 0 || (range.least == 0 && range.most >= board_.patches)) continue;
            Demand without = blamed_;
            loosen(without, f, board_.patches);
            if (ask(without).answer == Answer::impossible)
                blamed_ = std::move(without);
            else
                counts_.push_back(f);
        }
    }

    std::string number_of(std::size_t f) const {
        const layout::Range& range = brief_.counts[f];
        return range.least == range.most
                   ? fmt::format("{} of {}", range.least, brief_.names[f])
                   : fmt::format("{} to {} of {}", range.least, range.most, brief_.names[f]);
    }

    std::string what(const Finding& finding) const {
        constexpr std::size_t most_named = 8;
        std::vector<std::string> parts;
        for (const std::size_t f : counts_) parts.push_back(number_of(f));
        for (const int pin : pins_)
            parts.push_back(fmt::format("{} pinned at {}",
                                        brief_.names[layout::index(brief_.pinned[at(pin)])],
                                        place_of(board_, pin)));
        std::string rules = rules_that_hold(brief_);
        if (rules.empty()) rules = "the rules";
        const std::size_t more = parts.size() > most_named ? parts.size() - most_named : 0;
        if (more > 0) parts.resize(most_named), parts.push_back(fmt::format("{} more pins or counts", more));
        std::string out =
            parts.empty()
                ? fmt::format("impossible: with {} these fabrics cannot fill {} across and {} down", rules,
                              brief_.columns, brief_.rows)
                : fmt::format("impossible: with {} on {} across and {} down there is no room for {}", rules,
                              brief_.columns, brief_.rows, fmt::join(parts, ", "));
        if (parts.size() > 1) out += " together";
        if (finding.empty_patch >= 0)
            out += fmt::format("; {} is left without a fabric", place_of(board_, finding.empty_patch));
        return out;
    }

    /// The first single change that was found to make room: one pin lifted, one patch of a fabric given to
    /// another, counts near by, a looser rule.
    std::string remedy() {
        for (const int pin : pins_) {
            Demand without(brief_);
            without.pinned[at(pin)] = layout::no_fabric;
            if (ask(without).answer == Answer::possible)
                return fmt::format("unpin {}", place_of(board_, pin));
        }
        if (const std::string counts = one_for_another(); !counts.empty()) return counts;
        for (int step = 1; step <= 2; ++step)
            if (const std::string counts = other_counts(step); !counts.empty()) return counts;
        if (brief_.rules.touching == layout::Touching::corner && brief_.rules.apart < 2) {
            layout::Brief looser = brief_;
            looser.rules.touching = layout::Touching::edge;
            if (work_ > 0 && decide(looser, work_).answer == Answer::possible)
                return "let corners touch (\"touching\": \"edge\")";
        }
        return pins_.empty() ? "change one of these numbers, add a fabric, or loosen the rule"
                             : "unpin one of these, change one of these numbers, or loosen the rule";
    }

    /// One fewer of one fabric and one more of another.
    std::string one_for_another() {
        constexpr std::size_t most_fabrics = 12;
        if (board_.places > 1 || brief_.names.size() > most_fabrics) return {};
        for (const std::size_t f : counts_)
            for (std::size_t g = 0; g < brief_.names.size(); ++g)
                for (const auto& [fewer, more] : {std::pair{f, g}, std::pair{g, f}}) {
                    if (fewer == more || brief_.counts[fewer].least == 0) continue;
                    Demand other(brief_);
                    for (layout::Range* range : {&other.counts[fewer], &other.role_counts[0][fewer]})
                        --range->least, --range->most;
                    for (layout::Range* range : {&other.counts[more], &other.role_counts[0][more]})
                        ++range->least, ++range->most;
                    if (ask(other).answer == Answer::possible)
                        return fmt::format("use {} of {} instead of {} and {} of {} instead of {}",
                                           other.counts[fewer].most, brief_.names[fewer],
                                           brief_.counts[fewer].most, other.counts[more].least,
                                           brief_.names[more], brief_.counts[more].least);
                }
        return {};
    }

    /// Each count within `step` of what was asked.
    std::string other_counts(int step) {
        Demand near(brief_);
        for (std::size_t f = 0; f < brief_.names.size(); ++f) {
            const auto widen = [&](layout::Range& range) {
                if (range.most > 0) range = {std::max(0, range.least - step), range.most + step};
            };
            widen(near.counts[f]);
            for (auto& role : near.role_counts) widen(role[f]);
        }
        const Finding finding = ask(near);
        if (finding.answer != Answer::possible) return {};
        std::vector<int> used(brief_.names.size());
        for (const int f : finding.filling) ++used[at(f)];
        std::vector<std::string> changes;
        for (std::size_t f = 0; f < used.size(); ++f)
            if (used[f] < brief_.counts[f].least || used[f] > brief_.counts[f].most)
                changes.push_back(fmt::format(
                    "{} of {} instead of {}", used[f], brief_.names[f],
                    used[f] < brief_.counts[f].least ? brief_.counts[f].least : brief_.counts[f].most));
        if (changes.empty() || changes.size() > 6) return {};
        return fmt::format("use {}", fmt::join(changes, " and "));
    }

    const Board& board_;
    const layout::Brief& brief_;
    std::int64_t work_;
    Demand blamed_;
    std::vector<int> pins_;
    std::vector<std::size_t> counts_;
};

} // namespace

std::vector<Problem> contradiction(const Board& board, std::int64_t work) {
    return Reason(board, work).find();
}

} // namespace motley::placement
