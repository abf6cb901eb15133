#include "cutting/guillotine.h"

#include <algorithm>
#include <map>
#include <queue>
#include <tuple>

#include "fault/fault.h"

namespace motley::cutting {

namespace {

/// Sums of sides up to `whole`, rising, with 0: every cut can be pushed back to one of them.
std::vector<int> sums(const std::vector<int>& sides, int whole) {
    std::vector<char> reached(static_cast<std::size_t>(whole) + 1);
    reached[0] = 1;
    for (const int side : sides)
        for (int at = side; at <= whole; ++at)
            if (reached[static_cast<std::size_t>(at - side)]) reached[static_cast<std::size_t>(at)] = 1;
    std::vector<int> points;
    for (int at = 0; at <= whole; ++at)
        if (reached[static_cast<std::size_t>(at)]) points.push_back(at);
    return points;
}

/// Where the greatest point no greater than each length stands.
std::vector<std::size_t> floors(const std::vector<int>& points, int whole) {
    std::vector<std::size_t> floor(static_cast<std::size_t>(whole) + 1);
    std::size_t at = 0;
    for (int length = 0; length <= whole; ++length) {
        while (at + 1 < points.size() && points[at + 1] <= length) ++at;
        floor[static_cast<std::size_t>(length)] = at;
    }
    return floor;
}

/// The best of every rectangle whose sides are sums, copies without limit.
class Unlimited {
public:
    Unlimited(int width, int height, const std::vector<GuillotinePiece>& pieces) : pieces_(pieces) {
        std::vector<int> wide, high;
        for (const GuillotinePiece& piece : pieces) {
            if (piece.width > width || piece.height > height) continue;
            wide.push_back(piece.width);
            high.push_back(piece.height);
        }
        xs_ = sums(wide, width);
        ys_ = sums(high, height);
        x_of_ = floors(xs_, width);
        y_of_ = floors(ys_, height);
        best_.resize(xs_.size() * ys_.size());
        for (std::size_t x = 0; x < xs_.size(); ++x)
            for (std::size_t y = 0; y < ys_.size(); ++y) best_[x * ys_.size() + y] = look(x, y);
    }

    const std::vector<int>& xs() const { return xs_; }
    const std::vector<int>& ys() const { return ys_; }
    std::int64_t value(int width, int height) const {
        return at(x_of_[static_cast<std::size_t>(width)], y_of_[static_cast<std::size_t>(height)]).value;
    }

    void count(int width, int height, std::vector<int>& counts) const {
        std::vector<std::pair<int, int>> open{{width, height}};
        while (!open.empty()) {
            const auto [w, h] = open.back();
            open.pop_back();
            const std::size_t x = x_of_[static_cast<std::size_t>(w)], y = y_of_[static_cast<std::size_t>(h)];
            const Best& best = at(x, y);
            if (best.value == 0) continue;
            if (best.piece >= 0) {
                ++counts[static_cast<std::size_t>(best.piece)];
            } else if (best.across > 0) {
                open.emplace_back(best.across, ys_[y]);
                open.emplace_back(xs_[x] - best.across, ys_[y]);
            } else {
                open.emplace_back(xs_[x], best.up);
                open.emplace_back(xs_[x], ys_[y] - best.up);
            }
        }
    }

private:
    struct Best {
        std::int64_t value = 0;
        int piece = -1;         ///< The piece that is all there is, or
        int across = 0, up = 0; ///< where it is cut.
    };
    const Best& at(std::size_t x, std::size_t y) const { return best_[x * ys_.size() + y]; }

    Best look(std::size_t x, std::size_t y) const {
        Best best;
        for (std::size_t p = 0; p < pieces_.size(); ++p)
            if (pieces_[p].width <= xs_[x] && pieces_[p].height <= ys_[y] && pieces_[p].value > best.value)
                best = {pieces_[p].value, static_cast<int>(p), 0, 0};
        for (std::size_t c = 1; c < x && xs_[c] * 2 <= xs_[x]; ++c) {
            const std::int64_t value =
                at(c, y).value + at(x_of_[static_cast<std::size_t>(xs_[x] - xs_[c])], y).value;
            if (value > best.value) best = {value, -1, xs_[c], 0};
        }
        for (std::size_t c = 1; c < y && ys_[c] * 2 <= ys_[y]; ++c) {
            const std::int64_t value =
                at(x, c).value + at(x, y_of_[static_cast<std::size_t>(ys_[y] - ys_[c])]).value;
            if (value > best.value) best = {value, -1, 0, ys_[c]};
        }
        return best;
    }

    const std::vector<GuillotinePiece>& pieces_;
    std::vector<int> xs_, ys_;
    std::vector<std::size_t> x_of_, y_of_;
    std::vector<Best> best_;
};

/// At most so much can be had from the sheet beside a rectangle in its corner.
class Beside {
public:
    Beside(int width, int height, const Unlimited& unlimited) : xs_(unlimited.xs()), ys_(unlimited.ys()) {
        // A rectangle's sides are sums too; the sheet's own sides end the lists.
        if (xs_.back() != width) xs_.push_back(width);
        if (ys_.back() != height) ys_.push_back(height);
        most_.assign(xs_.size() * ys_.size(), 0);
        for (std::size_t x = xs_.size(); x-- > 0;)
            for (std::size_t y = ys_.size(); y-- > 0;) {
                std::int64_t most = 0;
                for (std::size_t to = x + 1; to < xs_.size(); ++to)
                    most = std::max(most, at(to, y) + unlimited.value(xs_[to] - xs_[x], ys_[y]));
                for (std::size_t to = y + 1; to < ys_.size(); ++to)
                    most = std::max(most, at(x, to) + unlimited.value(xs_[x], ys_[to] - ys_[y]));
                most_[x * ys_.size() + y] = most;
            }
    }

