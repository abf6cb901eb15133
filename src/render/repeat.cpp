#include "render/repeat.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <optional>
#include <vector>

#include "fault/fault.h"

namespace motley::render {

namespace {

/// Found by eye over hard and ordinary prints. A quilter sees a wrong colour first, then a bad join, then a
/// print out of step; and would rather see all of the photo.
struct Weights {
    double join = 0.7, overlap = 0.3, drift = 1.5;
    double excess = 2;   ///< Of drift beyond `little_drift`.
    double area = 0.4;   ///< Of the photo that is not shown.
    double aside = 0.02; ///< Of steps that are not level.
};
constexpr double little_drift = 0.05;
constexpr double in_step = 0.25; ///< The overlap of a print that surely goes on in step differs by less.

struct Candidate {
    Step step;
    double score = 0;
};

bool better(const Candidate& one, const Candidate& other) {
    return one.score < other.score;
}

Step operator-(Step one, Step other) {
    return {one.x - other.x, one.y - other.y};
}
Step operator+(Step one, Step other) {
    return {one.x + other.x, one.y + other.y};
}
Step turned(Step step) {
    return {step.y, step.x};
}

/// Looks for the step to the copy at the right: straight beside the first, or beside a stack of copies.
class Search {
public:
    explicit Search(const Beside& cloth) : cloth_(cloth) {
        const int top = cloth.top();
        known_.resize(static_cast<std::size_t>(cloth.width(top)) *
                      static_cast<std::size_t>(2 * cloth.height(top)));
    }

    Candidate straight() { return best({}, false); }
    /// Beside a stack whose copies are `stack` apart.
    Candidate dropped(Step stack) { return best(stack, true); }

private:
    /// The step from the stack's next copy, and the rows that it, and not the first, is beside.
    struct Other {
        Step step;
        double share = 0;
    };

    Candidate best(Step stack, bool may_drop);
    std::optional<Other> other(int level, Step step, Step stack) const;
    const Fit& fit(Step step);
    Fit fit(Step step, Step stack);
    double dyes_wrong(const Fit& fit) const;
    double dyes_wrong(int level, Step step, Step stack);
    double mixed(int level, Step step, Step stack, double (Beside::*measure)(int, Step) const) const;
    double shown(int level, Step step) const;
    void refine(int level, Candidate& candidate, Step stack, bool may_drop);
    int least_lap(int level) const { return std::max(2, cloth_.width(level) / 16); }
    int slack(int level, bool may_drop) const {
        return may_drop ? cloth_.height(level) / 2 : std::max(1, cloth_.height(level) / 24);
    }

