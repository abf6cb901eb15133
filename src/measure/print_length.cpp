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

/// `tenths` of a millimetre as centimetres: 75 is "0.75".
std::string centimetres(std::int64_t tenths) {
    std::string number = fmt::format("{}.{:02}", tenths / 100, tenths % 100);
    number.erase(number.find_last_not_of('0') + 1);
    if (number.back() == '.') number.pop_back();
    return number;
}

Printed metric(std::int64_t ticks) {
    return {centimetres(10 * nearest_multiple(ticks, Length::per_millimetre)), "cm"};
}

/// Half millimetres are kept.
Printed fine_metric(std::int64_t ticks) {
    return ticks % per_half_millimetre == 0 ? Printed{centimetres(5 * (ticks / per_half_millimetre)), "cm"}
                                            : metric(ticks);
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

Printed measured(Length length, System system) {
    return signed_number(length, [&](std::int64_t ticks) {
        return system == System::inch ? inches(ticks, 4 * per_64th) : fine_metric(ticks);
    });
}

std::string with_unit(const Printed& out) {
    return fmt::format("{} {}", out.number, out.unit);
}

/// Half centimetres as such, else millimetres: how files have had it from the first.
std::string file_metric(Length length) {
    return length.ticks % per_half_centimetre == 0
               ? with_unit(metric(length.ticks))
               : fmt::format("{} mm", length.ticks / Length::per_millimetre);
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
    return with_unit(measured(length, system));
}

std::array<std::string, 2> print_sides(Length width, Length height, System system) {
    return {with_unit(measured(width, system)), with_unit(measured(height, system))};
}

std::string print_set(Length length, System system) {
    const bool whole_64ths = length.ticks % per_64th == 0;
    const bool half_millimetres = length.ticks % per_half_millimetre == 0;
    if (whole_64ths && (system == System::inch || !half_millimetres)) return print(length, System::inch);
    if (half_millimetres) return print_measured(length, System::metric);
    if (system == System::inch) return fmt::format("{:.4g} in", length.in_inches());
    return fmt::format("{:.4g} cm", static_cast<double>(length.ticks) / (10 * Length::per_millimetre));
}

std::string print_exact(Length length, System system) {
    expects(length >= Length{} && length <= longest);
    const bool whole_64ths = length.ticks % per_64th == 0;
    const bool whole_millimetres = length.ticks % Length::per_millimetre == 0;
    if (system == System::metric && whole_millimetres) return file_metric(length);
    if (system == System::inch && whole_64ths) return print(length, system);
    if (whole_64ths) return print(length, System::inch);
    if (whole_millimetres) return file_metric(length);
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
