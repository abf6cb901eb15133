#include <sys/resource.h>
#include <sys/stat.h>

#include <catch.hpp>
#include <csignal>
#include <functional>
#include <thread>

#include "document/document.h"
#include "document/staging.h"
#include "document/temporary_folder.h"

using namespace motley;
using namespace motley::document;
using Catch::Contains;
namespace fs = std::filesystem;

namespace {

using Names = std::set<std::string>;

// While it lives no file may grow beyond `most` bytes: writing fails halfway as on a full disk.
class SmallDisk {
public:
    explicit SmallDisk(rlim_t most) : handler_(std::signal(SIGXFSZ, SIG_IGN)) {
        ::getrlimit(RLIMIT_FSIZE, &before_);
        const rlimit limit = {most, before_.rlim_max};
        ::setrlimit(RLIMIT_FSIZE, &limit);
    }
    ~SmallDisk() {
        ::setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, handler_);
    }
    SmallDisk(const SmallDisk&) = delete;
    SmallDisk& operator=(const SmallDisk&) = delete;

private:
    rlimit before_ = {};
    void (*handler_)(int);
};

Cause cause_of(const std::function<void()>& action) {
    try {
        action();
    } catch (const Fault& fault) {
        return fault.cause();
    }
    throw std::runtime_error("no fault");
}

} // namespace

TEST_CASE("files are written, replaced, and nothing else is left") {
    const TemporaryFolder folder;
    write_files(folder / "new/deep", {{"a.txt", bytes_of("first")}, {"b.txt", bytes_of("")}});
    CHECK(read_text(folder / "new/deep/a.txt") == "first");
    CHECK(read_text(folder / "new/deep/b.txt").empty());
    write_files(folder / "new/deep", {{"a.txt", bytes_of("second")}, {"c.txt", bytes_of("c")}});
    CHECK(read_text(folder / "new/deep/a.txt") == "second");
    CHECK(folder.names() == Names{"new", "new/deep", "new/deep/a.txt", "new/deep/b.txt", "new/deep/c.txt"});
}

TEST_CASE("a replaced file keeps its permissions") {
    const TemporaryFolder folder;
    folder.put("a.txt", "old");
    fs::permissions(folder / "a.txt", fs::perms(0600));
    write_files(folder.path(), {{"a.txt", bytes_of("new")}});
    CHECK(fs::status(folder / "a.txt").permissions() == fs::perms(0600));
}

TEST_CASE("a full disk leaves everything as it was") {
    const TemporaryFolder folder;
    folder.put("a.txt", "old a");
    folder.put("b.txt", "old b");
    {
        const SmallDisk disk(100);
        const std::vector<Output> files = {{"a.txt", bytes_of("new")},
                                           {"b.txt", bytes_of(std::string(1000, 'b'))},
                                           {"c.txt", bytes_of("c")}};
        CHECK_THROWS_WITH(write_files(folder.path(), files),
                          Contains("b.txt: this could not be written: File too large"));
        CHECK(cause_of([&] { write_files(folder / "made/here", files); }) == Cause::system);
    }
    CHECK(read_text(folder / "a.txt") == "old a");
    CHECK(read_text(folder / "b.txt") == "old b");
    CHECK(folder.names() == Names{"a.txt", "b.txt"});
}

TEST_CASE("a place that is no file is not replaced") {
    const TemporaryFolder folder;
    folder.put("a.txt", "old");
    fs::create_directory(folder / "b.txt");
    ::mkfifo((folder / "pipe").c_str(), 0600);
    CHECK_THROWS_WITH(write_files(folder.path(), {{"a.txt", bytes_of("new")}, {"b.txt", bytes_of("new")}}),
                      Contains("b.txt: a folder of this name is in the way"));
    CHECK_THROWS_WITH(write_files(folder.path(), {{"a.txt", bytes_of("new")}, {"pipe", bytes_of("new")}}),
                      Contains("not an ordinary file"));
    CHECK_THROWS_WITH(write_files("/dev", {{"full", bytes_of("new")}}),
                      Contains("/dev/full: this is not an ordinary file"));
    CHECK(read_text(folder / "a.txt") == "old");
    CHECK(folder.names() == Names{"a.txt", "b.txt", "pipe"});
}

TEST_CASE("a folder that cannot be is told, and what was made on the way is removed") {
    const TemporaryFolder folder;
    folder.put("file", "x");
    CHECK_THROWS_WITH(write_files(folder / "file", {}),
                      Contains("file: this is a file, so no files can be put into it"));
    CHECK(cause_of([&] { write_files(folder / "file/sub", {{"a", {}}}); }) == Cause::system);
    CHECK_THROWS_WITH(write_files(folder / ("made/" + std::string(300, 'n')), {}),
                      Contains("File name too long"));
    CHECK_THROWS_WITH(write_files(folder / "made", {{std::string(300, 'n'), {}}}),
                      Contains("choose a shorter name"));
    CHECK(folder.names() == Names{"file"});
}

