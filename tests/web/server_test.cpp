// The fence: requests that the page would never send, from programs that mean no good.

#include "web/server.h"

#include <arpa/inet.h>
#include <netinet/in.h>
#include <sys/socket.h>
#include <unistd.h>

#include <catch.hpp>
#include <chrono>
#include <fstream>
#include <thread>

#include "web/quilt.h"

using namespace motley;
using namespace motley::tests;

namespace {

/// The wall of a small project, running.
class Running {
public:
    explicit Running(const fs::path& folder)
        : server_({folder, 0, alone()}), thread_([this] { server_.run(); }) {
        const std::string address = server_.address();
        const std::size_t colon = address.rfind(':'), slash = address.find('/', colon);
        port_ = std::stoi(address.substr(colon + 1, slash - colon - 1));
        root_ = address.substr(slash);
    }
    ~Running() {
        server_.stop();
        thread_.join();
    }

    int port() const { return port_; }
    std::string host() const { return "127.0.0.1:" + std::to_string(port_); }
    const std::string& root() const { return root_; }
    std::string address() const { return server_.address(); }

private:
    web::Server server_;
    std::thread thread_;
    int port_ = 0;
    std::string root_;
};

class Line {
public:
    explicit Line(int port) : socket_(::socket(AF_INET, SOCK_STREAM, 0)) {
        sockaddr_in to{};
        to.sin_family = AF_INET;
        to.sin_port = htons(static_cast<std::uint16_t>(port));
        to.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
        open_ = ::connect(socket_, reinterpret_cast<sockaddr*>(&to), sizeof to) == 0;
        const timeval patience{10, 0};
        ::setsockopt(socket_, SOL_SOCKET, SO_RCVTIMEO, &patience, sizeof patience);
    }
    ~Line() { ::close(socket_); }
    Line(const Line&) = delete;
    Line& operator=(const Line&) = delete;

    bool open() const { return open_; }
    bool send(const std::string& text) const {
        std::size_t done = 0;
        while (done < text.size()) {
            const ssize_t sent = ::send(socket_, text.data() + done, text.size() - done, MSG_NOSIGNAL);
            if (sent <= 0) return false;
            done += static_cast<std::size_t>(sent);
        }
        return true;
    }
    std::string answer() const {
        std::string text;
        char buffer[4096];
        for (ssize_t got; (got = ::recv(socket_, buffer, sizeof buffer, 0)) > 0;)
            text.append(buffer, static_cast<std::size_t>(got));
        return text;
    }

private:
    int socket_;
    bool open_ = false;
};

int status(const std::string& answer) {
    return answer.size() > 12 && answer.starts_with("HTTP/1.1 ") ? std::stoi(answer.substr(9, 3)) : 0;
}

std::string request(const Running& wall, const std::string& first, const std::string& headers,
                    const std::string& body = {}) {
    const Line line(wall.port());
    line.send(first + " HTTP/1.1\r\n" + headers + "\r\n" + body);
    return line.answer();
}

std::string own_headers(const Running& wall) {
    return "Host: " + wall.host() + "\r\n";
}

std::string post_headers(const Running& wall, std::size_t length) {
    return own_headers(wall) + "Origin: http://" + wall.host() +
           "\r\nContent-Length: " + std::to_string(length) + "\r\n";
}

bool lives(const Running& wall) {
    return status(request(wall, "GET " + wall.root() + "state", own_headers(wall))) == 200;
}

long resident_kilobytes() {
    std::ifstream file("/proc/self/statm");
    long all = 0, resident = 0;
    file >> all >> resident;
    return resident * (::sysconf(_SC_PAGESIZE) / 1024);
}

} // namespace

