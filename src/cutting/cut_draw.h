#pragma once
/// Strips filled in an order that chance makes up. Private to this folder. Chance is a hash of a counter, so
/// the same calls give the same strips on every machine.

#include <cstdint>
#include <vector>

#include "cutting/cut_strip.h"

namespace motley::cutting {

/// Splitmix64 (Steele, Lea and Flood, 2014): the finished counter.
class Chance {
public:
    explicit Chance(std::uint64_t seed) : counter_(seed) {}
    std::uint64_t next() {
        std::uint64_t x = counter_ += 0x9e3779b97f4a7c15U;
        x = (x ^ (x >> 30)) * 0xbf58476d1ce4e5b9U;
        x = (x ^ (x >> 27)) * 0x94d049bb133111ebU;
        return x ^ (x >> 31);
    }
    /// 0 to n - 1; expects n > 0.
    std::size_t below(std::size_t n) { return static_cast<std::size_t>((next() >> 32) * n >> 32); }
    /// [0, 1).
    double share() { return static_cast<double>(next() >> 11) * 0x1p-53; }

private:
    std::uint64_t counter_;
};

/// What a strip's next stack is chosen by, beside how well it fills the strip's height.
struct Taste {
    double noise = 0; ///< Weight of chance.
    double wide = 0;  ///< Weight of its width.
};

/// Which height a strip starts from.
enum class Start : std::uint8_t {
    needed, ///< Mostly the tallest that some piece needs: everything must be cut.
    any,    ///< A piece's, or of two stacked, or all the room there is.
};

class RowDraw {
public:
    /// The frame must outlive the draw.
    RowDraw(const Frame& frame, std::size_t kinds);

    const Frame& frame() const { return *frame_; }
    /// May this kind be cut here at all?
    bool takes(std::size_t kind) const { return lowest_[kind] > 0; }

    /// A strip at most `room` ticks high, its pieces taken from `left`; without segments when nothing fits.
    /// Exact in ticks whatever the frame's units.
    Row draw(std::vector<int>& left, std::int64_t room, Start start, const Taste& taste, Chance& chance,
             Work& work);

private:
    const Lie& lie(int i) const { return frame_->lies[static_cast<std::size_t>(i)]; }
    std::int64_t pick_height(std::int64_t room, Start start, Chance& chance) const;
    int pick_stack(const std::vector<int>& left, std::int64_t length, std::int64_t height, const Taste& taste,
                   Chance& chance, Work& work) const;
    int pick_above(const std::vector<int>& left, std::int64_t width, std::int64_t height, Work& work) const;

    const Frame* frame_;
    std::vector<std::int64_t> lowest_; ///< Per kind, ticks; 0: it does not fit.
    std::vector<int> present_;         ///< Lies of what is left.
};

} // namespace motley::cutting
