// Why a board that was refuted cannot be filled: pins and counts are let go one by one as long as it stays
// impossible; what is left is to blame.

#include <fmt/format.h>

#include <algorithm>

#include "placement/obstacles_advice.h"
#include "placement/obstacles_pins.h"

namespace motley::placement {

namespace {

std::size_t at(int i) {
    return static_cast<std::size_t>(i);
}

class Reason {
public:
    Reason(const Board& board, std::int64_t work)
        : board_(board), brief_(board.brief), whole_work_(work), work_(work), blamed_(board.brief) {}

    std::vector<Problem> find() {
        const Finding finding = ask(blamed_, work_);
        if (finding.answer != Answer::impossible) return {};
        let_go();
        return {{"", what(finding), Advice(brief_, whole_work_).all(pins_)}};
    }

private:
    Finding ask(const Demand& demand, std::int64_t work) {
        work = std::min(work, work_);
        if (work <= 0) return {};
        Search search(board_, demand, work);
        Finding finding = search.decide();
        work_ -= work - search.work_left();
        return finding;
    }

    /// The work is shared; a question that has no answer must not take all of it.
    bool stays_impossible(const Demand& demand) {
        constexpr int questions = 40;
        return ask(demand, whole_work_ / questions).answer == Answer::impossible;
    }

    static void loosen(Demand& demand, std::size_t f, int most) {
        demand.counts[f] = {0, most};
        for (auto& role : demand.role_counts)
            if (role[f].most > 0) role[f] = {0, most};
    }

    /// So many at a time, where that leaves it impossible.
    void let_go_of_pins(std::size_t many) {
        for (std::size_t from = 0; from < pins_.size();) {
            const std::size_t to = std::min(pins_.size(), from + many);
            Demand without = blamed_;
            for (std::size_t k = from; k < to; ++k) without.pinned[at(pins_[k])] = layout::no_fabric;
            if (!stays_impossible(without)) {
                from = to;
                continue;
            }
            blamed_ = std::move(without);
            pins_.erase(pins_.begin() + static_cast<std::ptrdiff_t>(from),
                        pins_.begin() + static_cast<std::ptrdiff_t>(to));
        }
    }

    void let_go() {
        for (int patch = 0; patch < board_.patches; ++patch)
            if (blamed_.pinned[at(patch)] != layout::no_fabric) pins_.push_back(patch);
        for (std::size_t many = std::max<std::size_t>(pins_.size() / 2, 1); !pins_.empty(); many /= 2) {
            let_go_of_pins(many);
            if (many == 1) break;
        }
        for (std::size_t f = 0; f < brief_.names.size(); ++f) {
            const layout::Range range = blamed_.counts[f];
            if (range.most == 0 || (range.least == 0 && range.most >= board_.patches)) continue;
            Demand without = blamed_;
            loosen(without, f, board_.patches);
            if (stays_impossible(without))
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
                                        place_of(brief_, pin)));
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
            out += fmt::format("; {} is left without a fabric", place_of(brief_, finding.empty_patch));
        return out;
    }

    const Board& board_;
    const layout::Brief& brief_;
    std::int64_t whole_work_, work_;
    Demand blamed_;
    std::vector<int> pins_;
    std::vector<std::size_t> counts_;
};

} // namespace

std::vector<Problem> contradiction(const Board& board, std::int64_t work) {
    return Reason(board, work).find();
}

} // namespace motley::placement
