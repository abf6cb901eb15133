#include "cutting/cut_prices.h"

#include <algorithm>
#include <array>
#include <limits>

#include "cutting/cut_master.h"
#include "cutting/cut_sheet.h"
#include "cutting/knapsack.h"

namespace motley::cutting {

namespace {

__extension__ typedef __int128 Wide;

/// Columns taken in from one look at all heights.
constexpr std::size_t columns_at_once = 8;
/// Value per unit of height of a pile without end is counted in this much finer steps.
constexpr std::int64_t density_scale = 1 << 10;

/// A fraction of whole numbers, above 0.
struct Ratio {
    std::int64_t over = 1, under = 1;
    bool operator>(const Ratio& other) const {
        return static_cast<Wide>(over) * other.under > static_cast<Wide>(other.over) * under;
    }
};

/// Column generation: prices, then strips that are worth more than their height, in turn.
class Generation {
public:
    Generation(const Frame& frame, const std::vector<SheetFrames>& sheets, const std::vector<Kind>& kinds,
               std::int64_t known, Work& work)
        : frame_(frame), sheets_(sheets), kinds_(kinds), known_(known), work_(work), table_(frame) {
        for (const Kind& kind : kinds) asked_.push_back(kind.count);
        height_ = static_cast<int>(std::min<std::int64_t>(frame.height, known / frame.unit_high));
    }

    Prices run() {
        Master master = start();
        Prices best;
        best.values = area_values(frame_, asked_.size());
        best.bound = std::max(bound_of(best.values, Patience::short_), bound_by_area());
        for (bool more = true; more;) {
            master.solve();
            std::vector<std::int64_t> values;
            for (std::size_t k = 0; k < asked_.size(); ++k)
                values.push_back(static_cast<std::int64_t>(
                    std::max(0.0, master.prices()[k] * static_cast<double>(value_scale))));
            more = look(master, values) && !work_.spent();
            const std::int64_t bound = bound_of(scaled(values), more ? Patience::short_ : Patience::long_);
            if (bound > best.bound || (bound == best.bound && !more)) {
                best.bound = bound;
                best.values = scaled(values);
            }
        }
        const std::vector<double> amounts = master.amounts();
        for (std::size_t c = 0; c < rows_.size(); ++c)
            if (amounts[c] > 1e-6 && !rows_[c].segments.empty()) best.mix.push_back({rows_[c], amounts[c]});
        return best;
    }

private:
    enum class Patience : std::uint8_t { short_, long_ };

    /// One column for each kind: a strip of nothing else. Sheets: leaving one unused.
    Master start() {
        std::vector<double> asked;
        std::vector<MasterColumn> first;
        for (std::size_t k = 0; k < asked_.size(); ++k) {
            MasterColumn column{{{static_cast<int>(k), 1.0}}, 0.0}; // Too small to count: free.
            Row row;
            for (std::size_t i = 0; i < frame_.lies.size(); ++i) {
                const Lie& lie = frame_.lies[i];
                if (lie.kind != static_cast<int>(k) || (column.cost > 0 && lie.height >= column.cost))
                    continue;
                const int fit = std::max(1, std::min(asked_[k], frame_.width / lie.width));
                column = {{{static_cast<int>(k), static_cast<double>(fit)}}, static_cast<double>(lie.height)};
                row = {lie.height, lie.ticks_high, {}};
                row.segments.assign(static_cast<std::size_t>(fit), {lie.width, {static_cast<int>(i)}});
            }
            asked.push_back(column.cost > 0 ? asked_[k] : 0);
            first.push_back(std::move(column));
            rows_.push_back(std::move(row));
        }
        for (std::size_t s = 0; s < sheets_.size(); ++s) {
            asked.push_back(-sheets_[s].count);
            first.push_back({{{static_cast<int>(asked_.size() + s), -1.0}}, 0.0});
            rows_.emplace_back();
        }
        return Master(std::move(asked), std::move(first));
    }

