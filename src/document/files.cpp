#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <algorithm>
#include <cerrno>
#include <cstring>

#include "document/document.h"
#include "document/staging.h"

namespace motley::document {

namespace {

namespace fs = std::filesystem;

// The file or folder beside the missing one that was likely meant; empty when there is none.
std::string nearest_beside(const fs::path& missing) {
    constexpr std::size_t most_looked_at = 10'000;
    const fs::path folder = missing.parent_path().empty() ? fs::path(".") : missing.parent_path();
    std::vector<std::string> names;
    std::error_code error;
    for (fs::directory_iterator entry(folder, error), end;
         !error && entry != end && names.size() < most_looked_at; entry.increment(error))
        names.push_back(entry->path().filename().string());
    std::sort(names.begin(), names.end());
    return nearest(missing.filename().string(), names);
}

// The first folder of the path that does not exist, or the path itself.
fs::path first_missing(const fs::path& path) {
    fs::path sofar;
    std::error_code error;
    for (const fs::path& part : path) {
        sofar /= part;
        if (!fs::exists(sofar, error)) return sofar;
    }
    return path;
}

[[noreturn]] void refuse_to_open(const fs::path& path, int error) {
    if (error != ENOENT) refuse_by_system(path, "this could not be read", error);
    const fs::path missing = first_missing(path);
    const std::string near = nearest_beside(missing);
    std::string what = "there is no such file";
    if (missing != path) what += fmt::format(": the folder {} does not exist", in_quotes(missing.string()));
    throw Fault(
        Cause::system, path.string(), what,
        near.empty() ? "check the name and the folder" : fmt::format("did you mean {}?", in_quotes(near)));
}

// Closes itself; opened so that a pipe without a writer does not keep us waiting.
class Source {
public:
    explicit Source(const fs::path& path)
        : number_(::open(path.c_str(), O_RDONLY | O_NONBLOCK | O_CLOEXEC | O_NOCTTY)) {
        if (number_ < 0) refuse_to_open(path, errno);
    }
    ~Source() { ::close(number_); }
    Source(const Source&) = delete;
    Source& operator=(const Source&) = delete;
    int number() const { return number_; }

private:
    int number_;
};

template <typename Buffer>
Buffer read_whole(const fs::path& path, std::uintmax_t most) {
    if (path.native().find('\0') != std::string::npos)
        throw Fault(Cause::input, in_quotes(path.string()), "this is not a file's name",
                    "give the name of a file");
    const Source file(path);
    struct stat status = {};
    if (::fstat(file.number(), &status) != 0) refuse_by_system(path, "this could not be read", errno);
    if (S_ISDIR(status.st_mode))
        throw Fault(Cause::system, path.string(), "this is a folder, where a file is needed",
                    "name a file inside it");
    if (!S_ISREG(status.st_mode))
        throw Fault(Cause::system, path.string(), "this is a pipe or a device, where a file is needed",
                    "save it as a file first");
    const auto too_large = [&] {
        throw Fault(Cause::input, path.string(), fmt::format("the file is larger than {} bytes", most),
                    "is it the right file?");
    };
    const auto said = static_cast<std::uintmax_t>(status.st_size);
    if (said > most) too_large();
    Buffer bytes;
    std::size_t done = 0;
    for (;;) { // The size is what the file had a moment ago; its end is what counts.
        if (done == bytes.size())
            bytes.resize(std::max<std::size_t>(done + 4096, static_cast<std::size_t>(said) + 1));
        const ssize_t got = ::read(file.number(), bytes.data() + done, bytes.size() - done);
        if (got < 0 && errno == EINTR) continue;
        if (got < 0) refuse_by_system(path, "this could not be read", errno);
        if (got == 0) break;
        done += static_cast<std::size_t>(got);
        if (done > most) too_large();
    }
    bytes.resize(done);
    return bytes;
}

} // namespace

std::vector<std::byte> read_file(const fs::path& path, std::uintmax_t most) {
    return read_whole<std::vector<std::byte>>(path, most);
}

std::string read_text(const fs::path& path, std::uintmax_t most) {
    return read_whole<std::string>(path, most);
}

void write_files(const fs::path& folder, const std::vector<Output>& files) {
    Staging staging(folder);
    for (const Output& file : files) staging.stage(file);
    staging.commit();
}

std::string content_hash(std::span<const std::byte> bytes) {
    // FNV-1a, 64 bit: offset basis and prime from the FNV Internet-Draft (draft-eastlake-fnv).
    // Eight bytes at a time as long as there are as many: photos are megabytes, and the multiplication is
    // what takes time. A product only carries upwards, so the shift brings what the high bytes said down
    // again.
    constexpr std::uint64_t prime = 1099511628211U;
    std::uint64_t hash = 14695981039346656037U;
    while (bytes.size() >= 8) {
        std::uint64_t word = 0;
        for (std::size_t i = 0; i < 8; ++i) word |= std::to_integer<std::uint64_t>(bytes[i]) << (8 * i);
        hash = (hash ^ word) * prime;
        hash ^= hash >> 32;
        bytes = bytes.subspan(8);
    }
    for (const std::byte byte : bytes) hash = (hash ^ std::to_integer<std::uint64_t>(byte)) * prime;
    return fmt::format("{:016x}", hash);
}

std::vector<std::byte> bytes_of(std::string_view text) {
    const auto bytes = std::as_bytes(std::span(text));
    return {bytes.begin(), bytes.end()};
}

} // namespace motley::document