TEST_CASE("a name that is a path is refused") {
    const TemporaryFolder folder;
    for (const std::string name : {"", ".", "..", "../out", "sub/x", "/etc/x"})
        CHECK_THROWS_AS(write_files(folder / "in", {{name, {}}}), Fault);
    CHECK(folder.names().empty());
}

TEST_CASE("when the last file finds no place the first ones go back") {
    const TemporaryFolder folder;
    folder.put("a.txt", "old a");
    {
        Staging staging(folder.path());
        staging.stage({"a.txt", bytes_of("new a")});
        staging.stage({"b.txt", bytes_of("new b")});
        staging.stage({"c.txt", bytes_of("new c")});
        fs::create_directory(folder / "c.txt"); // Somebody else is quicker.
        CHECK_THROWS_AS(staging.commit(), Fault);
        CHECK(read_text(folder / "a.txt") == "new a"); // So that the next check shows a way back.
    }
    CHECK(read_text(folder / "a.txt") == "old a");
    CHECK(folder.names() == Names{"a.txt", "c.txt"});
}

TEST_CASE("a symbolic link is replaced, what it points to stays") {
    const TemporaryFolder folder;
    folder.put("real.txt", "old");
    fs::create_symlink("real.txt", folder / "link.txt");
    fs::create_symlink("nowhere", folder / "dangling.txt");
    write_files(folder.path(), {{"link.txt", bytes_of("new")}, {"dangling.txt", bytes_of("new")}});
    CHECK(read_text(folder / "real.txt") == "old");
    CHECK_FALSE(fs::is_symlink(folder / "link.txt"));
    CHECK(read_text(folder / "link.txt") == "new");
    CHECK(read_text(folder / "dangling.txt") == "new");
}

TEST_CASE("two writers at once leave whole files") {
    const TemporaryFolder folder;
    const auto write = [&](char letter) {
        for (int round = 0; round < 30; ++round)
            write_files(folder.path(), {{"a", bytes_of(std::string(20'000, letter))},
                                        {"b", bytes_of(std::string(10, letter))}});
    };
    {
        const std::jthread one(write, 'x');
        const std::jthread other(write, 'y');
    }
    const std::string a = read_text(folder / "a");
    CHECK((a == std::string(20'000, 'x') || a == std::string(20'000, 'y')));
    CHECK(folder.names() == Names{"a", "b"});
}

TEST_CASE("what cannot be read is told without waiting") {
    const TemporaryFolder folder;
    folder.put("palette.json", "{}");
    folder.put("plum.jpg", "12345");
    fs::create_directory(folder / "x.jpg");
    ::mkfifo((folder / "pipe.jpg").c_str(), 0600);
    CHECK_THROWS_WITH(read_file(folder / "plum.jgp"),
                      Contains("there is no such file (did you mean \"plum.jpg\"?)"));
    CHECK_THROWS_WITH(read_file(folder / "missing/plum.jpg"), Contains("missing\" does not exist"));
    CHECK_THROWS_WITH(read_file(folder / "x.jpg"),
                      Contains("x.jpg: this is a folder, where a file is needed"));
    CHECK_THROWS_WITH(read_file(folder / "pipe.jpg"), Contains("a pipe or a device"));
    CHECK_THROWS_WITH(read_file("/dev/zero"), Contains("a pipe or a device"));
    CHECK_THROWS_WITH(read_file(folder / "plum.jpg/x"), Contains("Not a directory"));
    CHECK_THROWS_WITH(read_file(folder / "plum.jpg", 4), Contains("larger than 4 bytes"));
    CHECK(cause_of([&] { read_file(folder / "nothing"); }) == Cause::system);
    CHECK(cause_of([&] { read_file(folder / "plum.jpg", 4); }) == Cause::input);
    CHECK(read_file(folder / "plum.jpg", 5) == bytes_of("12345"));
    CHECK_THROWS_AS(read_file(""), Fault);
    CHECK_FALSE(read_text("/proc/self/status").empty()); // Says that its size is 0.
}

TEST_CASE("content hash changes with any bit of any byte and with the length") {
    std::vector<std::byte> photo(29);
    for (std::size_t i = 0; i < photo.size(); ++i) photo[i] = static_cast<std::byte>(i * 37);
    std::set<std::string> hashes{content_hash(photo)};
    std::size_t made = 1;
    for (std::size_t i = 0; i < photo.size(); ++i)
        for (unsigned bit = 0; bit < 8; ++bit, ++made) {
            std::vector<std::byte> changed = photo;
            changed[i] ^= static_cast<std::byte>(1U << bit);
            hashes.insert(content_hash(changed));
        }
    for (std::size_t length = 0; length < photo.size(); ++length, ++made)
        hashes.insert(content_hash(std::span(photo).first(length)));
    CHECK(hashes.size() == made);
}

TEST_CASE("content hash of a few bytes is FNV-1a") {
    // Fowler, Noll, Vo: draft-eastlake-fnv, 64-bit test vectors (from memory).
    CHECK(content_hash({}) == "cbf29ce484222325");
    CHECK(content_hash(bytes_of("a")) == "af63dc4c8601ec8c");
    CHECK(content_hash(bytes_of("foobar")) == "85944171f73967e8");
}
