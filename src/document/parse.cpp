#include <fmt/format.h>

#include <unordered_set>

#include "document/document.h"
#include "document/mistake.h"
#include "document/pointer.h"
#include "document/utf8.h"

namespace motley::document {

namespace {

constexpr std::size_t deepest = 64;

[[noreturn]] void refuse(const std::string& file, std::string what, std::string remedy) {
    throw Fault(Cause::input, file, std::move(what), std::move(remedy));
}

// The brackets of `text` that are still open at its end; refuses too many at once. Done before parsing
// because the parser's callbacks do not know where in the text they are.
std::vector<std::size_t> open_brackets(std::string_view text, const std::string& file) {
    std::vector<std::size_t> open;
    bool in_text = false;
    for (std::size_t at = 0; at < text.size(); ++at) {
        const char c = text[at];
        if (in_text) {
            if (c == '\\')
                ++at;
            else if (c == '"' || c == '\n')
                in_text = false;
        } else if (c == '"') {
            in_text = true;
        } else if (c == '[' || c == '{') {
            if (open.size() == deepest)
                refuse(file,
                       fmt::format("{}: lists and objects are nested deeper than {}", place_in(text, at),
                                   deepest),
                       "no file of motley's is that deep: is it the right file?");
            open.push_back(at);
        } else if ((c == ']' || c == '}') && !open.empty()) {
            open.pop_back();
        }
    }
    return open;
}

// Builds the value while watching for what nlohmann's own builder lets pass: a key written twice.
class Builder : public nlohmann::json_sax<Json> {
public:
    Builder(Json& root, std::string_view text, const std::string& file)
        : root_(root), text_(text), file_(file) {}

    bool null() override { return put(nullptr); }
    bool boolean(bool value) override { return put(value); }
    bool number_integer(number_integer_t value) override { return put(value); }
    bool number_unsigned(number_unsigned_t value) override { return put(value); }
    bool number_float(number_float_t value, const string_t&) override { return put(value); }
    bool string(string_t& value) override { return put(std::move(value)); }
    bool binary(binary_t&) override { return false; }
    bool start_object(std::size_t) override { return open(Json::object()); }
    bool start_array(std::size_t) override { return open(Json::array()); }
    bool end_object() override { return close(); }
    bool end_array() override { return close(); }

    bool key(string_t& key) override {
        Open& object = open_.back();
        if (!object.keys.insert(key).second)
            refuse(place_of_object(), fmt::format("{} is written twice", in_quotes(key)),
                   "keep one of the two");
        object.key = std::move(key);
        return true;
    }

    bool parse_error(std::size_t position, const std::string& token,
                     const nlohmann::detail::exception& error) override {
        constexpr int number_beyond_double = 406;
        const std::size_t offset = std::min(start_of_trouble(position, token), text_.size());
        if (error.id == number_beyond_double)
            refuse(file_, fmt::format("{}: found {}", place_in(text_, offset), shortened(token)),
                   "the number is too large: give a smaller one");
        const std::size_t end = text_.find_last_not_of(" \t\r\n") + 1;
        if (offset >= end)
            refuse(file_, fmt::format("{}: the file ends too early", place_in(text_, end)),
                   likely_mistake(text_, text_.size(), open_brackets(text_, file_)));
        const std::string_view line = text_.substr(offset, text_.find('\n', offset + 1) - offset);
        refuse(file_, fmt::format("{}: this is not JSON: {}", place_in(text_, offset), shortened(line)),
               likely_mistake(text_, offset, open_brackets(text_.substr(0, offset), file_)));
    }

private:
    struct Open {
        Json* value;
        std::string key;                      // The member being read, in an object.
        std::unordered_set<std::string> keys; // Looked up only.
    };

    // The parser says where it stopped, which is behind the word or text that it did not expect.
    std::size_t start_of_trouble(std::size_t position, const std::string& token) const {
        std::size_t offset = position > 0 ? position - 1 : 0;
        if (offset >= text_.size()) return offset;
        const bool whole_text = token.size() > 1 && token.front() == '"' && token.back() == '"' &&
                                position >= token.size() &&
                                text_.substr(position - token.size()).starts_with(token);
        if (whole_text) return position - token.size();
        constexpr std::string_view of_words =
            "abcdefghijklmnopqrstuvwxyzABCDEFGHIJKLMNOPQRSTUVWXYZ0123456789_.+-";
        const auto in_word = [&](std::size_t at) {
            return of_words.find(text_[at]) != std::string_view::npos;
        };
        while (!token.starts_with('"') && offset > 0 && in_word(offset) && in_word(offset - 1)) --offset;
        return offset;
    }

    // Adds to the innermost open list or object; the address stays good until that one grows again, which it
    // does not while something inside is open.
    Json* add(Json value) {
        if (open_.empty()) {
            root_ = std::move(value);
            return &root_;
        }
        Open& parent = open_.back();
        if (parent.value->is_array()) {
            parent.value->push_back(std::move(value));
            return &parent.value->back();
        }
        // Not operator[]: that would search all the members for the key, which is known to be new.
        auto& members = parent.value->get_ref<Json::object_t&>();
        members.emplace_back(parent.key, std::move(value));
        return &members.back().second;
    }

    template <typename Value>
    bool put(Value&& value) {
        add(Json(std::forward<Value>(value)));
        return true;
    }

    bool open(Json value) {
        open_.push_back({add(std::move(value)), {}, {}});
        return true;
    }

    bool close() {
        open_.pop_back();
        return true;
    }

    std::string place_of_object() const {
        std::string out;
        for (std::size_t i = 0; i + 1 < open_.size(); ++i)
            out += '/' + (open_[i].value->is_array() ? std::to_string(open_[i].value->size() - 1)
                                                     : escaped_for_pointer(open_[i].key));
        return out.empty() ? file_ : file_ + ' ' + shortened(out, longest_pointer);
    }

    Json& root_;
    std::string_view text_;
    const std::string& file_;
    std::vector<Open> open_;
};

} // namespace

Json parse(std::string_view text, const std::string& file) {
    constexpr std::string_view byte_order_mark = "\xEF\xBB\xBF";
    if (text.starts_with(byte_order_mark)) text.remove_prefix(byte_order_mark.size());
    if (text.starts_with("\xFF\xFE") || text.starts_with("\xFE\xFF"))
        refuse(file, "the file is written in UTF-16", "save it again as UTF-8");
    if (text.find_first_not_of(" \t\r\n") == std::string_view::npos)
        refuse(file, "the file is empty", "it should hold JSON, starting with {");
    if (const std::size_t bad = first_malformed(text); bad != std::string_view::npos)
        refuse(file,
               fmt::format("{}: the byte 0x{:02X} is not UTF-8", place_in(text, bad),
                           static_cast<unsigned char>(text[bad])),
               "save the file again as UTF-8; a photo or a program is no JSON file");
    open_brackets(text, file);
    Json value;
    Builder builder(value, text, file);
    try {
        expects(Json::sax_parse(text, &builder));
    } catch (const nlohmann::json::exception& error) {
        refuse(file, fmt::format("this is not JSON: {}", shortened(error.what())),
               "check the file in a text editor");
    }
    return value;
}

} // namespace motley::document