    /// Looks for strips worth more than their height and takes them in. False when there are none.
    bool look(Master& master, const std::vector<std::int64_t>& values) {
        table_.fill(values, asked_, height_, work_);
        worst_ = {};
        struct Found {
            int height;
            Ratio ratio;
        };
        std::vector<Found> found;
        work_.spend(static_cast<std::int64_t>(table_.heights().size() * frame_.widths.size()));
        for (const int height : table_.heights()) {
            const std::int64_t enough = height * value_scale;
            if (table_.quick(height, frame_.width) <= enough) continue;
            const std::int64_t value = table_.most(height, frame_.width, work_);
            if (value > enough) found.push_back({height, {value, enough}});
        }
        std::stable_sort(found.begin(), found.end(),
                         [](const Found& a, const Found& b) { return a.ratio > b.ratio; });
        if (!found.empty()) worst_ = found.front().ratio;
        if (found.size() > columns_at_once) found.resize(columns_at_once);
        std::vector<MasterColumn> columns;
        std::vector<Row> rows;
        for (const Found& one : found) {
            rows.push_back(table_.relaxed(one.height, frame_.width, work_));
            columns.push_back(column_of(rows.back(), frame_, rows.back().height));
        }
        look_at_endless(values, columns, rows);
        look_at_sheets(master, values, columns, rows);
        std::size_t kept = 0;
        for (std::size_t c = 0; c < columns.size(); ++c)
            if (master.reduced_cost(columns[c]) < -1e-7 * (1 + columns[c].cost)) {
                if (kept != c) {
                    columns[kept] = std::move(columns[c]);
                    rows[kept] = std::move(rows[c]);
                }
                ++kept;
            }
        columns.resize(kept);
        rows.resize(kept);
        master.add(std::move(columns));
        for (Row& row : rows) rows_.push_back(std::move(row));
        return kept > 0;
    }

    MasterColumn column_of(const Row& row, const Frame& frame, double cost) const {
        MasterColumn column;
        column.cost = cost;
        const std::vector<int> counts = counted(row, frame, asked_.size());
        for (std::size_t k = 0; k < counts.size(); ++k)
            if (counts[k] > 0)
                column.entries.push_back({static_cast<int>(k), static_cast<double>(counts[k])});
        return column;
    }

    /// Strips taller than the table reaches are worth no more per height than piles without end would be.
    void look_at_endless(const std::vector<std::int64_t>& values, std::vector<MasterColumn>& columns,
                         std::vector<Row>& rows) {
        if (static_cast<std::int64_t>(height_ + 1) * frame_.unit_high > known_ || !frame_.stacks) return;
        std::vector<std::int64_t> density; // Per width: the most value per height no wider.
        std::vector<std::size_t> densest;
        std::int64_t best_so_far = 0;
        std::size_t lie_so_far = 0, i = 0;
        for (const int end : frame_.ends) {
            for (; i < static_cast<std::size_t>(end); ++i) {
                const Lie& lie = frame_.lies[i];
                const std::int64_t value = values[static_cast<std::size_t>(lie.kind)];
                const std::int64_t here = (value * density_scale + lie.height - 1) / lie.height;
                if (here <= best_so_far) continue;
                best_so_far = here;
                lie_so_far = i;
            }
            density.push_back(best_so_far);
            densest.push_back(lie_so_far);
        }
        const std::size_t size = static_cast<std::size_t>(frame_.width) + 1;
        std::vector<std::int64_t> best(size);
        for (std::size_t c = 0; c < density.size(); ++c)
            let_in(best, frame_.widths[c], density[c], frame_.width);
        work_.spend(static_cast<std::int64_t>(size * density.size()));
        const Ratio ratio{best.back(), value_scale * density_scale};
        if (!(ratio > Ratio{1, 1})) return;
        if (ratio > worst_) worst_ = ratio;
        MasterColumn column;
        column.cost = frame_.height;
        for (int x = frame_.width; x > 0;) {
            const auto here = [&](int at) { return best[static_cast<std::size_t>(at)]; };
            std::size_t c = 0;
            while (c < density.size() &&
                   (frame_.widths[c] > x || here(x - frame_.widths[c]) + density[c] != here(x)))
                ++c;
            if (c == density.size() || density[c] == 0) {
                --x;
                continue;
            }
            x -= frame_.widths[c];
            const Lie& lie = frame_.lies[densest[c]];
            column.entries.push_back({lie.kind, static_cast<double>(frame_.height) / lie.height});
        }
        columns.push_back(std::move(column));
        rows.emplace_back();
    }

