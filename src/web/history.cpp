#include "web/history.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <unistd.h>

#include <cerrno>
#include <cstring>

namespace motley::web {

namespace {

namespace fs = std::filesystem;
using document::Json;

constexpr const char* format = "motley history 1";
constexpr std::uintmax_t most_read = std::uintmax_t{512} << 20;

Json prints_json(const Prints& prints) {
    return {{"plan", prints.plan}, {"palette", prints.palette}, {"layout", prints.layout}};
}

Prints read_prints(const Json& json) {
    return {json.at("plan").get<std::string>(), json.at("palette").get<std::string>(),
            json.at("layout").get<std::string>()};
}

} // namespace

History::History(fs::path file) : file_(std::move(file)) {
    std::error_code ignored;
    if (!fs::is_regular_file(file_, ignored)) return;
    try {
        read();
    } catch (const std::exception&) { // Of a hand-edited or foreign file nothing can be trusted.
        steps_.clear();
        next_ = 0;
        now_.reset();
        last_.reset();
    }
}

void History::read() {
    const std::string text = document::read_text(file_, most_read);
    std::size_t at = 0;
    while (at < text.size()) {
        const std::size_t end = text.find('\n', at);
        if (end == std::string::npos) break;
        take(Json::parse(text.begin() + static_cast<std::ptrdiff_t>(at),
                         text.begin() + static_cast<std::ptrdiff_t>(end)));
        at = end + 1;
    }
    if (at < text.size()) fs::resize_file(file_, at); // Cut off while it was written.
}

void History::take(const Json& line) {
    const Prints after = read_prints(line.at("after"));
    if (line.contains("format")) {
        if (line["format"] != format) throw Fault(Cause::input, file_.string(), "this is not a history");
    } else if (line.contains("go")) {
        const bool forward = line["go"].get<int>() > 0;
        if (forward ? !to_redo() : !to_undo())
            throw Fault(Cause::input, file_.string(), "this history goes beyond its ends");
        last_ = Last{forward ? *to_redo() : *to_undo(), forward, now_.value()};
        next_ += forward ? std::size_t{1} : ~std::size_t{0};
    } else {
        steps_.erase(steps_.begin() + static_cast<std::ptrdiff_t>(next_), steps_.end());
        steps_.emplace_back(document::Node(line, file_.string()));
        ++next_;
        last_ = Last{steps_.back(), true, now_.value()};
    }
    now_ = after;
}

void History::append(const Json& line) {
    const std::string text = line.dump() + "\n";
    const int file = ::open(file_.c_str(), O_WRONLY | O_CREAT | O_APPEND | O_CLOEXEC | O_NOFOLLOW, 0644);
    const bool written =
        file >= 0 && ::write(file, text.data(), text.size()) == static_cast<ssize_t>(text.size());
    const int error = errno;
    if (file >= 0) ::close(file);
    if (!written)
        throw Fault(Cause::system, file_.string(),
                    fmt::format("the history could not be kept: {}", std::strerror(error)),
                    "is the disk full, or the folder not yours to write to?");
}

void History::begin(const Prints& now) {
    const std::string text = Json{{"format", format}, {"after", prints_json(now)}}.dump() + "\n";
    document::write_files(file_.parent_path(), {{file_.filename().string(), document::bytes_of(text)}});
    steps_.clear();
    next_ = 0;
    last_.reset();
    now_ = now;
}

void History::add(Change change, const Prints& after) {
    Json line = change.json();
    line["after"] = prints_json(after);
    append(line);
    take(line);
}

void History::undone(const Prints& after) {
    const Json line{{"go", -1}, {"after", prints_json(after)}};
    append(line);
    take(line);
}

void History::redone(const Prints& after) {
    const Json line{{"go", 1}, {"after", prints_json(after)}};
    append(line);
    take(line);
}

} // namespace motley::web