TEST_CASE("requests that the page would never send are refused, and the wall lives") {
    const Quilt quilt;
    put(quilt.folder().parent_path(), "beside.json", Json{{"secret", "beside the project"}});
    const Running wall(quilt.folder());
    REQUIRE(lives(wall));
    const std::string root = wall.root(), own = own_headers(wall);
    const std::string other_key = "/" + std::string(32, '0') + "/";
    struct Case {
        const char* what;
        std::string first, headers;
        int status;
    };
    const std::vector<Case> cases{
        {"no key", "GET /", own, 404},
        {"no key, a known name", "GET /state", own, 404},
        {"another key", "GET " + other_key + "state", own, 404},
        {"half a key", "GET " + root.substr(0, 20) + "/state", own, 404},
        {"no host", "GET " + root + "state", "", 421},
        {"another host", "GET " + root + "state", "Host: quilts.example\r\n", 421},
        {"another host's port", "GET " + root + "state", "Host: 127.0.0.1:1\r\n", 421},
        {"two hosts", "GET " + root + "state", own + "Host: quilts.example\r\n", 421},
        {"another origin", "GET " + root + "state", own + "Origin: http://quilts.example\r\n", 403},
        {"no origin for an action", "POST " + root + "do", own + "Content-Length: 2\r\n", 403},
        {"null origin", "POST " + root + "do", own + "Origin: null\r\nContent-Length: 2\r\n", 403},
        {"from another site", "GET " + root + "state", own + "Sec-Fetch-Site: cross-site\r\n", 403},
        {"packed body", "POST " + root + "do", post_headers(wall, 2) + "Content-Encoding: gzip\r\n", 415},
        {"another method", "DELETE " + root + "state", own, 405},
        {"options", "OPTIONS " + root + "state", own, 405},
        {"path tricks", "GET " + root + "../plan.json", own, 404},
        {"path tricks, coded", "GET " + root + "%2e%2e%2fplan.json", own, 404},
        {"path tricks, deeper", "GET " + root + "../../../../etc/passwd", own, 404},
        {"path tricks, absolute", "GET " + root + "/etc/passwd", own, 404},
        {"path tricks, a zero byte", "GET " + root + "index.html%00.png", own, 404},
        {"an export that is none", "GET " + root + "export?file=../plan.json", own, 422},
        {"an export that is none, coded", "GET " + root + "export?file=%2e%2e%2f%2e%2e%2fbeside.json", own,
         422},
        {"a cloth that is none", "GET " + root + "cloth?fabric=../../beside", own, 422},
        {"shapes that are none", "GET " + root + "geometry?number=999999999999999999999", own, 404},
        {"many parts", "GET " + root + "state", own + "Range: bytes=0-1,1-2,2-3\r\n", 200},
    };
    for (const Case& one : cases) {
        INFO(one.what);
        const std::string answer =
            request(wall, one.first, one.headers, one.first.starts_with("POST") ? "{}" : "");
        CHECK(status(answer) == one.status);
        CHECK(answer.find("secret") == std::string::npos);
        CHECK(answer.find("root:") == std::string::npos);
    }
    CHECK(lives(wall));
}

