#pragma once
/// Shares work out over threads. What comes out does not depend on how many there are: each share writes only
/// its own result.

#include <algorithm>
#include <atomic>
#include <exception>
#include <mutex>
#include <thread>
#include <vector>

namespace motley::render {

/// Calls work(i) once for every i of [0, count), from up to `threads` threads. Rethrows the first exception
/// any share threw.
template <class Work>
void share_out(int threads, int count, const Work& work) {
    std::atomic<int> next{0};
    std::exception_ptr failure;
    std::mutex failing;
    const auto run = [&] {
        try {
            for (int i = next++; i < count; i = next++) work(i);
        } catch (...) {
            const std::scoped_lock lock(failing);
            if (!failure) failure = std::current_exception();
            next = count;
        }
    };
    {
        std::vector<std::jthread> crew;
        for (int i = 1; i < std::min(threads, count); ++i) crew.emplace_back(run);
        run();
    }
    if (failure) std::rethrow_exception(failure);
}

} // namespace motley::render
