#include <fmt/format.h>

#include <cmath>
#include <numeric>

#include "fault/fault.h"
#include "measure/length.h"

namespace motley::measure {

namespace {

constexpr std::int64_t per_64th = Length::per_inch / 64;
constexpr std::int64_t per_half_millimetre = Length::per_millimetre / 2;
constexpr std::int64_t per_half_centimetre = 5 * Length::per_millimetre;

// Half away from zero is left to the caller: `ticks` is not negative here.
std::int64_t nearest_multiple(std::int64_t ticks, std::int64_t step) {
    return (2 * ticks + step) / (2 * step);
}

struct Printed {
    std::string number;
    std::string_view unit;
};

Printed inches(std::int64_t ticks, std::int64_t step = per_64th) {
    const std::int64_t parts = nearest_multiple(ticks, step) * (step / per_64th);
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

Printed millimetres(std::int64_t ticks) {
    if (ticks % per_half_millimetre != 0)
        return {fmt::format("{}", nearest_multiple(ticks, Length::per_millimetre)), "mm"};
    const std::int64_t halves = ticks / per_half_millimetre;
    return {fmt::format("{}{}", halves / 2, halves % 2 == 0 ? "" : ".5"), "mm"};
}

/// `number` tells a length that is not negative.
template <class Number>
Printed signed_number(Length length, Number number) {
    const bool negative = length.ticks < 0;
    Printed out = number(negative ? -length.ticks : length.ticks);
    if (negative && out.number != "0") out.number.insert(0, 1, '-');
    return out;
}

Printed printed(Length length, System system) {
    return signed_number(
        length, [&](std::int64_t ticks) { return system == System::inch ? inches(ticks) : metric(ticks); });
}

Printed measured(Length length, System system, bool in_centimetres) {
    return signed_number(length, [&](std::int64_t ticks) {
        if (system == System::inch) return inches(ticks, 4 * per_64th);
        return in_centimetres ? metric(ticks) : millimetres(ticks);
    });
}

std::string with_unit(const Printed& out) {
    return fmt::format("{} {}", out.number, out.unit);
}

bool is_half_centimetres(Length length) {
    return length.ticks % per_half_centimetre == 0;
}

} // namespace

Length Length::inches(double inches) {
    const double ticks = inches * static_cast<double>(per_inch);
    expects(std::abs(ticks) <= static_cast<double>(longest.ticks)); // Not a number fails this too.
    return {std::llround(ticks)};
}

std::string print(Length length, System system) {
    return with_unit(printed(length, system));
}

std::string print_bare(Length length, System system) {
    return printed(length, system).number;
}

std::string print_measured(Length length, System system) {
    return with_unit(measured(length, system, is_half_centimetres(length)));
}

std::array<std::string, 2> print_sides(Length width, Length height, System system) {
    const bool in_centimetres = is_half_centimetres(width) && is_half_centimetres(height);
    return {with_unit(measured(width, system, in_centimetres)),
            with_unit(measured(height, system, in_centimetres))};
}

std::string print_set(Length length, System system) {
    const bool whole_64ths = length.ticks % per_64th == 0;
    const bool half_millimetres = length.ticks % per_half_millimetre == 0;
    if (whole_64ths && (system == System::inch || !half_millimetres)) return print(length, System::inch);
    if (half_millimetres) return print_measured(length, System::metric);
    if (system == System::inch) return fmt::format("{:.4g} in", length.in_inches());
    return fmt::format("{:.4g} mm", static_cast<double>(length.ticks) / Length::per_millimetre);
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