    const Beside& cloth_;
    Weights weigh_;
    std::vector<std::optional<Fit>> known_;
};

const Fit& Search::fit(Step step) {
    const int top = cloth_.top();
    const auto at =
        static_cast<std::size_t>(step.y + cloth_.height(top)) * static_cast<std::size_t>(cloth_.width(top)) +
        static_cast<std::size_t>(step.x);
    if (!known_[at]) known_[at] = cloth_.fit(step);
    return *known_[at];
}

Fit Search::fit(Step step, Step stack) {
    Fit whole = fit(step);
    if (const std::optional<Other> second = other(cloth_.top(), step, stack)) {
        const Fit& rest = fit(second->step);
        whole.join += second->share * (rest.join - whole.join);
        whole.overlap += second->share * (rest.overlap - whole.overlap);
        whole.drift += second->share * (rest.drift - whole.drift);
    }
    return whole;
}

/// What it costs that the copies show other shares of the dyes than the photo. A print that agrees with
/// itself is known better than by the shares of one photo.
double Search::dyes_wrong(const Fit& fit) const {
    return weigh_.drift * (fit.drift + weigh_.excess * std::max(0.0, fit.drift - little_drift)) *
           std::min(1.0, fit.overlap / in_step);
}

/// As far as the coarsest level tells.
double Search::dyes_wrong(int level, Step step, Step stack) {
    const int top = cloth_.top(), levels = top - level, half = (1 << levels) / 2;
    const Step coarse{std::min((step.x + half) >> levels, cloth_.width(top) - 1), (step.y + half) >> levels};
    return dyes_wrong(fit(coarse, {stack.x >> top, stack.y >> top}));
}

std::optional<Search::Other> Search::other(int level, Step step, Step stack) const {
    if (step.y == 0 || stack.y == 0) return {};
    const Step there = step.y > 0 ? step - stack : step + stack;
    const int height = cloth_.height(level);
    if (there.x <= 0 || there.x >= cloth_.width(level) || std::abs(there.y) >= height) return {};
    return Other{there, static_cast<double>(std::abs(step.y)) / height};
}

double Search::shown(int level, Step step) const {
    const double aside = std::min(1.0, 12.0 * std::abs(step.y) / cloth_.height(level));
    return weigh_.area * (1 - static_cast<double>(step.x) / cloth_.width(level)) + weigh_.aside * aside;
}

/// The best of the nearby steps: those right around, and of those a little farther off the one whose overlap
/// agrees best, which puts a fine print in step.
void Search::refine(int level, Candidate& candidate, Step stack, bool may_drop) {
    const Step centre{candidate.step.x * 2, candidate.step.y * 2};
    const int width = cloth_.width(level), high = slack(level, may_drop);
    const int last = width - least_lap(level);
    const Step scaled{stack.x >> level, stack.y >> level};
    std::vector<Candidate> near;
    std::size_t in_step_best = 0;
    constexpr int reach = 2;
    for (int dy = -reach; dy <= reach; ++dy)
        for (int dx = -reach; dx <= reach; ++dx) {
            const Step step{std::clamp(centre.x + dx, (width + 1) / 2, last),
                            std::clamp(centre.y + dy, -high, high)};
            const double agrees = mixed(level, step, scaled, &Beside::overlap);
            near.push_back({step, weigh_.overlap * agrees + shown(level, step)});
            if (near.back().score < near[in_step_best].score) in_step_best = near.size() - 1;
        }
    candidate.score = -1;
    for (std::size_t i = 0; i < near.size(); ++i) {
        const Step step = near[i].step;
        const bool around = std::abs(step.x - centre.x) <= 1 && std::abs(step.y - centre.y) <= 1;
        if (!around && i != in_step_best) continue;
        const double score = near[i].score + weigh_.join * mixed(level, step, scaled, &Beside::join) +
                             dyes_wrong(level, step, stack);
        if (candidate.score < 0 || score < candidate.score) candidate = {step, score};
    }
}

/// A measure of the step and of its other, each for its rows.
double Search::mixed(int level, Step step, Step stack, double (Beside::*measure)(int, Step) const) const {
    const double first = (cloth_.*measure)(level, step);
    const std::optional<Other> second = other(level, step, stack);
    return second ? first + second->share * ((cloth_.*measure)(level, second->step) - first) : first;
}

Candidate Search::best(Step stack, bool may_drop) {
    const int top = cloth_.top();
    const int width = cloth_.width(top), high = slack(top, may_drop);
    const Step scaled{stack.x >> top, stack.y >> top};
    std::vector<Candidate> found;
    for (int y = -high; y <= high; ++y)
        for (int x = (width + 1) / 2; x <= width - least_lap(top); ++x) {
            const Step step{x, y};
            const Fit whole = fit(step, scaled);
            found.push_back({step, weigh_.join * whole.join + weigh_.overlap * whole.overlap +
                                       dyes_wrong(whole) + shown(top, step)});
        }
    std::stable_sort(found.begin(), found.end(), better);
    std::size_t kept = 12;
    for (int level = top - 1; level >= 0; --level) {
        found.resize(std::min(found.size(), kept));
        for (Candidate& candidate : found) refine(level, candidate, stack, may_drop);
        std::stable_sort(found.begin(), found.end(), better);
        kept = std::max<std::size_t>(1, kept / 2);
    }
    return found.front();
}

/// The most that places `apart` pixels from each other in a row differ by, in codes.
double steepest(const Codes& codes, int apart) {
    std::int64_t most = 0;
    for (int y = 0; y < codes.height; ++y)
        for (int x = 0; x + apart < codes.width; ++x)
            most = std::max(most, difference({codes.at(x, y), 3}, {codes.at(x + apart, y), 3}));
    return std::sqrt(static_cast<double>(most));
}

/// How wide the copies must melt into each other for the join to be no steeper than the cloth; then makes
/// room for it.
int fade(const Beside& cloth, const Codes& codes, double contrast, Step& step) {
    const int apart = std::max(2, codes.width / 16);
    const double jump = cloth.join(0, step) * std::sqrt(contrast), rise = steepest(codes, apart);
    constexpr double visible = 16; // Of 511.
    if (jump <= visible || jump <= 1.25 * rise) return 0;
    constexpr double most_share = 0.1; // More would wash the cloth out.
    const double wide = std::min(most_share * codes.width, apart * jump / std::max(rise, 1.0));
    step.x = std::min(step.x, codes.width - static_cast<int>(wide));
    return static_cast<int>(wide);
}

} // namespace

Repeat repeat_of(const photo::LinearImage& cloth) {
    expects(cloth.width >= 6 && cloth.height >= 6);
    int levels = 0;
    while ((std::max(cloth.width, cloth.height) >> levels) > 40 &&
           (std::min(cloth.width, cloth.height) >> (levels + 1)) >= 8)
        ++levels;
    const std::vector<Codes> upright = pyramid(codes_of(cloth, 0, 0, cloth.width, cloth.height), levels);
    std::vector<Codes> lying;
    for (const Codes& level : upright) lying.push_back(transposed(level));
    const double contrast = contrast_of(upright.front());
    const Beside right(upright, dyes_of(upright.back()), contrast);
    const Beside below(lying, dyes_of(lying.back()), contrast);
    Search across(right), down(below);
    const Candidate side = across.straight(), under = down.straight();
    const Candidate dropped = across.dropped(turned(under.step));
    const Candidate shifted = down.dropped(turned(side.step));
    Repeat repeat;
    repeat.stacked = under.score + dropped.score <= side.score + shifted.score;
    repeat.across = repeat.stacked ? dropped.step : side.step;
    repeat.down = turned(repeat.stacked ? under.step : shifted.step);
    repeat.fade_across = fade(right, upright.front(), contrast, repeat.across);
    Step lying_down = turned(repeat.down);
    repeat.fade_down = fade(below, lying.front(), contrast, lying_down);
    repeat.down = turned(lying_down);
    return repeat;
}

} // namespace motley::render
