#pragma once
/// Threads that serve connections: as many as are needed, up to a number, and no queue that grows without
/// end.

#include <httplib.h>

#include <condition_variable>
#include <deque>
#include <functional>
#include <mutex>
#include <thread>
#include <vector>

namespace motley::web {

class Crew : public httplib::TaskQueue {
public:
    explicit Crew(int most) : most_(most) {}
    ~Crew() override;

    /// Waits while everybody is busy: meanwhile connections stay in the system's own short queue.
    void enqueue(std::function<void()> work) override;
    void shutdown() override;

private:
    void serve();

    const int most_;
    std::mutex mutex_;
    std::condition_variable work_came_, work_taken_;
    std::deque<std::function<void()>> waiting_;
    int idle_ = 0;
    bool over_ = false;
    std::vector<std::thread> threads_;
};

} // namespace motley::web
