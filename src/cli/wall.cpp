// `motley wall`: the design wall in a browser.

#include <fmt/format.h>
#include <pthread.h>
#include <signal.h>
#include <spawn.h>

#include <thread>

#include "cli/commands.h"
#include "web/server.h"

extern char** environ; // NOLINT: POSIX says so.

namespace motley::cli {

namespace {

/// The desktop's own way to open an address; whether it could be asked at all.
bool open_in_browser(const std::string& address) {
    std::string command = "xdg-open", words = address;
    char* arguments[] = {command.data(), words.data(), nullptr};
    posix_spawn_file_actions_t quiet;
    posix_spawn_file_actions_init(&quiet);
    posix_spawn_file_actions_addopen(&quiet, 1, "/dev/null", 1, 0); // 1: write only.
    posix_spawn_file_actions_addopen(&quiet, 2, "/dev/null", 1, 0);
    pid_t child = 0;
    const bool started = posix_spawnp(&child, command.c_str(), &quiet, nullptr, arguments, environ) == 0;
    posix_spawn_file_actions_destroy(&quiet);
    return started;
}

} // namespace

int wall(const Words& words, const Streams& streams) {
    web::Served served;
    served.where = words.input.empty() ? std::filesystem::path("quilt") : words.input;
    served.port = words.port;
    served.common.threads = words.threads;
    served.common.most_pixels = static_cast<std::int64_t>(words.megapixels * 1e6);
    // Threads inherit this: signals that end the program are waited for, in one place.
    sigset_t ends;
    sigemptyset(&ends);
    sigaddset(&ends, SIGINT);
    sigaddset(&ends, SIGTERM);
    sigaddset(&ends, SIGHUP);
    sigset_t before;
    pthread_sigmask(SIG_BLOCK, &ends, &before);
    web::Server server(served);
    streams.out << fmt::format("The design wall of {} is at\n  {}\nPress Ctrl+C to close it.\n",
                               server.folder().string(), server.address())
                << std::flush;
    if (!words.no_open && !open_in_browser(server.address()))
        streams.err << "motley: no browser could be opened; copy the address into one\n";
    std::jthread serving([&] { server.run(); });
    int signal = 0;
    sigwait(&ends, &signal);
    server.stop();
    serving.join();
    pthread_sigmask(SIG_SETMASK, &before, nullptr);
    streams.out << "Closed. Everything is in the folder.\n";
    return 0;
}

} // namespace motley::cli