    std::int64_t most(int width, int height) const {
        const auto x = std::lower_bound(xs_.begin(), xs_.end(), width) - xs_.begin();
        const auto y = std::lower_bound(ys_.begin(), ys_.end(), height) - ys_.begin();
        return at(static_cast<std::size_t>(x), static_cast<std::size_t>(y));
    }

private:
    std::int64_t at(std::size_t x, std::size_t y) const { return most_[x * ys_.size() + y]; }

    std::vector<int> xs_, ys_;
    std::vector<std::int64_t> most_;
};

/// A rectangle that edge-to-edge cuts part into these pieces.
struct Joined {
    int width = 0, height = 0;
    std::int64_t value = 0, promise = 0; ///< What is in it; with the most that may lie beside it.
    std::vector<int> counts;
};

class Joining {
public:
    Joining(int width, int height, const std::vector<GuillotinePiece>& pieces, const Unlimited& unlimited)
        : width_(width), height_(height), pieces_(pieces), beside_(width, height, unlimited) {}

    GuillotineCut run(std::int64_t joins) {
        best_.counts.assign(pieces_.size(), 0);
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            Joined one{pieces_[p].width, pieces_[p].height, pieces_[p].value, 0,
                       std::vector<int>(pieces_.size())};
            one.counts[p] = 1;
            offer(std::move(one));
        }
        std::vector<std::size_t> closed;
        while (!open_.empty()) {
            const std::size_t next = std::get<2>(open_.top());
            best_.bound = std::max(best_.value, all_[next].promise);
            if (all_[next].promise <= best_.value || joins < 0) break;
            open_.pop();
            closed.push_back(next);
            for (const std::size_t other : closed) join(next, other);
            joins -= static_cast<std::int64_t>(closed.size());
        }
        if (open_.empty()) best_.bound = best_.value;
        return best_;
    }

private:
    void join(std::size_t a, std::size_t b) {
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            const int most = pieces_[p].most;
            if (most > 0 && all_[a].counts[p] + all_[b].counts[p] > most) return;
        }
        const auto offer_as = [&](int width, int height) {
            if (width > width_ || height > height_) return;
            const std::int64_t value = all_[a].value + all_[b].value;
            if (value + beside_.most(width, height) <= best_.value) return;
            Joined both{width, height, value, 0, all_[a].counts};
            for (std::size_t p = 0; p < pieces_.size(); ++p) both.counts[p] += all_[b].counts[p];
            offer(std::move(both));
        };
        offer_as(all_[a].width + all_[b].width, std::max(all_[a].height, all_[b].height));
        offer_as(std::max(all_[a].width, all_[b].width), all_[a].height + all_[b].height);
    }

    void offer(Joined joined) {
        if (joined.width > width_ || joined.height > height_) return;
        joined.promise = joined.value + beside_.most(joined.width, joined.height);
        // The same pieces in no larger a rectangle are as good.
        auto& known = known_[joined.counts];
        for (const auto& [width, height] : known)
            if (width <= joined.width && height <= joined.height) return;
        known.emplace_back(joined.width, joined.height);
        if (joined.value > best_.value) {
            best_.value = joined.value;
            best_.counts = joined.counts;
        }
        open_.emplace(joined.promise, joined.value, all_.size());
        all_.push_back(std::move(joined));
    }

    int width_, height_;
    const std::vector<GuillotinePiece>& pieces_;
    Beside beside_;
    std::vector<Joined> all_;
    std::priority_queue<std::tuple<std::int64_t, std::int64_t, std::size_t>> open_; ///< Most promising first.
    std::map<std::vector<int>, std::vector<std::pair<int, int>>> known_;
    GuillotineCut best_;
};

} // namespace

GuillotineCut guillotine_cut(int width, int height, const std::vector<GuillotinePiece>& pieces,
                             std::int64_t joins) {
    expects(width > 0 && height > 0 && width <= 20'000 && height <= 20'000);
    std::vector<GuillotinePiece> fitting = pieces; // A piece that does not fit is worth nothing.
    for (GuillotinePiece& piece : fitting) {
        expects(piece.width > 0 && piece.height > 0 && piece.value >= 0);
        if (piece.width > width || piece.height > height) piece.value = 0;
    }
    const Unlimited unlimited(width, height, fitting);
    GuillotineCut cut{unlimited.value(width, height), unlimited.value(width, height),
                      std::vector<int>(pieces.size())};
    unlimited.count(width, height, cut.counts);
    bool within = true;
    for (std::size_t p = 0; p < pieces.size(); ++p)
        within = within && (pieces[p].most == 0 || cut.counts[p] <= pieces[p].most);
    return within ? cut : Joining(width, height, fitting, unlimited).run(joins);
}

} // namespace motley::cutting