TEST_CASE("bodies that are broken, too large, or lie about their length") {
    const Quilt quilt;
    const Running wall(quilt.folder());
    const auto ask = [&](const std::string& body) {
        return status(request(wall, "POST " + wall.root() + "do", post_headers(wall, body.size()), body));
    };
    CHECK(ask("") == 422);
    CHECK(ask("{") == 422);
    CHECK(ask("[1,2") == 422);
    CHECK(ask("null") == 422);
    CHECK(ask(R"({"do": 7})") == 422);
    CHECK(ask(R"({"do": "\u0000"})") == 422);
    CHECK(ask("{\"do\": \"\xff\xfe\"}") == 422);
    CHECK(ask(R"({"do": "swap", "one": -1, "other": 1e300})") == 422);
    CHECK(ask(R"({"do": "swap", "one": 0})") == 422);
    CHECK(ask(R"({"do": "turn", "cells": [], "quarters": 1})") == 422);
    CHECK(ask(std::string(100'000, '[')) == 422);
    CHECK(ask("{\"do\": \"" + std::string(2 << 20, 'x') + "\"}") == 422);
    const std::string photo(1000, 'x');
    CHECK(status(request(wall, "POST " + wall.root() + "photo?name=../../x.jpg",
                         post_headers(wall, photo.size()), photo)) == 422);
    CHECK_FALSE(fs::exists(quilt.folder().parent_path() / "x.jpg"));
    CHECK(status(request(wall, "POST " + wall.root() + "do", post_headers(wall, std::size_t{1} << 40))) ==
          413);
    CHECK(status(request(wall, "GET " + wall.root() + "state",
                         own_headers(wall) + "X: " + std::string(20'000, 'y') + "\r\n")) != 200);
    CHECK(lives(wall));
}

TEST_CASE("two hundred connections that say nothing, or very slowly") {
    const Quilt quilt;
    const Running wall(quilt.folder());
    REQUIRE(lives(wall));
    const long before = resident_kilobytes();
    std::vector<std::unique_ptr<Line>> lines;
    for (int i = 0; i < 200; ++i) {
        lines.push_back(std::make_unique<Line>(wall.port()));
        if (i % 3 == 1) lines.back()->send("GET / HT");
        if (i % 3 == 2)
            lines.back()->send("POST " + wall.root() + "photo HTTP/1.1\r\n" + post_headers(wall, 50'000'000) +
                               "\r\n" + std::string(2000, 'x'));
    }
    std::this_thread::sleep_for(std::chrono::milliseconds(300));
    CHECK(resident_kilobytes() - before < 64 * 1024);
    lines.clear(); // They go; those whose time is over are let go by the fence itself.
    bool again = false;
    for (int i = 0; i < 40 && !again; ++i) {
        again = lives(wall);
        if (!again) std::this_thread::sleep_for(std::chrono::milliseconds(100));
    }
    CHECK(again);
}

TEST_CASE("a second wall on a folder is told the address of the first") {
    const Quilt quilt;
    std::string address;
    {
        const Running wall(quilt.folder());
        address = wall.address();
        try {
            const web::Server second({quilt.folder() / "plan.json", 0, alone()});
            FAIL("two walls on one folder");
        } catch (const Fault& fault) {
            CHECK(fault.cause() == Cause::system);
            CHECK(std::string(fault.what()).find(address) != std::string::npos);
        }
        const auto mode = fs::status(quilt.folder() / ".motley-wall").permissions();
        CHECK((mode & (fs::perms::group_all | fs::perms::others_all)) == fs::perms::none);
    }
    // The lock went with the wall, and every address has another key.
    const Running again(quilt.folder());
    CHECK(again.address().substr(again.address().rfind(':') + 6) != address.substr(address.rfind(':') + 6));
}

TEST_CASE("a search ends when the last page goes away") {
    const Quilt quilt(30, {{"setting", {{"columns", 60}, {"rows", 60}}}});
    const Running wall(quilt.folder());
    {
        const Line page(wall.port());
        page.send("GET " + wall.root() + "events HTTP/1.1\r\n" + own_headers(wall) + "\r\n");
        std::this_thread::sleep_for(std::chrono::milliseconds(50));
        const std::string body = R"({"do": "shuffle"})";
        CHECK(status(request(wall, "POST " + wall.root() + "do", post_headers(wall, body.size()), body)) ==
              200);
    }
    const auto running = [&] {
        const std::string answer = request(wall, "GET " + wall.root() + "state", own_headers(wall));
        return answer.find("\"running\":\"shuffle\"") != std::string::npos;
    };
    CHECK(running());
    bool ended = false;
    for (int i = 0; i < 60 && !ended; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds(100));
        ended = !running();
    }
    CHECK(ended);
    CHECK(request(wall, "GET " + wall.root() + "state", own_headers(wall)).find("\"top\":null") !=
          std::string::npos);
}
