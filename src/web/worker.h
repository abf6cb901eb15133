#pragma once
/// One long piece of work at a time (a search, a mending, the files), beside the page: started, watched,
/// stopped.

#include <functional>
#include <mutex>
#include <stop_token>
#include <string>
#include <thread>

namespace motley::web {

class Worker {
public:
    using Work = std::function<void(const std::stop_token&)>;

    /// `ended` is called after each work, when `running` says that nothing is; it does not start another.
    explicit Worker(std::function<void()> ended) : ended_(std::move(ended)) {}
    ~Worker();

    /// Stops and waits for what runs, then starts this. `work` throws nothing.
    void start(const std::string& what, Work work);
    /// Asks to come to an end with what there is.
    void stop();
    void wait();
    /// What runs; empty when nothing does.
    std::string running() const;

private:
    std::function<void()> ended_;
    mutable std::mutex mutex_; ///< Of the next two.
    std::string what_;
    std::stop_source stopper_;
    std::mutex starting_; ///< One at a time starts or waits.
    std::thread thread_;
};

} // namespace motley::web
