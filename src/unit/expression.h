#pragma once
/// A size as a recipe writes it: "2 1/2 in", "finished / 2", "2 * log + finished". Lengths are inches inside.

#include <functional>
#include <string>
#include <string_view>
#include <vector>

#include "measure/length.h"

namespace motley::unit {

/// Sums and products of numbers, lengths and names, with brackets.
class Expression {
public:
    Expression() = default;
    explicit Expression(double number);
    /// Text that is a length alone ("2 1/2", "2 1/2 in") is read in the measure `system`; numbers within
    /// longer expressions are plain numbers. Throws Fault(Cause::input, where, ...) quoting the text.
    Expression(std::string_view text, measure::System system, std::string_view where);

    bool empty() const { return code_.empty(); } ///< None was written.
    const std::string& text() const { return text_; }
    const std::string& where() const { return where_; } ///< The place in the file.
    std::vector<std::string> names() const;             ///< In order of appearance, once each.

    /// `value_of` is asked for each name. Fault at `where` when it divides by nothing. Expects that it is not
    /// empty.
    double value(const std::function<double(const std::string&)>& value_of) const;

private:
    friend class ExpressionReader;
    /// One instruction of a stack machine.
    struct Code {
        char what = 0; ///< '#' number, 'n' name, or + - * / and '~' for negation.
        double number = 0;
        std::string name;
    };
    std::vector<Code> code_;
    std::string text_, where_;
};

} // namespace motley::unit
