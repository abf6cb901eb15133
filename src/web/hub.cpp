#include "web/hub.h"

#include <algorithm>

namespace motley::web {

std::optional<std::string> Hub::Listener::next(std::chrono::milliseconds patience) {
    std::unique_lock lock(mutex_);
    came_.wait_for(lock, patience, [&] { return closed_ || !order_.empty(); });
    if (closed_) return std::nullopt;
    if (order_.empty()) return ": still here\n\n";
    std::string text;
    for (const std::string& kind : order_) text += "event: " + kind + "\ndata: " + latest_[kind] + "\n\n";
    order_.clear();
    latest_.clear();
    return text;
}

std::shared_ptr<Hub::Listener> Hub::join() {
    const std::lock_guard lock(mutex_);
    if (closed_ || listeners_.size() >= most) return nullptr;
    listeners_.push_back(std::make_shared<Listener>());
    left_.reset();
    return listeners_.back();
}

void Hub::leave(const std::shared_ptr<Listener>& listener) {
    const std::lock_guard lock(mutex_);
    if (std::erase(listeners_, listener) > 0 && listeners_.empty()) left_ = std::chrono::steady_clock::now();
}

void Hub::tell(const std::string& kind, const std::string& text) {
    const std::lock_guard lock(mutex_);
    for (const std::shared_ptr<Listener>& listener : listeners_) {
        const std::lock_guard inner(listener->mutex_);
        if (std::find(listener->order_.begin(), listener->order_.end(), kind) == listener->order_.end())
            listener->order_.push_back(kind);
        listener->latest_[kind] = text;
        listener->came_.notify_one();
    }
}

void Hub::close() {
    const std::lock_guard lock(mutex_);
    closed_ = true;
    for (const std::shared_ptr<Listener>& listener : listeners_) {
        const std::lock_guard inner(listener->mutex_);
        listener->closed_ = true;
        listener->came_.notify_one();
    }
}

int Hub::listeners() const {
    const std::lock_guard lock(mutex_);
    return static_cast<int>(listeners_.size());
}

std::optional<std::chrono::milliseconds> Hub::alone() const {
    const std::lock_guard lock(mutex_);
    if (!left_) return std::nullopt;
    return std::chrono::duration_cast<std::chrono::milliseconds>(std::chrono::steady_clock::now() - *left_);
}

} // namespace motley::web
