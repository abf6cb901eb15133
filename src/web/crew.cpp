#include "web/crew.h"

#include <utility>

namespace motley::web {

Crew::~Crew() {
    shutdown();
}

void Crew::enqueue(std::function<void()> work) {
    std::unique_lock lock(mutex_);
    work_taken_.wait(lock, [&] {
        return over_ || std::cmp_less(waiting_.size(), idle_) || std::cmp_less(threads_.size(), most_);
    });
    waiting_.push_back(std::move(work));
    if (std::cmp_less_equal(waiting_.size(), idle_) || over_)
        work_came_.notify_one();
    else
        threads_.emplace_back([this] { serve(); });
}

void Crew::serve() {
    std::unique_lock lock(mutex_);
    for (;;) {
        ++idle_;
        work_came_.wait(lock, [&] { return over_ || !waiting_.empty(); });
        --idle_;
        if (waiting_.empty()) return;
        const std::function<void()> work = std::move(waiting_.front());
        waiting_.pop_front();
        work_taken_.notify_one();
        lock.unlock();
        work();
        lock.lock();
    }
}

void Crew::shutdown() {
    {
        const std::lock_guard lock(mutex_);
        over_ = true;
    }
    work_came_.notify_all();
    work_taken_.notify_all();
    for (std::thread& thread : threads_)
        if (thread.joinable()) thread.join();
}

} // namespace motley::web
