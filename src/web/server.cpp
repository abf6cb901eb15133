#include "web/server.h"

#include <fmt/format.h>

#include <atomic>
#include <charconv>
#include <fstream>
#include <new>
#include <thread>

#include "web/gate.h"
#include "web/lock.h"
#include "web/page_files.h"
#include "web/session.h"

namespace motley::web {

namespace {

namespace fs = std::filesystem;
using document::Json;
using httplib::Request;
using httplib::Response;

constexpr std::size_t most_action = std::size_t{1} << 20;
constexpr std::size_t most_photo = std::size_t{80} << 20;
constexpr int most_uploads = 3; ///< At once: each holds its photo in memory.

/// 128 bits from the system's own source of chance, as hexadecimal digits.
std::string new_key() {
    std::ifstream chance("/dev/urandom", std::ios::binary);
    std::string key;
    for (int i = 0; i < 16; ++i) {
        const int byte = chance.get();
        if (byte < 0)
            throw Fault(Cause::system, "/dev/urandom", "this could not be read",
                        "without it nobody can make an address that cannot be guessed");
        key += fmt::format("{:02x}", byte);
    }
    return key;
}

/// A length that is none counts as too long.
bool too_long(const std::string& length) {
    if (length.empty()) return false;
    std::size_t bytes = 0;
    const auto [end, error] = std::from_chars(length.data(), length.data() + length.size(), bytes);
    return error != std::errc() || end != length.data() + length.size() || bytes > most_photo;
}

/// Takes as long whatever the first difference.
bool same_text(const std::string& one, const std::string& other) {
    if (one.size() != other.size()) return false;
    unsigned different = 0;
    for (std::size_t i = 0; i < one.size(); ++i)
        different |=
            static_cast<unsigned>(static_cast<unsigned char>(one[i]) ^ static_cast<unsigned char>(other[i]));
    return different == 0;
}

std::string type_of(std::string_view name) {
    const std::pair<std::string_view, const char*> types[] = {{".html", "text/html; charset=utf-8"},
                                                              {".css", "text/css; charset=utf-8"},
                                                              {".js", "text/javascript; charset=utf-8"},
                                                              {".svg", "image/svg+xml"},
                                                              {".png", "image/png"},
                                                              {".pdf", "application/pdf"},
                                                              {".csv", "text/csv; charset=utf-8"},
                                                              {".json", "application/json"}};
    for (const auto& [ending, type] : types)
        if (name.ends_with(ending)) return type;
    return "application/octet-stream";
}

void answer(Response& response, const Json& json) {
    response.set_content(json.dump(-1, ' ', false, Json::error_handler_t::replace), "application/json");
}

void refuse(Response& response, int status, const std::string& what) {
    response.status = status;
    answer(response, {{"problems", {{{"what", what}, {"remedy", ""}}}}});
}

/// The one place where what goes wrong inside a request becomes an answer.
void guarded(Response& response, const std::function<void()>& work) {
    try {
        work();
    } catch (const Fault& fault) {
        Json problems = Json::array();
        for (const Problem& problem : fault.problems())
            problems.push_back(
                {{"where", problem.where}, {"what", problem.what}, {"remedy", problem.remedy}});
        response.status = fault.cause() == Cause::system ? 500 : 422;
        answer(response, {{"problems", std::move(problems)}});
    } catch (const std::bad_alloc&) {
        refuse(response, 500, "there is not enough memory for this");
    } catch (const std::exception& error) {
        refuse(response, 500, error.what());
    }
}

void send_bytes(Response& response, const std::vector<std::byte>& bytes, const std::string& type) {
    response.set_content(reinterpret_cast<const char*>(bytes.data()), bytes.size(), type);
}

} // namespace

class Server::Inside {
public:
    explicit Inside(const Served& served) : session_(open(served)), key_(new_key()), gate_(Fence{}) {
        port_ = served.port;
        if (served.port == 0)
            port_ = gate_.bind_to_any_port("127.0.0.1");
        else if (!gate_.bind_to_port("127.0.0.1", served.port))
            port_ = -1;
        if (port_ <= 0)
            throw Fault(Cause::system, fmt::format("port {}", served.port), "this port could not be opened",
                        "another program may have it: leave --port out, or name another");
        gate_.widen();
        root_ = "/" + key_ + "/";
        lock_->tell(address());
        gate_.set_pre_routing_handler(
            [this](const Request& request, Response& response) { return look_at(request, response); });
        gate_.Get(".*", [this](const Request& request, Response& response) {
            guarded(response, [&] { get(request, response); });
        });
        gate_.Post(".*",
                   [this](const Request& request, Response& response, const httplib::ContentReader& content) {
                       guarded(response, [&] { post(request, response, content); });
                   });
        gate_.set_exception_handler([](const Request&, Response& response, const std::exception_ptr&) {
            refuse(response, 500, "this went wrong");
        });
    }

