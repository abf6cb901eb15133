#include "cutting/cut_shuffle.h"

#include <algorithm>
#include <limits>
#include <utility>

namespace motley::cutting {

namespace {

/// So often the margin goes from its widest to nothing.
constexpr std::int64_t rounds = 2;
/// The widest margin is this part of the plan's cost.
constexpr double widest_margin = 0.03;
/// What has no place costs so many times what its area costs.
constexpr double no_place = 1000;

class Shuffling {
public:
    Shuffling(const Frame& yardage, const std::vector<SheetFrames>& sheets, Load start, Work& work)
        : yardage_(yardage, start.left.size()), pool_(start.left.size()), work_(work) {
        areas_.assign(pool_.size(), 0);
        const auto add_frame = [&](const Frame& frame) {
            for (const Lie& lie : frame.lies)
                areas_[static_cast<std::size_t>(lie.kind)] =
                    static_cast<double>(lie.ticks_wide) * static_cast<double>(lie.ticks_high);
        };
        add_frame(yardage);
        for (const SheetFrames& sheet : sheets) {
            draws_.emplace_back();
            for (const Frame& frame : sheet.frames) {
                add_frame(frame);
                draws_.back().emplace_back(frame, pool_.size());
            }
        }
        across_ = static_cast<double>(std::max<std::int64_t>(1, yardage.ticks_wide));
        now_ = std::move(start);
        best_ = now_;
        cost_ = best_cost_ = cost_of(now_.yardage) + cost_of(now_.left);
    }

    Load run(std::int64_t enough) {
        const std::int64_t given = std::max<std::int64_t>(1, work_.left / rounds);
        for (std::int64_t round = rounds; round > 0 && !work_.spent() && !done(enough); --round) {
            if (round != rounds) {
                now_ = best_;
                cost_ = best_cost_;
            }
            const std::int64_t end = given * (round - 1);
            while (work_.left > end && !work_.spent() && !done(enough)) {
                const double share = static_cast<double>(work_.left - end) / static_cast<double>(given);
                step(best_cost_ * widest_margin * share * share);
            }
        }
        return std::move(best_);
    }

private:
    bool done(std::int64_t enough) const {
        return best_.ticks() <= enough &&
               std::all_of(best_.left.begin(), best_.left.end(), [](int count) { return count == 0; });
    }

    /// Of two plans of the same length the one with less on the yardage leaves more to hope for.
    double cost_of(const Row& row) const {
        double area = 0;
        for (const RowSegment& segment : row.segments)
            for (const int i : segment.lies) area += areas_[kind_of(yardage_.frame(), i)];
        return 2 * static_cast<double>(row.ticks_high) + area / across_;
    }
    double cost_of(const std::vector<Row>& rows) const {
        double cost = 0;
        for (const Row& row : rows) cost += cost_of(row);
        return cost;
    }
    double cost_of(const std::vector<int>& left) const {
        double area = 0;
        for (std::size_t k = 0; k < left.size(); ++k) area += left[k] * areas_[k];
        return area / across_ * no_place;
    }

    static std::size_t kind_of(const Frame& frame, int i) {
        return static_cast<std::size_t>(frame.lies[static_cast<std::size_t>(i)].kind);
    }
    void take_back(const Row& row, const Frame& frame) {
        for (const RowSegment& segment : row.segments)
            for (const int i : segment.lies) ++pool_[kind_of(frame, i)];
    }

    RowDraw& draw_of(const LoadedSheet& sheet) {
        return draws_[static_cast<std::size_t>(sheet.sheet)][static_cast<std::size_t>(sheet.frame)];
    }

    /// Moves `many` by chance to the end.
    template <typename Item>
    void choose(std::vector<Item>& items, std::size_t many) {
        for (std::size_t i = 0; i < many; ++i)
            std::swap(items[chance_.below(items.size() - i)], items[items.size() - 1 - i]);
    }

