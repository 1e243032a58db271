// The only file that sees the HTTP library.
#include <httplib.h>

#include <algorithm>
#include <atomic>
#include <chrono>
#include <condition_variable>
#include <deque>
#include <fstream>
#include <memory>
#include <mutex>
#include <thread>
#include <utility>
#include <vector>

#include "assets.h"
#include "desk.h"
#include "guard.h"
#include "routes.h"
#include "shedbook/base/text.h"
#include "shedbook/io/errors.h"
#include "shedbook/serve/serve.h"

namespace shedbook {
namespace {

constexpr int kThreads = 48;
constexpr std::size_t kMostWaiting = 256;
constexpr std::size_t kLongestTarget = 2048;
constexpr int kKeepAliveSeconds = 2;
constexpr std::chrono::milliseconds kLookUp{5};
constexpr std::size_t kKeepAliveRequests = 100;
constexpr int kPortsTried = 20;
constexpr std::size_t kFileChunk = 64 * 1024;

// So many threads and so many connections that wait for one; more wait at the door, in the system's own
// queue.
class BoundedQueue : public httplib::TaskQueue {
  public:
    BoundedQueue() {
        for (int i = 0; i < kThreads; ++i) threads_.emplace_back([this] { work(); });
    }

    void enqueue(std::function<void()> task) override {
        std::unique_lock hold{guard_};
        changed_.wait(hold, [this] { return tasks_.size() < kMostWaiting || is_over_; });
        tasks_.push_back(std::move(task));
        changed_.notify_all();
    }

    void shutdown() override {
        {
            const std::lock_guard hold{guard_};
            is_over_ = true;
        }
        changed_.notify_all();
        for (std::thread& thread : threads_) thread.join();
    }

  private:
    void work() {
        while (true) {
            std::function<void()> task;
            {
                std::unique_lock hold{guard_};
                changed_.wait(hold, [this] { return !tasks_.empty() || is_over_; });
                if (tasks_.empty()) return;
                task = std::move(tasks_.front());
                tasks_.pop_front();
            }
            changed_.notify_all();
            task();
        }
    }

