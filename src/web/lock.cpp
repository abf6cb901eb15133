#include "web/lock.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/file.h>
#include <unistd.h>

#include <array>
#include <cerrno>
#include <cstring>

#include "fault/fault.h"

namespace motley::web {

namespace {

std::string content(int file) {
    std::array<char, 512> text{};
    const ssize_t got = ::pread(file, text.data(), text.size(), 0);
    return got > 0 ? std::string(text.data(), static_cast<std::size_t>(got)) : std::string();
}

} // namespace

FolderLock::FolderLock(const std::filesystem::path& folder) {
    const std::filesystem::path path = folder / ".motley-wall";
    file_ = ::open(path.c_str(), O_RDWR | O_CREAT | O_CLOEXEC | O_NOFOLLOW, 0600);
    if (file_ < 0)
        throw Fault(Cause::system, path.string(),
                    fmt::format("this could not be opened: {}", std::strerror(errno)),
                    "the design wall keeps its files in this folder, so it must be one you may write to");
    if (::flock(file_, LOCK_EX | LOCK_NB) == 0) return;
    const std::string address = content(file_);
    ::close(file_);
    throw Fault(Cause::system, folder.string(),
                address.empty() ? "a design wall is just being opened on this folder"
                                : fmt::format("a design wall is open on this folder already: {}", address),
                "use that one, or close it first");
}

FolderLock::~FolderLock() {
    (void)!::ftruncate(file_, 0);
    ::close(file_);
}

void FolderLock::tell(const std::string& address) {
    (void)!::ftruncate(file_, 0);
    (void)!::pwrite(file_, address.data(), address.size(), 0);
}

} // namespace motley::web
