#pragma once
/// Reads and writes JSON so that every complaint names the place in the file; reads and writes files whole or
/// not at all. This header is the only door to nlohmann-json: other folders use `Json` and `Node`.

#include <cstddef>
#include <cstdint>
#include <filesystem>
#include <initializer_list>
#include <nlohmann/json.hpp>
#include <optional>
#include <span>
#include <string>
#include <string_view>
#include <vector>

#include "fault/fault.h"

namespace motley::document {

/// Keys keep the order in which they were written.
using Json = nlohmann::ordered_json;

/// A fragment of somebody else's text for a message: at most `most` characters (cut at a character, then
/// "..."), control characters and bytes that are not UTF-8 escaped, so that a hostile file cannot steer the
/// terminal.
std::string shortened(std::string_view text, std::size_t most = 60);
std::string in_quotes(std::string_view text);              ///< The same between double quotes.
std::string listed(const std::vector<std::string>& words); ///< "a", "b" or "c"; cut after 20.

/// A JSON value together with its place, for reading. Cheap to copy; the Json it looks at must outlive it.
/// Every accessor throws Fault(Cause::input, "FILE /pointer", what was found, what was expected).
class Node {
public:
    Node(const Json& value, std::string file, std::string pointer = {})
        : value_(&value), file_(std::move(file)), pointer_(std::move(pointer)) {}

    const Json& json() const { return *value_; }
    const std::string& file() const { return file_; }
    std::string where() const; ///< "plan.json /setting/rows"; "plan.json" at the root.

    bool is_text() const { return value_->is_string(); }
    bool is_number() const { return value_->is_number(); }
    bool is_list() const { return value_->is_array(); }
    bool is_object() const { return value_->is_object(); }
    bool is_null() const { return value_->is_null(); }

    std::string text() const;
    bool boolean() const;
    double number() const; ///< Finite.
    double number(double least, double most) const;
    std::int64_t integer(std::int64_t least, std::int64_t most) const; ///< 7 and 7.0 are taken, 7.5 is not.
    std::size_t choice(
        const std::vector<std::string>& words) const; ///< Index of the word; names the nearest when unknown.
    std::vector<Node> items() const;                  ///< Of a list.
    std::vector<std::pair<std::string, Node>> members() const; ///< Of an object, in file order.

    Node at(const std::string& key) const;                  ///< Required member.
    std::optional<Node> find(const std::string& key) const; ///< Optional member; null counts as absent.
    /// Complains about members other than these, each with the nearest known name; all of them in one Fault.
    void allow_only(const std::vector<std::string>& keys) const;
    [[noreturn]] void refuse(std::string what, std::string remedy = {}) const;

private:
    const Json* value_;
    std::string file_;
    std::string pointer_;
};

/// Parses a JSON text; a byte order mark before it is skipped. Faults: not JSON (line, column, fragment and
/// what is likely meant), a key twice in one object, nesting deeper than 64, not UTF-8, a number beyond
/// double. Never recursive.
Json parse(std::string_view text, const std::string& file);

/// Two-space indented, ends with a newline, numbers in their shortest form. What fits into 110 columns stands
/// on one line; a longer list of short items is filled line by line. Same value, same bytes; parse(print(x))
/// == x. Expects finite numbers and UTF-8.
std::string print(const Json& value);

/// Largest file `read_file` takes unless told otherwise.
inline constexpr std::uintmax_t largest_file = std::uintmax_t{1} << 30;

/// The bytes of a file. Faults: Cause::system when it is missing (names the nearest file there is), a folder,
/// a pipe or device, unreadable; Cause::input when larger than `most`. Never waits.
std::vector<std::byte> read_file(const std::filesystem::path& path, std::uintmax_t most = largest_file);
std::string read_text(const std::filesystem::path& path, std::uintmax_t most = std::uintmax_t{64} << 20);

/// A file to be written.
struct Output {
    std::string name; ///< File name inside the folder.
    std::vector<std::byte> bytes;
};

/// Writes all files into `folder` (created if missing): each is written beside its place, flushed and renamed
/// over it once all of them are on disk. When anything fails the folder is as it was; nothing is ever seen
/// half written. A symbolic link is replaced, not followed. Faults: Cause::system with the path and the
/// system's reason; a folder or device in a file's place is refused.
void write_files(const std::filesystem::path& folder, const std::vector<Output>& files);

/// The bytes mixed into 64 bits (FNV-1a's constants, eight bytes at a time) as 16 hexadecimal digits: tells a
/// changed photo from an unchanged one; not a defence against malice.
std::string content_hash(std::span<const std::byte> bytes);

std::vector<std::byte> bytes_of(std::string_view text);

} // namespace motley::document
