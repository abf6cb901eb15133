#pragma once
/// News for the pages that are open: each page hears the latest of every kind, so that a slow one costs no
/// more memory than a quick one.

#include <chrono>
#include <condition_variable>
#include <map>
#include <memory>
#include <mutex>
#include <optional>
#include <string>
#include <vector>

namespace motley::web {

class Hub {
public:
    /// One open page.
    class Listener {
    public:
        /// The news since the last call, as server-sent events; a comment when there was none for so long;
        /// nothing when the hub is closed.
        std::optional<std::string> next(std::chrono::milliseconds patience);

    private:
        friend class Hub;
        std::mutex mutex_;
        std::condition_variable came_;
        std::vector<std::string> order_; ///< Kinds with news, oldest first.
        std::map<std::string, std::string> latest_;
        bool closed_ = false;
    };

    /// Null when there are too many already.
    std::shared_ptr<Listener> join();
    void leave(const std::shared_ptr<Listener>& listener);
    void tell(const std::string& kind, const std::string& text); ///< `text` has no line breaks.
    void close();

    int listeners() const;
    /// How long nobody has been listening; nothing while somebody is, or nobody ever was.
    std::optional<std::chrono::milliseconds> alone() const;

private:
    static constexpr std::size_t most = 16;

    mutable std::mutex mutex_;
    std::vector<std::shared_ptr<Listener>> listeners_;
    std::optional<std::chrono::steady_clock::time_point> left_;
    bool closed_ = false;
};

} // namespace motley::web
