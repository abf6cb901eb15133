#include <fmt/format.h>

#include <cmath>
#include <numeric>

#include "fault/fault.h"
#include "measure/length.h"

namespace motley::measure {

namespace {

constexpr std::int64_t per_64th = Length::per_inch / 64;
constexpr std::int64_t per_half_centimetre = 5 * Length::per_millimetre;

// Half away from zero is left to the caller: `ticks` is not negative here.
std::int64_t nearest_multiple(std::int64_t ticks, std::int64_t step) {
    return (2 * ticks + step) / (2 * step);
}

struct Printed {
    std::string number;
    std::string_view unit;
};

Printed inches(std::int64_t ticks) {
    const std::int64_t parts = nearest_multiple(ticks, per_64th);
    const std::int64_t whole = parts / 64;
    const std::int64_t above = parts % 64;
    if (above == 0) return {fmt::format("{}", whole), "in"};
    const std::int64_t common = std::gcd(above, std::int64_t{64});
    const std::string fraction = fmt::format("{}/{}", above / common, 64 / common);
    return {whole == 0 ? fraction : fmt::format("{} {}", whole, fraction), "in"};
}

Printed metric(std::int64_t ticks) {
    if (ticks % per_half_centimetre == 0) {
        const std::int64_t halves = ticks / per_half_centimetre;
        return {fmt::format("{}{}", halves / 2, halves % 2 == 0 ? "" : ".5"), "cm"};
    }
    return {fmt::format("{}", nearest_multiple(ticks, Length::per_millimetre)), "mm"};
}

Printed printed(Length length, System system) {
    const bool negative = length.ticks < 0;
    const std::int64_t ticks = negative ? -length.ticks : length.ticks;
    Printed out = system == System::inch ? inches(ticks) : metric(ticks);
    if (negative && out.number != "0") out.number.insert(0, 1, '-');
    return out;
}

} // namespace

Length Length::inches(double inches) {
    const double ticks = inches * static_cast<double>(per_inch);
    expects(std::abs(ticks) <= static_cast<double>(longest.ticks)); // Not a number fails this too.
    return {std::llround(ticks)};
}

std::string print(Length length, System system) {
    const Printed out = printed(length, system);
    return fmt::format("{} {}", out.number, out.unit);
}

std::string print_bare(Length length, System system) {
    return printed(length, system).number;
}

std::string print_exact(Length length, System system) {
    expects(length >= Length{} && length <= longest);
    const bool whole_64ths = length.ticks % per_64th == 0;
    const bool whole_millimetres = length.ticks % Length::per_millimetre == 0;
    if (system == System::inch ? whole_64ths : whole_millimetres) return print(length, system);
    if (whole_64ths) return print(length, System::inch);
    if (whole_millimetres) return print(length, System::metric);
    // A tick is 0.003125 mm: six decimals are exact.
    std::string decimals = fmt::format("{:06}", length.ticks % Length::per_millimetre * 3125);
    decimals.erase(decimals.find_last_not_of('0') + 1);
    return fmt::format("{}.{} mm", length.ticks / Length::per_millimetre, decimals);
}

Length round_up(Length length, Length step) {
    expects(step.ticks > 0);
    const std::int64_t over = length.ticks % step.ticks;
    if (over == 0) return length;
    return {length.ticks - over + (over > 0 ? step.ticks : 0)};
}

} // namespace motley::measure