    std::mutex guard_;
    std::condition_variable changed_;
    std::deque<std::function<void()>> tasks_;
    std::vector<std::thread> threads_;
    bool is_over_ = false;
};

Head head_of(const httplib::Request& request) {
    Head out;
    out.method = request.method;
    out.path = request.path;
    out.host = request.get_header_value("Host");
    out.origin = request.get_header_value("Origin");
    out.cookie = request.get_header_value("Cookie");
    out.content_type = request.get_header_value("Content-Type");
    out.content_encoding = request.get_header_value("Content-Encoding");
    out.is_chunked = request.has_header("Transfer-Encoding");
    const std::string length = request.get_header_value("Content-Length");
    constexpr std::size_t kMostDigits = 18;
    out.has_length = !length.empty() && length.size() <= kMostDigits && std::ranges::all_of(length, is_digit);
    if (out.has_length) out.length = std::stoull(length);
    return out;
}

Ask ask_of(const httplib::Request& request) {
    Ask out;
    out.method = request.method;
    for (const std::string_view part : split(std::string_view{request.path}.substr(1), '/'))
        out.path.emplace_back(part);
    for (const auto& [name, value] : request.params) out.query[name] = value;
    out.if_match = request.get_header_value("If-Match");
    out.body = request.body;
    return out;
}

std::string policy_for(const std::string& nonce) {
    return "default-src 'none'; script-src 'self' 'wasm-unsafe-eval'; style-src 'self' 'nonce-" + nonce +
           "'; style-src-attr 'unsafe-inline'; img-src 'self' data: blob:; font-src 'self'; connect-src "
           "'self'; "
           "media-src 'self' blob:; worker-src 'self'; manifest-src 'self'; base-uri 'none'; form-action "
           "'none'; "
           "frame-ancestors 'none'";
}

using Provide = std::function<bool(std::size_t, std::size_t, httplib::DataSink&)>;

Provide from_text(std::string body, bool then_close) {
    const auto kept = std::make_shared<const std::string>(std::move(body));
    return [kept, then_close](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
        sink.write(kept->data() + offset, std::min(length, kept->size() - offset));
        return !then_close;
    };
}

Provide from_file(const std::string& path) {
    const auto file = std::make_shared<std::ifstream>(path, std::ios::binary);
    return [file](std::size_t offset, std::size_t length, httplib::DataSink& sink) {
        std::vector<char> chunk(std::min(length, kFileChunk));
        file->clear();
        file->seekg(static_cast<std::streamoff>(offset));
        file->read(chunk.data(), static_cast<std::streamsize>(chunk.size()));
        if (file->gcount() <= 0) return false;
        sink.write(chunk.data(), static_cast<std::size_t>(file->gcount()));
        return true;
    };
}

// The library packs what it is given as a text, and slowly at that; what is provided goes out as it is.
void send(Answer answer, const std::string& nonce, bool then_close, httplib::Response& response) {
    // The library says by itself whether it is all (200) or a part that was asked for (206).
    if (answer.status != 200) response.status = answer.status;
    response.set_header("Content-Security-Policy", policy_for(nonce));
    response.set_header("X-Content-Type-Options", "nosniff");
    response.set_header("Referrer-Policy", "no-referrer");
    response.set_header("Cross-Origin-Resource-Policy", "same-origin");
    bool says_caching = false;
    for (const auto& [name, value] : answer.headers) {
        response.set_header(name, value);
        says_caching = says_caching || name == "Cache-Control";
    }
    if (!says_caching) response.set_header("Cache-Control", "no-store");
    if (then_close) response.set_header("Connection", "close");
    if (!answer.file.empty()) {
        std::ifstream file{answer.file, std::ios::binary | std::ios::ate};
        const auto size = static_cast<std::size_t>(std::max<std::streamoff>(0, file.tellg()));
        if (!file || size == 0)
            return send(refused(410, "that was put away meanwhile"), nonce, false, response);
        response.set_content_provider(size, answer.type, from_file(answer.file));
        return;
    }
    if (answer.body.empty()) return;
    const std::size_t size = answer.body.size();
    response.set_content_provider(size, answer.type, from_text(std::move(answer.body), then_close));
}

// A place of the page: its script draws what belongs there.
bool is_place(const std::vector<std::string>& path) {
    const std::string& first = path.front();
    if (path.size() == 1) return first.empty() || first == "tunes" || first == "today" || first == "class";
    if (path.size() == 2) return first == "class";
    return path.size() == 3 && first == "tune" &&
           (path[2] == "write" || path[2] == "practise" || path[2] == "paper");
}

}  // namespace

class PageServer::Impl {
  public:
    explicit Impl(const ServeOptions& options)
        : desk_{options}, assets_{options.page}, port_{bind(options)}, guard_{port_, options.listen} {
        server_.set_keep_alive_timeout(kKeepAliveSeconds);
        server_.set_keep_alive_max_count(kKeepAliveRequests);
        server_.set_payload_max_length(kMostImport);
        server_.new_task_queue = [] { return new BoundedQueue; };
        server_.set_pre_routing_handler([this](const auto& request, auto& response) {
            return answer_without_body(request, response) ? httplib::Server::HandlerResponse::Handled
                                                          : httplib::Server::HandlerResponse::Unhandled;
        });
        const auto with_body = [this](const httplib::Request& request, httplib::Response& response) {
            send(answer(request), nonce(), false, response);
        };
        server_.Post(R"([^]*)", with_body);
        server_.Put(R"([^]*)", with_body);
        server_.Delete(R"([^]*)", with_body);
        // What the library itself refuses.
        server_.set_error_handler(httplib::Server::HandlerWithResponse{
            [](const httplib::Request& /*asked*/, httplib::Response& response) {
                if (!response.body.empty() || response.content_provider_)
                    return httplib::Server::HandlerResponse::Unhandled;
                send(refused(response.status, "this could not be read"), "none", false, response);
                return httplib::Server::HandlerResponse::Handled;
            }});
    }

    [[nodiscard]] int port() const { return port_; }
    [[nodiscard]] bool has_page() const { return assets_.has_page(); }
    [[nodiscard]] std::string address(const std::string& key) const {
        const std::string& listen = desk_.options.listen;
        const bool is_v6 = listen.find(':') != std::string::npos;
        const std::string host = listen.empty() ? "127.0.0.1" : is_v6 ? "[" + listen + "]" : listen;
        return "http://" + host + ":" + std::to_string(port_) + "/open?key=" + key;
    }
    [[nodiscard]] std::string key() const { return guard_.key(); }
    [[nodiscard]] std::string guest_key() const { return guard_.guest_key(); }

