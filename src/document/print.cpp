#include <algorithm>
#include <cmath>

#include "document/document.h"

namespace motley::document {

namespace {

constexpr std::size_t widest_line = 110;
// In a longer list, items up to this width share lines; wider ones are easier to read one below the other.
constexpr std::size_t widest_shared_item = 40;

std::string scalar(const Json& value) {
    expects(!value.is_number_float() || std::isfinite(value.get<double>()));
    try {
        return value.dump();
    } catch (const nlohmann::json::exception&) {
        expects(false); // Text that is not UTF-8: whoever took it in should have refused it.
        return {};
    }
}

class Printer {
public:
    std::string print(const Json& root) {
        // The root is opened up even when it would fit: a file is edited by hand, and grows.
        if (root.is_object() && !root.empty())
            spread_object(root, 0);
        else
            put(root, 0, 0);
        return std::move(out_) + '\n';
    }

private:
    // Appends the value on one line when that takes at most `room` bytes; otherwise appends nothing and says
    // no.
    bool put_on_line(const Json& value, std::size_t room) {
        const std::size_t start = out_.size();
        const auto fits = [&] { return out_.size() - start <= room; };
        const auto left = [&] { return room - (out_.size() - start); };
        bool good = true;
        if (value.is_array()) {
            out_ += '[';
            for (std::size_t i = 0; good && i < value.size(); ++i) {
                if (i > 0) out_ += ", ";
                good = fits() && put_on_line(value[i], left());
            }
            out_ += ']';
        } else if (value.is_object()) {
            out_ += '{';
            bool first = true;
            for (const auto& [key, item] : value.get_ref<const Json::object_t&>()) {
                if (!first) out_ += ", ";
                first = false;
                out_ += scalar(key) + ": ";
                good = fits() && put_on_line(item, left());
                if (!good) break;
            }
            out_ += '}';
        } else {
            out_ += scalar(value);
        }
        if (good && fits()) return true;
        out_.resize(start);
        return false;
    }

    // `column` is where the value starts, `indent` that of the line it starts on.
    void put(const Json& value, std::size_t indent, std::size_t column) {
        const std::size_t room =
            widest_line > column + 1 ? widest_line - column - 1 : 0; // 1: the comma after it.
        if (!value.is_structured() || value.empty()) {
            out_ += scalar(value);
        } else if (!put_on_line(value, room)) {
            if (value.is_object())
                spread_object(value, indent);
            else
                spread_list(value, indent);
        }
    }

    void spread_object(const Json& value, std::size_t indent) {
        out_ += '{';
        bool first = true;
        for (const auto& [key, item] : value.get_ref<const Json::object_t&>()) {
            if (!first) out_ += ',';
            first = false;
            new_line(indent + 2);
            const std::size_t start = out_.size();
            out_ += scalar(key) + ": ";
            put(item, indent + 2, indent + 2 + out_.size() - start);
        }
        new_line(indent);
        out_ += '}';
    }

    void spread_list(const Json& list, std::size_t indent) {
        out_ += '[';
        std::size_t column = 0; // 0: the line takes nothing more.
        for (std::size_t i = 0; i < list.size(); ++i) {
            if (i > 0) out_ += ',';
            const std::size_t start = out_.size();
            out_ += ' ';
            if (put_on_line(list[i], widest_shared_item)) {
                const std::size_t width =
                    out_.size() - start; // With its space in front and, less that, a comma behind.
                if (column > 0 && column + 1 + width <= widest_line) {
                    column += 1 + width;
                    continue;
                }
                // Onto a line of its own, on which more may follow.
                const std::string item = out_.substr(start + 1);
                out_.resize(start);
                new_line(indent + 2);
                out_ += item;
                column = indent + 2 + item.size();
                continue;
            }
            out_.resize(start);
            new_line(indent + 2);
            put(list[i], indent + 2, indent + 2);
            column = 0;
        }
        new_line(indent);
        out_ += ']';
    }

    void new_line(std::size_t indent) {
        out_ += '\n';
        out_.append(indent, ' ');
    }

    std::string out_;
};

} // namespace

std::string print(const Json& value) {
    return Printer().print(value);
}

} // namespace motley::document
