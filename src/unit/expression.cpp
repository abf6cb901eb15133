#include "unit/expression.h"

#include <algorithm>
#include <array>
#include <cctype>
#include <charconv>

#include "document/document.h"
#include "fault/fault.h"

namespace motley::unit {

namespace {

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == '_';
}
bool is_digit(char c) {
    return c >= '0' && c <= '9';
}

/// A length and nothing else: no name in it, and no sign that lengths do not have.
bool is_plain_length(std::string_view text) {
    constexpr std::array<std::string_view, 5> units{"in", "cm", "mm", "yd", "m"};
    for (std::size_t i = 0; i < text.size();) {
        if (text[i] == '*' || text[i] == '+' || text[i] == '(') return false;
        if (!is_letter(text[i])) {
            ++i;
            continue;
        }
        std::size_t end = i;
        while (end < text.size() && (is_letter(text[end]) || is_digit(text[end]))) ++end;
        if (std::find(units.begin(), units.end(), text.substr(i, end - i)) == units.end()) return false;
        i = end;
    }
    return true;
}

} // namespace

/// Recursive descent over sum := product (+- product)*, product := atom (*/ atom)*, atom := number, name,
/// (sum), -atom.
class ExpressionReader {
public:
    ExpressionReader(Expression& made, std::string_view text, std::string_view where)
        : made_(made), text_(text), where_(where) {}

    void read() {
        sum(0);
        skip();
        if (at_ < text_.size()) refuse();
    }

private:
    [[noreturn]] void refuse() const {
        throw Fault(Cause::input, std::string(where_), document::in_quotes(text_) + " is not a size",
                    "write a length like \"2 1/2 in\", or names and numbers joined by + - * / like "
                    "\"finished / 2\"");
    }
    void skip() {
        while (at_ < text_.size() && text_[at_] == ' ') ++at_;
    }
    bool take(char c) {
        skip();
        if (at_ >= text_.size() || text_[at_] != c) return false;
        ++at_;
        return true;
    }
    void emit(char what) { made_.code_.push_back({what, 0, {}}); }

    void sum(int depth) {
        product(depth);
        for (;;) {
            if (take('+')) {
                product(depth);
                emit('+');
            } else if (take('-')) {
                product(depth);
                emit('-');
            } else {
                return;
            }
        }
    }
    void product(int depth) {
        atom(depth);
        for (;;) {
            if (take('*')) {
                atom(depth);
                emit('*');
            } else if (take('/')) {
                atom(depth);
                emit('/');
            } else {
                return;
            }
        }
    }
    void atom(int depth) {
        if (depth > 20) refuse();
        if (take('-')) {
            atom(depth + 1);
            emit('~');
        } else if (take('(')) {
            sum(depth + 1);
            if (!take(')')) refuse();
        } else {
            skip();
            if (at_ >= text_.size()) refuse();
            if (is_letter(text_[at_])) {
                const std::size_t start = at_;
                while (at_ < text_.size() && (is_letter(text_[at_]) || is_digit(text_[at_]))) ++at_;
                made_.code_.push_back({'n', 0, std::string(text_.substr(start, at_ - start))});
            } else {
                number();
            }
        }
    }
    void number() {
        double value = 0;
        const char* start = text_.data() + at_;
        const auto [end, error] =
            std::from_chars(start, text_.data() + text_.size(), value, std::chars_format::fixed);
        if (error != std::errc{} || !is_digit(text_[at_])) refuse();
        at_ += static_cast<std::size_t>(end - start);
        made_.code_.push_back({'#', value, {}});
    }

    Expression& made_;
    std::string_view text_, where_;
    std::size_t at_ = 0;
};

Expression::Expression(double number) : code_{{'#', number, {}}} {}

Expression::Expression(std::string_view text, measure::System system, std::string_view where)
    : text_(text), where_(where) {
    if (is_plain_length(text))
        code_.push_back({'#', measure::read_length(text, system, where).in_inches(), {}});
    else
        ExpressionReader(*this, text, where).read();
}

std::vector<std::string> Expression::names() const {
    std::vector<std::string> found;
    for (const Code& code : code_)
        if (code.what == 'n' && std::find(found.begin(), found.end(), code.name) == found.end())
            found.push_back(code.name);
    return found;
}

double Expression::value(const std::function<double(const std::string&)>& value_of) const {
    expects(!code_.empty());
    std::vector<double> stack;
    for (const Code& code : code_) {
        if (code.what == '#') {
            stack.push_back(code.number);
        } else if (code.what == 'n') {
            stack.push_back(value_of(code.name));
        } else if (code.what == '~') {
            stack.back() = -stack.back();
        } else {
            const double right = stack.back();
            stack.pop_back();
            double& left = stack.back();
            if (code.what == '+') left += right;
            if (code.what == '-') left -= right;
            if (code.what == '*') left *= right;
            if (code.what == '/') {
                if (right == 0)
                    throw Fault(Cause::input, where_, document::in_quotes(text_) + " divides by nothing",
                                "what stands after / must not come to 0");
                left /= right;
            }
        }
    }
    return stack.back();
}

} // namespace motley::unit
