#include "document/staging.h"

#include <fcntl.h>
#include <fmt/format.h>
#include <sys/stat.h>
#include <unistd.h>

#include <atomic>
#include <cerrno>
#include <cstdio>
#include <system_error>

namespace motley::document {

namespace {

namespace fs = std::filesystem;

// An open file, closed on the way out.
class Descriptor {
public:
    explicit Descriptor(int number) : number_(number) {}
    ~Descriptor() {
        if (number_ >= 0) ::close(number_);
    }
    Descriptor(const Descriptor&) = delete;
    Descriptor& operator=(const Descriptor&) = delete;
    int number() const { return number_; }
    int close() { return ::close(std::exchange(number_, -1)); } // Network disks report lost writes here.

private:
    int number_;
};

fs::path hidden_name() {
    static std::atomic<unsigned> counter{0};
    return fmt::format(".motley-{}-{}.part", ::getpid(), counter++);
}

void write_all(int file, const std::vector<std::byte>& bytes, const fs::path& place) {
    for (std::size_t done = 0; done < bytes.size();) {
        const ssize_t written = ::write(file, bytes.data() + done, bytes.size() - done);
        if (written < 0 && errno == EINTR) continue;
        if (written < 0) refuse_by_system(place, "this could not be written", errno);
        done += static_cast<std::size_t>(written);
    }
}

// What stands at `place`: its mode, or 0 when nothing does. A rename would silently swallow a device or a
// socket.
mode_t mode_of_replaceable(const fs::path& place) {
    struct stat status = {};
    if (::lstat(place.c_str(), &status) != 0) {
        if (errno == ENOENT) return 0;
        refuse_by_system(place, "this could not be written", errno);
    }
    if (S_ISDIR(status.st_mode))
        throw Fault(Cause::system, place.string(),
                    "a folder of this name is in the way of the file to be written",
                    "move the folder away or write somewhere else");
    if (!S_ISREG(status.st_mode) && !S_ISLNK(status.st_mode))
        throw Fault(Cause::system, place.string(), "this is not an ordinary file, so it is not replaced",
                    "write to another name");
    return status.st_mode;
}

} // namespace

void refuse_by_system(const fs::path& path, const std::string& tried, int error) {
    std::string remedy;
    switch (error) {
        case EACCES:
        case EPERM:
        case EROFS:
            remedy = "choose a place that you may use, or change its permissions";
            break;
        case ENOSPC:
        case EDQUOT:
        case EFBIG:
            remedy = "make room on the disk, or choose another folder";
            break;
        case ENOTDIR:
        case EEXIST:
            remedy = "a part of this path is a file, not a folder: choose another folder";
            break;
        case ENAMETOOLONG:
            remedy = "choose a shorter name";
            break;
        default:
            remedy = "check the disk and the path";
    }
    throw Fault(Cause::system, path.string(), tried + ": " + std::generic_category().message(error), remedy);
}

Staging::Staging(fs::path folder) : folder_(folder.empty() ? fs::path(".") : std::move(folder)) {
    try {
        create_folders();
    } catch (...) { // No destructor runs for an object that was never finished.
        for (auto made = created_.rbegin(); made != created_.rend(); ++made) ::rmdir(made->c_str());
        throw;
    }
}

void Staging::create_folders() {
    fs::path path;
    for (const fs::path& part : folder_) {
        path /= part;
        if (::mkdir(path.c_str(), 0777) == 0) {
            created_.push_back(path);
            continue;
        }
        const int error = errno;
        struct stat status = {};
        if (::stat(path.c_str(), &status) != 0)
            refuse_by_system(path, "this folder could not be made", error);
        if (!S_ISDIR(status.st_mode))
            throw Fault(Cause::system, path.string(), "this is a file, so no files can be put into it",
                        "choose another folder");
    }
}

Staging::~Staging() {
    if (!committed_) {
        for (auto entry = entries_.rbegin(); entry != entries_.rend(); ++entry) {
            if (entry->state == Entry::State::exchanged)
                std::rename(entry->hidden.c_str(), entry->place.c_str());
            else if (entry->state == Entry::State::placed)
                ::unlink(entry->place.c_str());
        }
    }
    for (const Entry& entry : entries_) ::unlink(entry.hidden.c_str());
    if (!committed_)
        for (auto made = created_.rbegin(); made != created_.rend(); ++made) ::rmdir(made->c_str());
}

void Staging::stage(const Output& output) {
    if (output.name.empty() || output.name == "." || output.name == ".." ||
        output.name.find('/') != std::string::npos || output.name.find('\0') != std::string::npos)
        throw Fault(Cause::input, folder_.string(),
                    fmt::format("{} is not a file's name", in_quotes(output.name)),
                    "give the name of a file");
    const fs::path place = folder_ / output.name;
    for (const Entry& other : entries_) expects(other.place != place);
    const mode_t mode = mode_of_replaceable(place);
    fs::path hidden;
    const auto open_hidden = [&] {
        hidden = folder_ / hidden_name();
        return ::open(hidden.c_str(), O_CREAT | O_EXCL | O_WRONLY | O_CLOEXEC | O_NOFOLLOW, 0666);
    };
    int number = open_hidden();
    // A run that was killed may have left its files behind, and its number may be ours now.
    for (int tries = 0; number < 0 && errno == EEXIST && tries < 1000; ++tries) number = open_hidden();
    Descriptor file(number);
    if (file.number() < 0) refuse_by_system(place, "this could not be written", errno);
    entries_.push_back({.hidden = hidden, .place = place});
    write_all(file.number(), output.bytes, place);
    if (S_ISREG(mode))
        static_cast<void>(::fchmod(file.number(), mode & 0777)); // As the old one, if the system agrees.
    if (::fsync(file.number()) != 0 || file.close() != 0)
        refuse_by_system(place, "this could not be written", errno);
}

void Staging::put_in_place(Entry& entry) {
    if (mode_of_replaceable(entry.place) != 0) {
        // Exchanged, not replaced: the old file stays at hand until the last of them has found its place.
        if (::renameat2(AT_FDCWD, entry.hidden.c_str(), AT_FDCWD, entry.place.c_str(), RENAME_EXCHANGE) ==
            0) {
            entry.state = Entry::State::exchanged;
            return;
        }
        // Some file systems cannot exchange. There a later file's failure leaves this one new and whole.
        if (errno != EINVAL && errno != ENOSYS && errno != ENOENT)
            refuse_by_system(entry.place, "this could not be replaced", errno);
    }
    const bool nothing_there = mode_of_replaceable(entry.place) == 0;
    if (std::rename(entry.hidden.c_str(), entry.place.c_str()) != 0)
        refuse_by_system(entry.place, "this could not be written", errno);
    if (nothing_there) entry.state = Entry::State::placed;
}

void Staging::commit() {
    for (Entry& entry : entries_) put_in_place(entry);
    committed_ = true;
    // The names themselves reach the disk; what fails here failed after every file was in place and whole.
    const Descriptor folder(::open(folder_.c_str(), O_RDONLY | O_DIRECTORY | O_CLOEXEC));
    if (folder.number() >= 0) static_cast<void>(::fsync(folder.number()));
}

} // namespace motley::document
