#include "swatch/lattice.h"

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <utility>

namespace motley::swatch {
namespace {

// Of the echo: of a repeat that is seen many times. Of tossed prints it is hardly anywhere so high.
constexpr double alike = 0.4;
constexpr int many_times = 12;
// Of the best there is.
constexpr double all_alike = 0.75; ///< The least of the places that steps lead to.
constexpr double chance_alike =
    0.4;                           ///< The same where the figures differ by chance, as dots in several inks.
constexpr double two_kinds = 0.06; ///< So much higher, places are of another kind than the rest;
constexpr double kinds_told = 0.4; ///< and that must make up so much of all the variance.
constexpr double highest = 0.9;    ///< Places so much alike must lie on the lattice.
constexpr std::size_t most_peaks = 32;

/// How a pair of steps fares: the peaks at all their sums with up to `most` of each.
class Lattice {
public:
    Lattice(const Echo& echo, Move one, Move other) : echo_(&echo), one_(one), other_(other) {}

    double lowest() const;
    double mean() const;
    int points() const { return static_cast<int>(seen_.size()); }
    /// By how much the places of some coarser lattice, of two to six times the area, are higher than the
    /// rest; 0 when there is none that tells them apart.
    double kinds_apart() const;
    /// Whether nearly all peaks of at least that height are on the lattice.
    bool covers(const std::vector<Peak>& peaks, double least) const;
    Move one() const { return one_; }
    Move other() const { return other_; }
    double area() const { return std::abs(cross(one_, other_)); }

    void look(int most);
    /// Least squares over the peaks last looked at.
    void fit();

private:
    void take(int i, int j, const Peak& peak);

    const Echo* echo_;
    Move one_, other_;
    struct Seen {
        int i, j;
        double value;
    };
    std::vector<Seen> seen_;
    double ii_ = 0, ij_ = 0, jj_ = 0;
    Move i_, j_;
};

double Lattice::lowest() const {
    double lowest = 1;
    for (const Seen& seen : seen_) lowest = std::min(lowest, seen.value);
    return lowest;
}

double Lattice::mean() const {
    double sum = 0;
    for (const Seen& seen : seen_) sum += seen.value;
    return seen_.empty() ? 0 : sum / points();
}

double Lattice::kinds_apart() const {
    double total = 0;
    const double middle = mean();
    for (const Seen& seen : seen_) total += (seen.value - middle) * (seen.value - middle);
    double apart = 0;
    for (int parts = 2; parts <= 6; ++parts)
        for (int one = 0; one < parts; ++one)
            for (int other = 0; other < parts; ++other) {
                if (one == 0 && other == 0) continue;
                double sum = 0, count = 0;
                for (const Seen& seen : seen_)
                    if ((one * seen.i + other * seen.j) % parts == 0) {
                        sum += seen.value - middle;
                        count += 1;
                    }
                const double rest = points() - count, parted = sum * (1 / count + 1 / rest);
                if (count >= 3 && rest >= 3 && sum * parted > kinds_told * total)
                    apart = std::max(apart, parted);
            }
    return apart;
}

bool Lattice::covers(const std::vector<Peak>& peaks, double least) const {
    int on = 0, off = 0;
    for (const Peak& peak : peaks) {
        if (peak.value < least) continue;
        const double i = cross(peak.at, other_) / cross(one_, other_),
                     j = cross(one_, peak.at) / cross(one_, other_);
        const Move aside = one_ * (i - std::round(i)) + other_ * (j - std::round(j));
        ++(length(aside) <= 1.5 ? on : off);
    }
    return off * 10 <= on;
}

void Lattice::take(int i, int j, const Peak& peak) {
    seen_.push_back({i, j, peak.value});
    ii_ += i * i;
    ij_ += i * j;
    jj_ += j * j;
    i_ = i_ + peak.at * i;
    j_ = j_ + peak.at * j;
}

void Lattice::look(int most) {
    *this = Lattice(*echo_, one_, other_);
    for (int j = -most; j <= most; ++j)
        for (int i = -most; i <= most; ++i) {
            const Move move = one_ * i + other_ * j;
            if (!leads_down(move)) continue;
            if (const std::optional<Peak> peak = peak_near(*echo_, move)) take(i, j, *peak);
        }
}

void Lattice::fit() {
    const double det = ii_ * jj_ - ij_ * ij_;
    if (det < 0.5) return;
    one_ = (i_ * jj_ - j_ * ij_) * (1 / det);
    other_ = (j_ * ii_ - i_ * ij_) * (1 / det);
}

/// The shortest two steps of a lattice (Lagrange), in the order that `Repeat` promises.
Repeat shortest_steps(Move one, Move other) {
    for (int round = 0; round < 64; ++round) {
        if (length(one) > length(other)) std::swap(one, other);
        const double times = std::round(dot(one, other) / dot(one, one));
        if (times == 0) break;
        other = other - one * times;
    }
    one = towards_foot(one);
    other = towards_foot(other);
    if (-one.x / length(one) > -other.x / length(other)) std::swap(one, other);
    return {one, other, 0};
}

/// Whether a lattice's places are all of a kind, and as much alike as any in the cloth.
bool holds(const Lattice& lattice, const std::vector<Peak>& peaks, double best) {
    const bool often = lattice.points() >= many_times;
    if (!often && (lattice.lowest() < all_alike * best || best < surely_alike)) return false;
    return lattice.mean() >= alike && lattice.covers(peaks, highest * best) &&
           lattice.kinds_apart() <= two_kinds * best;
}

std::vector<Lattice> pairs_of(const Echo& echo, const std::vector<Peak>& peaks, double best) {
    std::vector<Peak> good;
    for (const Peak& peak : peaks)
        if (peak.value >= chance_alike * best && good.size() < most_peaks) good.push_back(peak);
    std::vector<Lattice> pairs;
    for (std::size_t i = 0; i < good.size(); ++i)
        for (std::size_t j = i + 1; j < good.size(); ++j) {
            Lattice pair(echo, good[i].at, good[j].at);
            if (pair.area() >= 0.3 * length(good[i].at) * length(good[j].at)) pairs.push_back(pair);
        }
    std::stable_sort(pairs.begin(), pairs.end(),
                     [](const Lattice& one, const Lattice& other) { return one.area() < other.area(); });
    return pairs;
}

} // namespace

std::optional<Repeat> find_repeat(const Echo& echo, const std::vector<Peak>& peaks) {
    double best = 0;
    for (const Peak& peak : peaks) best = std::max(best, peak.value);
    if (best < alike) return {};
    for (Lattice& lattice : pairs_of(echo, peaks, best)) {
        bool may_hold = true;
        for (int most = 1; may_hold && most <= 16; most *= 2) {
            lattice.look(most);
            may_hold = lattice.points() >= 3 && lattice.lowest() >= chance_alike * best;
            if (may_hold) lattice.fit();
        }
        if (!may_hold || !holds(lattice, peaks, best)) continue;
        Repeat repeat = shortest_steps(lattice.one(), lattice.other());
        repeat.alike = std::clamp(lattice.mean(), 0.0, 1.0);
        return repeat;
    }
    return {};
}

} // namespace motley::swatch