    void look_at_sheets(const Master& master, const std::vector<std::int64_t>& values,
                        std::vector<MasterColumn>& columns, std::vector<Row>& rows) {
        for (std::size_t s = 0; s < sheets_.size() && !work_.spent(); ++s)
            for (const Frame& frame : sheets_[s].frames) {
                const std::vector<int> counts = sheet_counts(frame, values, asked_, work_);
                MasterColumn column;
                for (std::size_t k = 0; k < counts.size(); ++k)
                    if (counts[k] > 0)
                        column.entries.push_back({static_cast<int>(k), static_cast<double>(counts[k])});
                column.entries.push_back({static_cast<int>(asked_.size() + s), -1.0});
                if (master.reduced_cost(column) >= -1e-7) continue;
                columns.push_back(std::move(column));
                rows.emplace_back();
            }
    }

    /// Prices under which no strip looked at is worth more than its height.
    std::vector<std::int64_t> scaled(const std::vector<std::int64_t>& values) const {
        std::vector<std::int64_t> down;
        for (const std::int64_t value : values)
            down.push_back(static_cast<std::int64_t>(static_cast<Wide>(value) * worst_.under / worst_.over));
        return down;
    }

    /// Ticks, of all pieces as they are, before any rounding.
    std::int64_t bound_by_area() const {
        if (!sheets_.empty() || frame_.ticks_wide == 0) return 0;
        Wide area = 0;
        for (const Kind& kind : kinds_) area += static_cast<Wide>(kind.width) * kind.height * kind.count;
        return static_cast<std::int64_t>(
            std::min<Wide>((area + frame_.ticks_wide - 1) / frame_.ticks_wide, known_));
    }

    /// Ticks. Valid for prices under which no strip is worth more than its height.
    std::int64_t bound_of(const std::vector<std::int64_t>& values, Patience patience) {
        Wide worth = 0;
        for (std::size_t k = 0; k < values.size(); ++k) worth += static_cast<Wide>(values[k]) * asked_[k];
        if (!sheets_.empty() && patience == Patience::short_) return -1; // Told once, at the end.
        for (const SheetFrames& sheet : sheets_) {
            std::int64_t most = 0;
            for (const Frame& frame : sheet.frames)
                most = std::max(most, most_of_sheet(frame, values, asked_, work_));
            worth -= static_cast<Wide>(most) * sheet.count;
        }
        if (worth <= 0) return 0;
        const Wide units = (worth + value_scale - 1) / value_scale;
        const Wide ticks = frame_.exact ? units * frame_.unit_high
                                        : (worth * frame_.unit_high + value_scale - 1) / value_scale;
        return static_cast<std::int64_t>(std::min<Wide>(ticks, known_));
    }

    const Frame& frame_;
    const std::vector<SheetFrames>& sheets_;
    const std::vector<Kind>& kinds_;
    std::int64_t known_;
    Work& work_;
    int height_ = 0;
    std::vector<int> asked_;
    std::vector<Row> rows_; ///< Of the master's columns; empty where none is a strip that can be cut.
    StripTable table_;
    Ratio worst_;
};

} // namespace

Prices find_prices(const Frame& frame, const std::vector<SheetFrames>& sheets, const std::vector<Kind>& kinds,
                   std::int64_t known, Work& work) {
    return Generation(frame, sheets, kinds, known, work).run();
}

std::vector<std::int64_t> area_values(const Frame& frame, std::size_t kinds) {
    std::vector<std::int64_t> values(kinds, 0);
    for (const Lie& lie : frame.lies) {
        const std::int64_t value =
            static_cast<std::int64_t>(lie.width) * lie.height * value_scale / std::max(frame.width, 1);
        std::int64_t& least = values[static_cast<std::size_t>(lie.kind)];
        least = least == 0 ? value : std::min(least, value);
    }
    return values;
}

} // namespace motley::cutting
