#pragma once
/// Things kept by the rows of pixels they touch.

#include <algorithm>
#include <cmath>
#include <cstddef>
#include <vector>

namespace motley::render {

class Bands {
public:
    /// Rows from `first` up to `last`; what lies outside is left out.
    Bands(int first, int last)
        : first_(first),
          last_(std::max(first, last)),
          bands_(static_cast<std::size_t>((last_ - first + rows - 1) / rows)) {}

    /// A thing that reaches from `top` to `bottom`.
    void add(std::size_t thing, double top, double bottom) {
        const int from = std::max(first_, static_cast<int>(std::floor(std::max<double>(top, first_))));
        const int to = std::min(last_, static_cast<int>(std::ceil(std::min<double>(bottom, last_))));
        for (int band = (from - first_) / rows; from < to && band <= (to - 1 - first_) / rows; ++band)
            bands_[static_cast<std::size_t>(band)].push_back(thing);
    }

    /// Calls work(thing, from, to) for all that may touch the rows [from, to), a band at a time: the rows it
    /// is called for together are those asked for. In one band things come in the order they were added.
    template <class Work>
    void each(int from, int to, const Work& work) const {
        from = std::max(from, first_);
        to = std::min(to, last_);
        while (from < to) {
            const int band = (from - first_) / rows, end = std::min(to, first_ + (band + 1) * rows);
            for (const std::size_t thing : bands_[static_cast<std::size_t>(band)]) work(thing, from, end);
            from = end;
        }
    }

private:
    static constexpr int rows = 16;
    int first_, last_;
    std::vector<std::vector<std::size_t>> bands_;
};

} // namespace motley::render