    std::string address() const { return fmt::format("http://127.0.0.1:{}{}", port_, root_); }
    fs::path folder() const { return session_->folder(); }

    void run() {
        const std::jthread watch([this](const std::stop_token& stop) { watch_pages(stop); });
        if (step(At::rest, At::door)) gate_.listen_after_bind();
        at_ = At::end;
        session_->hub().close();
    }

    /// Whether `run` has begun or not: httplib's own `stop` is not heard before it listens.
    void stop() {
        session_->hub().close();
        if (step(At::rest, At::end)) return;
        while (at_ == At::door && !gate_.is_running())
            std::this_thread::sleep_for(std::chrono::milliseconds(1));
        gate_.stop();
    }

private:
    enum class At { rest, door, end };

    bool step(At from, At to) { return at_.compare_exchange_strong(from, to); }

    std::unique_ptr<Session> open(const Served& served) {
        std::error_code ignored;
        const fs::path folder =
            fs::is_regular_file(served.where, ignored) || served.where.extension() == ".json"
                ? fs::absolute(served.where).parent_path()
                : fs::absolute(served.where);
        fs::create_directories(folder, ignored);
        lock_ = std::make_unique<FolderLock>(folder);
        return std::make_unique<Session>(served.where, served.common);
    }

    /// Whether a request may be looked at at all. The page never needs what is refused here.
    httplib::Server::HandlerResponse look_at(const Request& request, Response& response) {
        response.headers = {
            {"Content-Security-Policy",
             "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; connect-src "
             "'self'; base-uri 'none'; form-action 'none'; frame-ancestors 'none'"},
            {"X-Content-Type-Options", "nosniff"},
            {"Referrer-Policy", "no-referrer"},
            {"Cross-Origin-Resource-Policy", "same-origin"},
            {"Cross-Origin-Opener-Policy", "same-origin"},
            {"Cache-Control", "no-store"}};
        const auto refused = [&](int status, const char* what) {
            refuse(response, status, what);
            return httplib::Server::HandlerResponse::Handled;
        };
        if (request.method != "GET" && request.method != "POST")
            return refused(405, "only GET and POST are known here");
        const std::string host = request.get_header_value("Host");
        const std::string own = fmt::format("127.0.0.1:{}", port_),
                          named = fmt::format("localhost:{}", port_);
        if (request.get_header_value_count("Host") != 1 || (host != own && host != named))
            return refused(421, "this server answers to its own address only");
        const std::string origin = request.get_header_value("Origin");
        if (origin.empty() ? request.method == "POST" : origin != "http://" + host)
            return refused(403, "only the wall's own page may ask for this");
        const std::string site = request.get_header_value("Sec-Fetch-Site");
        if (!site.empty() && site != "same-origin" && site != "none")
            return refused(403, "only the wall's own page may ask for this");
        if (too_long(request.get_header_value("Content-Length")))
            return refused(413, "this is larger than anything that is taken here");
        if (request.has_header("Content-Encoding")) return refused(415, "bodies are sent as they are");
        if (request.path.size() < root_.size() || !same_text(request.path.substr(0, root_.size()), root_))
            return refused(404, "there is nothing at this address");
        return httplib::Server::HandlerResponse::Unhandled;
    }