    void run() {
        is_entered_ = true;
        if (!is_to_stop_) server_.listen_after_bind();
        is_over_ = true;
    }
    // The library stops only what listens already.
    void stop() {
        is_to_stop_ = true;
        while (is_entered_ && !is_over_) {
            server_.stop();
            std::this_thread::sleep_for(kLookUp);
        }
    }

  private:
    int bind(const ServeOptions& options) {
        const std::string host = options.listen.empty() ? "127.0.0.1" : options.listen;
        // Of the socket that listens, which those that come in take after.
        server_.set_tcp_nodelay(true);
        // As the library has it, two programs could share a port, and each would get half of what is asked.
        server_.set_socket_options([](int line) {
            const int yes = 1;
            setsockopt(line, SOL_SOCKET, SO_REUSEADDR, &yes, sizeof(yes));
        });
        if (options.port == 0) {
            const int port = server_.bind_to_any_port(host);
            if (port > 0) return port;
        }
        const int tried = options.takes_next_port ? kPortsTried : 1;
        for (int port = options.port; port > 0 && port < options.port + tried; ++port) {
            if (server_.bind_to_port(host, port)) return port;
        }
        throw FileError("port " + std::to_string(options.port) + " of " + host +
                        " cannot be listened to; --port takes another");
    }

    // A nonce is of use to whoever can put markup into the page; nobody can guess it for a next time.
    static std::string nonce() { return Guard{0, ""}.key().substr(0, 32); }

    // All but what has a body, which the library reads first. What is refused is not read at all.
    bool answer_without_body(const httplib::Request& request, httplib::Response& response) {
        const Head head = head_of(request);
        if (request.target.size() > kLongestTarget || request.path.empty() || request.path.front() != '/') {
            send(refused(414, "this address is too long"), "none", true, response);
            return true;
        }
        if (auto refusal = guard_.refusal_of(head)) {
            const bool has_body = head.is_chunked || head.length > 0;
            send(as_shown(head, *std::move(refusal)), "none", has_body, response);
            return true;
        }
        if (head.method != "GET" && head.method != "HEAD" && (head.has_length || head.method != "DELETE"))
            return false;
        const std::string own_nonce = nonce();
        send(answer(request, own_nonce), own_nonce, false, response);
        return true;
    }

    // Whoever opens a place without the key reads a sentence.
    static Answer as_shown(const Head& head, Answer refusal) {
        if (head.path.starts_with("/api/") || head.method != "GET") return refusal;
        refusal.type = "text/html; charset=utf-8";
        refusal.body =
            "<!doctype html>\n<html lang=\"en\"><head><meta charset=\"utf-8\"><title>shedbook</title></head>"
            "<body><main><h1>Not yet open</h1><p>Open the page by the address that shedbook shows in the "
            "terminal where it was started: the key is in it.</p></main></body></html>\n";
        return refusal;
    }

    Answer answer(const httplib::Request& request, const std::string& own_nonce = {}) {
        Ask ask = ask_of(request);
        if (request.path == "/open") return guard_.open(ask.word("key"));
        if (request.path == "/licences.txt") return assets_.file("", "licences.txt");
        if (ask.path.size() == 3 && ask.path[0] == "assets") return assets_.file(ask.path[1], ask.path[2]);
        if (ask.method == "GET" && is_place(ask.path)) return assets_.page(own_nonce);
        ask.is_guest = guard_.is_guest(head_of(request));
        return answer_of(desk_, ask);
    }

    std::atomic<bool> is_entered_ = false;
    std::atomic<bool> is_to_stop_ = false;
    std::atomic<bool> is_over_ = false;
    httplib::Server server_;
    Desk desk_;
    Assets assets_;
    int port_;
    Guard guard_;
};

PageServer::PageServer(const ServeOptions& options) : impl_{std::make_unique<Impl>(options)} {}
PageServer::~PageServer() = default;

int PageServer::port() const {
    return impl_->port();
}
std::string PageServer::address() const {
    return impl_->address(impl_->key());
}
std::string PageServer::guest_address() const {
    return impl_->address(impl_->guest_key());
}
bool PageServer::has_page() const {
    return impl_->has_page();
}
void PageServer::run() {
    impl_->run();
}
void PageServer::stop() {
    impl_->stop();
}

}  // namespace shedbook
