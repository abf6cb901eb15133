#include "web/gate.h"

#include <poll.h>
#include <sys/socket.h>
#include <unistd.h>

#include <array>
#include <string_view>

#include "web/crew.h"

namespace motley::web {

namespace {

using Clock = std::chrono::steady_clock;

int milliseconds_until(Clock::time_point end) {
    const auto left = std::chrono::duration_cast<std::chrono::milliseconds>(end - Clock::now()).count();
    return static_cast<int>(std::max<std::int64_t>(0, left));
}

bool ready(socket_t socket, short event, Clock::time_point end) {
    pollfd look{socket, event, 0};
    for (;;) {
        const int found = ::poll(&look, 1, milliseconds_until(end));
        if (found < 0 && errno == EINTR) continue;
        return found > 0 && (look.revents & event) != 0;
    }
}

class FencedStream : public httplib::Stream {
public:
    FencedStream(socket_t socket, const Fence& fence)
        : socket_(socket), fence_(fence), end_(Clock::now() + fence.reading) {}

    bool is_readable() const override { return next_ < filled_ || ready(socket_, POLLIN, end_); }

    /// Also whether somebody is still listening: a page that is gone has closed its side.
    bool is_writable() const override {
        pollfd look{socket_, POLLOUT | POLLRDHUP, 0};
        if (::poll(&look, 1, static_cast<int>(fence_.writing.count())) <= 0) return false;
        return (look.revents & POLLOUT) != 0 && (look.revents & (POLLRDHUP | POLLHUP | POLLERR)) == 0;
    }

    ssize_t read(char* to, std::size_t size) override {
        if (next_ == filled_ && !fill()) return -1;
        const std::size_t taken = std::min(size, filled_ - next_);
        std::copy_n(buffer_.data() + next_, taken, to);
        next_ += taken;
        return count(to, taken) ? static_cast<ssize_t>(taken) : -1;
    }

    ssize_t write(const char* from, std::size_t size) override {
        std::size_t done = 0;
        while (done < size) {
            if (!ready(socket_, POLLOUT, Clock::now() + fence_.writing)) return -1;
            const ssize_t sent = ::send(socket_, from + done, size - done, MSG_NOSIGNAL | MSG_DONTWAIT);
            if (sent < 0 && (errno == EINTR || errno == EAGAIN)) continue;
            if (sent <= 0) return -1;
            done += static_cast<std::size_t>(sent);
        }
        return static_cast<ssize_t>(done);
    }

    void get_remote_ip_and_port(std::string& ip, int& port) const override { ip = "127.0.0.1", port = 0; }
    void get_local_ip_and_port(std::string& ip, int& port) const override { ip = "127.0.0.1", port = 0; }
    socket_t socket() const override { return socket_; }

private:
    bool fill() {
        if (!ready(socket_, POLLIN, end_)) return false;
        const ssize_t got = ::recv(socket_, buffer_.data(), buffer_.size(), 0);
        if (got <= 0) return false;
        next_ = 0;
        filled_ = static_cast<std::size_t>(got);
        return true;
    }

    /// Follows the end of the headers, an empty line; false when there is more of anything than fits.
    bool count(const char* bytes, std::size_t size) {
        taken_ += size;
        if (in_body_) return taken_ <= fence_.head + fence_.body;
        for (std::size_t i = 0; i < size; ++i) {
            if (bytes[i] == '\r') continue;
            if (bytes[i] == '\n' && last_ == '\n') in_body_ = true;
            last_ = bytes[i];
        }
        return in_body_ || taken_ <= fence_.head;
    }

    socket_t socket_;
    const Fence& fence_;
    Clock::time_point end_;
    std::array<char, 16384> buffer_{};
    std::size_t next_ = 0, filled_ = 0, taken_ = 0;
    bool in_body_ = false;
    char last_ = 0;
};

/// Lets the other side read the answer before the connection goes: what it still sends is taken and dropped
/// for a moment, since closing at once would cut the answer off.
void close_gently(socket_t socket) {
    ::shutdown(socket, SHUT_WR);
    const Clock::time_point end = Clock::now() + std::chrono::milliseconds(300);
    std::array<char, 4096> dropped{};
    std::size_t most = std::size_t{4} << 20;
    while (most > 0 && ready(socket, POLLIN, end)) {
        const ssize_t got = ::recv(socket, dropped.data(), dropped.size(), MSG_DONTWAIT);
        if (got <= 0) break;
        most -= std::min(most, static_cast<std::size_t>(got));
    }
    ::close(socket);
}

constexpr std::string_view busy =
    "HTTP/1.1 503 Service Unavailable\r\nContent-Length: 0\r\nRetry-After: 1\r\nConnection: close\r\n\r\n";

} // namespace

Gate::Gate(const Fence& fence) : fence_(fence) {
    new_task_queue = [most = fence.connections + 8] { return new Crew(most); };
    set_payload_max_length(fence.body);
    set_tcp_nodelay(true);
}

void Gate::widen() {
    (void)::listen(svr_sock_, 2 * fence_.connections);
}

bool Gate::process_and_close_socket(socket_t socket) {
    const int open = ++open_;
    bool done = false;
    if (open > fence_.connections) {
        (void)!::send(socket, busy.data(), busy.size(), MSG_NOSIGNAL | MSG_DONTWAIT);
        ::close(socket);
    } else {
        FencedStream stream(socket, fence_);
        bool closed = false;
        done = process_request(stream, true, closed, [](httplib::Request& request) {
            request.ranges.clear();
            request.headers.erase("Accept-Encoding");
        });
        close_gently(socket);
    }
    --open_;
    return done;
}

} // namespace motley::web