    void get(const Request& request, Response& response) {
        const std::string name = request.path.substr(root_.size());
        for (const PageFile& file : page_files())
            if (name == file.name || (name.empty() && file.name == "index.html")) {
                response.set_content(file.text.data(), file.text.size(), type_of(file.name));
                return;
            }
        if (name == "state") return answer(response, session_->view());
        if (name == "lists") return answer(response, session_->lists());
        if (name == "recipes") return answer(response, recipes_json());
        if (name == "events") return events(response);
        if (name == "geometry") return geometry(request, response);
        if (name == "cloth") {
            response.headers.erase("Cache-Control");
            response.set_header("Cache-Control", "private, max-age=31536000, immutable");
            return send_bytes(response, session_->cloth(request.get_param_value("fabric")), "image/png");
        }
        if (name == "export") {
            const std::string file = request.get_param_value("file");
            const std::vector<std::byte> bytes = session_->exported(file);
            response.set_header("Content-Disposition", fmt::format("attachment; filename=\"{}\"", file));
            return send_bytes(response, bytes, type_of(file));
        }
        refuse(response, 404, "there is nothing at this address");
    }

    void geometry(const Request& request, Response& response) {
        int number = 0;
        const std::string text = request.get_param_value("number");
        std::from_chars(text.data(), text.data() + text.size(), number);
        if (const auto found = session_->geometry(number))
            response.set_content(*found, "application/json");
        else
            refuse(response, 404, "these shapes are gone; ask for the state again");
    }

    void events(Response& response) {
        const auto listener = session_->hub().join();
        if (!listener) return refuse(response, 503, "too many pages are open");
        response.set_chunked_content_provider(
            "text/event-stream",
            [listener](std::size_t, httplib::DataSink& sink) {
                const auto news = listener->next(std::chrono::milliseconds(700));
                if (!news) {
                    sink.done();
                    return true;
                }
                return sink.is_writable() && sink.write(news->data(), news->size());
            },
            [this, listener](bool) { session_->hub().leave(listener); });
    }

    /// A body, as long as it may be; faults when it is longer, or breaks off.
    static std::string body_of(const Request& request, const httplib::ContentReader& content,
                               std::size_t most) {
        const auto too_long = [&] {
            throw Fault(Cause::input, "", fmt::format("this is larger than {} MB", most >> 20),
                        "a smaller one will do");
        };
        if (request.is_multipart_form_data()) throw Fault(Cause::input, "", "bodies are sent as they are");
        std::string body;
        bool fitted = true;
        const bool whole = content([&](const char* data, std::size_t size) {
            fitted = body.size() + size <= most;
            if (fitted) body.append(data, size);
            return fitted;
        });
        if (!fitted) too_long();
        if (!whole) throw Fault(Cause::input, "", "this broke off before its end");
        return body;
    }

    void post(const Request& request, Response& response, const httplib::ContentReader& content) {
        const std::string name = request.path.substr(root_.size());
        if (name == "do") {
            const std::string body = body_of(request, content, most_action);
            return answer(response, session_->act(document::parse(body, "what was asked")));
        }
        if (name == "photo") {
            struct Turn {
                std::atomic<int>& count;
                int mine = ++count;
                ~Turn() { --count; }
            };
            const Turn turn{uploads_};
            if (turn.mine > most_uploads) return refuse(response, 503, "too many photos at once");
            const std::string body = body_of(request, content, most_photo);
            return answer(response,
                          session_->add_photo(request.get_param_value("name"), document::bytes_of(body)));
        }
        refuse(response, 404, "there is nothing at this address");
    }

    /// Once no page has been open for a moment (a page that is loaded again is gone only briefly).
    void watch_pages(const std::stop_token& stop) {
        constexpr auto patience = std::chrono::milliseconds(1500);
        bool told = false;
        while (!stop.stop_requested()) {
            std::this_thread::sleep_for(std::chrono::milliseconds(100));
            const auto alone = session_->hub().alone();
            const bool gone = alone && *alone > patience;
            if (gone && !told) session_->abandon();
            told = gone;
        }
    }

    std::unique_ptr<FolderLock> lock_;
    std::unique_ptr<Session> session_;
    std::string key_, root_;
    Gate gate_;
    int port_ = 0;
    std::atomic<int> uploads_{0};
    std::atomic<At> at_{At::rest};
};

Server::Server(const Served& served) : inside_(std::make_unique<Inside>(served)) {}
Server::~Server() = default;

std::string Server::address() const {
    return inside_->address();
}

fs::path Server::folder() const {
    return inside_->folder();
}

void Server::run() {
    inside_->run();
}

void Server::stop() {
    inside_->stop();
}

} // namespace motley::web
