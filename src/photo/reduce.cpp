#include "photo/reduce.h"

#include <algorithm>
#include <numeric>

#include "fault/fault.h"

namespace motley::photo {

namespace {

int divided_up(int number, int by) {
    return number / by + (number % by != 0 ? 1 : 0);
}

/// Light of a sample by its colour's table.
template <class Sample>
struct TableLight {
    std::array<const std::uint32_t*, 3> tables;

    template <int colour>
    std::uint64_t of(Sample sample) const {
        return tables[static_cast<std::size_t>(colour)][sample];
    }
};

/// Samples that are light already.
struct SameLight {
    template <int colour>
    std::uint64_t of(std::uint32_t sample) const {
        return sample;
    }
};

/// Sums a run of pixels in registers. `inks` is 1 (one sample goes through all three tables) or 3.
template <int inks, class Sample, class Light>
inline void sum_run(const Sample*& pixel, int run, const Light& light, std::uint64_t* sums) {
    constexpr int green = inks == 3 ? 1 : 0;
    constexpr int blue = inks == 3 ? 2 : 0;
    std::uint64_t r = 0, g = 0, b = 0;
    for (; run > 0; --run, pixel += inks) {
        r += light.template of<0>(pixel[0]);
        g += light.template of<1>(pixel[green]);
        b += light.template of<2>(pixel[blue]);
    }
    sums[0] += r;
    sums[1] += g;
    sums[2] += b;
}

/// The whole blocks between the first and the last. A `step` known beforehand lets the compiler unroll the
/// run; 0 means any.
template <int inks, int step, class Sample, class Light>
void sum_whole(const Sample*& pixel, const Axis& columns, const Light& light, std::uint64_t*& sums) {
    for (int block = 1; block + 1 < columns.count; ++block) {
        sum_run<inks>(pixel, step == 0 ? columns.step : step, light, sums += 3);
    }
}

template <int inks, class Sample, class Light>
void sum_plain(const Sample* pixel, const Axis& columns, const Light& light, std::uint64_t* sums) {
    sum_run<inks>(pixel, columns.first, light, sums);
    switch (columns.step) {
        case 1:
            sum_whole<inks, 1>(pixel, columns, light, sums);
            break;
        case 2:
            sum_whole<inks, 2>(pixel, columns, light, sums);
            break;
        case 3:
            sum_whole<inks, 3>(pixel, columns, light, sums);
            break;
        case 4:
            sum_whole<inks, 4>(pixel, columns, light, sums);
            break;
        default:
            sum_whole<inks, 0>(pixel, columns, light, sums);
            break;
    }
    if (columns.count > 1) sum_run<inks>(pixel, columns.size_of(columns.count - 1), light, sums + 3);
}

template <int inks, class Sample, class Light, class Block>
void sum_weighed(const Sample* pixel, const Axis& columns, const Light& light, Block* block) {
    constexpr int green = inks == 3 ? 1 : 0;
    constexpr int blue = inks == 3 ? 2 : 0;
    for (int column = 0; column < columns.count; ++column, ++block) {
        for (int run = columns.size_of(column); run > 0; --run, pixel += inks + 1) {
            const std::uint64_t alpha = pixel[inks];
            block->light[0].add(alpha * light.template of<0>(pixel[0]));
            block->light[1].add(alpha * light.template of<1>(pixel[green]));
            block->light[2].add(alpha * light.template of<2>(pixel[blue]));
            block->weight += alpha;
        }
    }
}

} // namespace

Axis::Axis(int pixels, int block, bool mirrored)
    : length(pixels), step(block), count(divided_up(pixels, block)), first(std::min(pixels, block)) {
    if (mirrored && pixels % block != 0) first = pixels % block;
}

int Axis::size_of(int block) const {
    if (block == 0) return first;
    return std::min(step, length - first - (block - 1) * step);
}

Reduction::Reduction(const Stored& stored, Conversion& conversion, int detail)
    : stored_(stored), conversion_(conversion), turn_(turn_of(stored.orientation)) {
    expects(detail >= 1);
    const int step = divided_up(std::max(stored.width, stored.height), detail);
    columns_ = Axis(stored.width, step, turn_.mirror_x);
    rows_ = Axis(stored.height, step, turn_.mirror_y);
    band_left_ = rows_.size_of(0);
    const auto blocks = static_cast<std::size_t>(columns_.count);
    if (stored.samples.alpha) {
        weighed_.resize(blocks);
    } else {
        plain_.resize(3 * blocks);
    }
    picture_.width = turn_.swap ? rows_.count : columns_.count;
    picture_.height = turn_.swap ? columns_.count : rows_.count;
    picture_.pixels.resize(3 * blocks * static_cast<std::size_t>(rows_.count));
}

template <class Sample, class Light>
void Reduction::sum(const Sample* row, int inks, const Light& light) {
    if (stored_.samples.alpha) {
        inks == 1 ? sum_weighed<1>(row, columns_, light, weighed_.data())
                  : sum_weighed<3>(row, columns_, light, weighed_.data());
    } else {
        inks == 1 ? sum_plain<1>(row, columns_, light, plain_.data())
                  : sum_plain<3>(row, columns_, light, plain_.data());
    }
}

template <class Sample>
void Reduction::sum_tables(const Sample* row) {
    sum(row, stored_.samples.colours(),
        TableLight<Sample>{{conversion_.table(0), conversion_.table(1), conversion_.table(2)}});
}

void Reduction::add(const void* row) {
    expects(row_ < stored_.height);
    if (!conversion_.by_tables()) {
        const std::size_t channels = stored_.samples.alpha ? 4 : 3;
        converted_.resize(channels * static_cast<std::size_t>(stored_.width));
        conversion_.convert(row, stored_.width, converted_.data());
        sum(converted_.data(), 3, SameLight{});
    } else if (stored_.samples.wide()) {
        sum_tables(static_cast<const std::uint16_t*>(row));
    } else {
        sum_tables(static_cast<const std::uint8_t*>(row));
    }
    ++row_;
    if (--band_left_ > 0) return;
    stored_.samples.alpha ? close_weighed() : close_plain();
    ++band_;
    if (band_ < rows_.count) band_left_ = rows_.size_of(band_);
}

std::size_t Reduction::place_of(int column) const {
    int x = turn_.mirror_x ? columns_.count - 1 - column : column;
    int y = turn_.mirror_y ? rows_.count - 1 - band_ : band_;
    if (turn_.swap) std::swap(x, y);
    return 3 * (static_cast<std::size_t>(y) * static_cast<std::size_t>(picture_.width) +
                static_cast<std::size_t>(x));
}

void Reduction::put(std::size_t place, const colour::LinearRgb& light) {
    float* pixel = picture_.pixels.data() + place;
    pixel[0] = static_cast<float>(light.r);
    pixel[1] = static_cast<float>(light.g);
    pixel[2] = static_cast<float>(light.b);
}

void Reduction::close_plain() {
    const int height = rows_.size_of(band_);
    // Signed, which converts faster; 2^63 would take more than 10^11 pixels in one block.
    const auto number = [](std::uint64_t sum) { return static_cast<double>(static_cast<std::int64_t>(sum)); };
    const double whole = 1.0 / (static_cast<double>(columns_.step) * height);
    std::uint64_t* sums = plain_.data();
    for (int column = 0; column < columns_.count; ++column, sums += 3) {
        const bool edge = column == 0 || column + 1 == columns_.count;
        const double share = edge ? 1.0 / (static_cast<double>(columns_.size_of(column)) * height) : whole;
        put(place_of(column),
            conversion_.finish({number(sums[0]) * share, number(sums[1]) * share, number(sums[2]) * share}));
        for (std::size_t c = 0; c < 3; ++c) {
            total_.light[c].add(sums[c]);
            sums[c] = 0;
        }
    }
}

void Reduction::close_weighed() {
    for (int column = 0; column < columns_.count; ++column) {
        Block& block = weighed_[static_cast<std::size_t>(column)];
        const std::size_t place = place_of(column);
        if (block.weight == 0) {
            empty_.push_back(place);
            continue;
        }
        put(place, conversion_.finish(block.mean(static_cast<double>(block.weight))));
        for (std::size_t c = 0; c < 3; ++c) total_.light[c].add(block.light[c]);
        total_.weight += block.weight;
        block = {};
    }
}

Reading Reduction::finish(const Source& source) {
    expects(row_ == stored_.height && band_ == rows_.count);
    const double pixels = static_cast<double>(stored_.width) * stored_.height;
    double weight = pixels;
    Reading reading;
    if (stored_.samples.alpha) {
        if (total_.weight == 0) {
            source.refuse("the picture is transparent everywhere, so it has no colour",
                          "save it without transparency");
        }
        weight = static_cast<double>(total_.weight);
        reading.opaque = weight / (pixels * stored_.samples.largest());
    }
    reading.mean = conversion_.finish(total_.mean(weight));
    for (const std::size_t place : empty_) put(place, reading.mean);
    reading.picture = std::move(picture_);
    return reading;
}

} // namespace motley::photo
