#pragma once
/// The design wall, served to this machine only. In: a project's place. Out: a page at an address that holds
/// a key nobody can guess; every request shows it, comes from the page itself, and is small and quick enough.

#include <filesystem>
#include <functional>
#include <memory>
#include <string>

#include "pipeline/pipeline.h"

namespace motley::web {

struct Served {
    std::filesystem::path where; ///< A plan, a project's folder, or where a new one is to be.
    int port = 0;                ///< 0: any that is free.
    pipeline::Common common;
};

class Server {
public:
    /// Opens the project and the port. Faults: the project cannot be read, another wall has it, the port is
    /// taken.
    explicit Server(const Served& served);
    ~Server();

    /// "http://127.0.0.1:41234/5f.../"
    std::string address() const;
    std::filesystem::path folder() const;
    /// Serves until `stop`, from another thread, or from a signal's.
    void run();
    void stop();

private:
    class Inside;
    std::unique_ptr<Inside> inside_;
};

} // namespace motley::web
