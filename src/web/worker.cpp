#include "web/worker.h"

namespace motley::web {

Worker::~Worker() {
    stop();
    wait();
}

void Worker::start(const std::string& what, Work work) {
    const std::lock_guard starting(starting_);
    stop();
    if (thread_.joinable()) thread_.join();
    const std::stop_source fresh;
    {
        const std::lock_guard lock(mutex_);
        what_ = what;
        stopper_ = fresh;
    }
    thread_ = std::thread([this, fresh, work = std::move(work)] {
        work(fresh.get_token());
        {
            const std::lock_guard lock(mutex_);
            what_.clear();
        }
        ended_();
    });
}

void Worker::stop() {
    const std::lock_guard lock(mutex_);
    stopper_.request_stop();
}

void Worker::wait() {
    const std::lock_guard starting(starting_);
    if (thread_.joinable()) thread_.join();
}

std::string Worker::running() const {
    const std::lock_guard lock(mutex_);
    return what_;
}

} // namespace motley::web
