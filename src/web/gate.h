#pragma once
/// The fence around the HTTP server: one request to a connection, read within a time and a size, and only so
/// many connections at once. In: sockets. Out: requests that are whole. Words: a *gate* lets a connection in
/// or turns it away; a *fenced* stream stops reading when its time or its room is used up.

#include <httplib.h>

#include <atomic>
#include <chrono>

namespace motley::web {

/// What a connection may take.
struct Fence {
    int connections = 96;                      ///< At once; one more is answered "busy" and closed.
    std::chrono::milliseconds reading{15'000}; ///< From accepting to the last byte of the request.
    std::chrono::milliseconds writing{10'000}; ///< For one piece of the answer to go out.
    std::size_t head = 16 * 1024;              ///< Request line and headers, bytes.
    std::size_t body = std::size_t{96} << 20;  ///< Bytes; handlers ask for less where less will do.
};

/// httplib's server with its sockets behind the fence. Ranges, compressed bodies and compressed answers,
/// which nobody needs on one machine, are taken out of requests before they are looked at.
class Gate : public httplib::Server {
public:
    explicit Gate(const Fence& fence);

    /// Lets as many connections wait at the door as are let in; httplib's own few make a browser wait for
    /// seconds. Once the port is open.
    void widen();

private:
    bool process_and_close_socket(socket_t socket) override;

    Fence fence_;
    std::atomic<int> open_{0};
};

} // namespace motley::web