    void step(double margin) {
        std::size_t sheets = 0, rows = 1 + chance_.below(5);
        if (!now_.sheets.empty()) {
            sheets = std::min<std::size_t>(now_.sheets.size(), chance_.below(4));
            rows = sheets == 0 ? rows : chance_.below(4);
        }
        if (!now_.yardage.empty() && chance_.below(8) == 0) rows = 1 + chance_.below(now_.yardage.size());
        rows = std::min(rows, now_.yardage.size());
        choose(now_.sheets, sheets);
        choose(now_.yardage, rows);
        pool_ = now_.left;
        double without = cost_ - cost_of(now_.left);
        for (std::size_t r = now_.yardage.size() - rows; r < now_.yardage.size(); ++r) {
            take_back(now_.yardage[r], yardage_.frame());
            without -= cost_of(now_.yardage[r]);
        }
        for (std::size_t s = now_.sheets.size() - sheets; s < now_.sheets.size(); ++s)
            for (const Row& row : now_.sheets[s].rows) take_back(row, draw_of(now_.sheets[s]).frame());
        work_.spend(200 + 4 * static_cast<std::int64_t>(pool_.size()));
        replan(sheets, rows, without, best_cost_ + margin);
    }

    /// Cuts the pool anew and keeps that when all then costs at most `most`.
    void replan(std::size_t sheets, std::size_t rows, double cost, double most) {
        const Taste taste{chance_.share() * 0.4, chance_.below(2) == 0 ? 0 : chance_.share() * 0.3};
        std::vector<LoadedSheet> loaded;
        for (std::size_t s = now_.sheets.size() - sheets; s < now_.sheets.size(); ++s)
            loaded.push_back(fill(now_.sheets[s].sheet, taste));
        std::vector<int> left(pool_.size(), 0);
        for (std::size_t k = 0; k < left.size(); ++k)
            if (!yardage_.takes(k)) left[k] = std::exchange(pool_[k], 0);
        cost += cost_of(left);
        std::vector<Row> cut;
        while (cost <= most) {
            Row row = yardage_.draw(pool_, std::numeric_limits<std::int64_t>::max(), Start::needed, taste,
                                    chance_, work_);
            if (row.segments.empty()) break;
            cost += cost_of(row);
            cut.push_back(std::move(row));
        }
        if (cost > most) return;
        std::move(loaded.begin(), loaded.end(), now_.sheets.end() - static_cast<std::ptrdiff_t>(sheets));
        now_.yardage.resize(now_.yardage.size() - rows);
        std::move(cut.begin(), cut.end(), std::back_inserter(now_.yardage));
        now_.left = std::move(left);
        cost_ = cost_of(now_.yardage) + cost_of(now_.left); // Summed anew: nothing may creep in.
        work_.spend(20 * static_cast<std::int64_t>(now_.yardage.size() + 1));
        if (cost_ >= best_cost_) return;
        work_.spend(200 * static_cast<std::int64_t>(now_.yardage.size() + now_.sheets.size()));
        best_cost_ = cost_;
        best_ = now_;
    }

    LoadedSheet fill(int sheet, const Taste& taste) {
        std::vector<RowDraw>& ways = draws_[static_cast<std::size_t>(sheet)];
        LoadedSheet loaded{sheet, static_cast<int>(chance_.below(ways.size())), {}};
        RowDraw& draw = ways[static_cast<std::size_t>(loaded.frame)];
        for (std::int64_t room = draw.frame().ticks_high; room > 0;) {
            Row row = draw.draw(pool_, room, Start::any, taste, chance_, work_);
            if (row.segments.empty()) break;
            room -= row.ticks_high;
            loaded.rows.push_back(std::move(row));
        }
        return loaded;
    }

    RowDraw yardage_;
    std::vector<std::vector<RowDraw>> draws_; ///< Per sheet, of its frames.
    std::vector<int> pool_;                   ///< Per kind, what has been taken out.
    std::vector<double> areas_;               ///< Per kind, square ticks.
    double across_ = 1;
    Work& work_;
    Chance chance_{1};
    Load now_, best_;
    double cost_ = 0, best_cost_ = 0;
};

} // namespace

std::int64_t Load::ticks() const {
    std::int64_t sum = 0;
    for (const Row& row : yardage) sum += row.ticks_high;
    return sum;
}

Load shuffled(const Frame& yardage, const std::vector<SheetFrames>& sheets, Load start, std::int64_t enough,
              Work& work) {
    if (start.yardage.size() + start.sheets.size() > most_shuffled) return start;
    return Shuffling(yardage, sheets, std::move(start), work).run(enough);
}

} // namespace motley::cutting
