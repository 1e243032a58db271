#include "served.h"

#include <arpa/inet.h>
#include <httplib.h>
#include <netinet/in.h>
#include <sys/socket.h>

#include <array>
#include <chrono>
#include <thread>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

Reply reply_of(const httplib::Result& result) {
    Reply out;
    if (!result) return out;
    out.status = result->status;
    out.body = result->body;
    for (const auto& [name, value] : result->headers) out.headers[lower_case(name)] = value;
    return out;
}

httplib::Headers as_library(const Headers& headers) {
    httplib::Headers out;
    for (const auto& [name, value] : headers) out.emplace(name, value);
    return out;
}

}  // namespace

Data Reply::json() const {
    Diagnostics diagnostics;
    return read_json(SourceText{"reply", body}, diagnostics).value_or(Data{});
}

Data Reply::at(const std::string& path) const {
    Data out = json();
    for (const std::string_view part : split(path, '.')) {
        if (const Data::Array* array = out.as_array()) {
            const auto index = static_cast<std::size_t>(std::stoul(std::string{part}));
            if (index >= array->size()) return {};
            out = Data{(*array)[index]};
        } else {
            const Data* member = out.find(part);
            if (member == nullptr) return {};
            out = Data{*member};
        }
    }
    return out;
}

std::string Reply::text(const std::string& path) const {
    return at(path).as_string().value_or("");
}
std::int64_t Reply::number(const std::string& path) const {
    return at(path).as_int().value_or(-1);
}
double Reply::real(const std::string& path) const {
    return at(path).as_number().value_or(-1);
}
std::size_t Reply::size(const std::string& path) const {
    const Data found = at(path);
    return found.as_array() != nullptr ? found.as_array()->size() : 0;
}

struct Browser::Client {
    explicit Client(const std::string& origin) : http{origin} {
        http.set_keep_alive(true);
        http.set_read_timeout(120);
    }
    httplib::Client http;
};

Browser::Browser(const std::string& address) : origin_{address.substr(0, address.find("/open"))} {
    client_ = std::make_unique<Client>(origin_);
    const Reply opened = get(address.substr(origin_.size()));
    const auto cookie = opened.headers.find("set-cookie");
    if (cookie != opened.headers.end()) cookie_ = cookie->second.substr(0, cookie->second.find(';'));
}
Browser::~Browser() = default;

Reply Browser::send(const std::string& method, const std::string& path, const std::string& body,
                    const Headers& headers) {
    httplib::Request request;
    request.method = method;
    request.path = path;
    request.headers = as_library(headers);
    request.body = body;
    return reply_of(client_->http.send(request));
}

Reply Browser::get(const std::string& path, const Headers& more) {
    Headers headers = more;
    if (!cookie_.empty()) headers.emplace("Cookie", cookie_);
    return send("GET", path, "", headers);
}

Reply Browser::post(const std::string& path, const std::string& json, const Headers& more) {
    Headers headers = more;
    headers.emplace("Cookie", cookie_);
    headers.emplace("Origin", origin_);
    headers.emplace("Content-Type", "application/json");
    return send("POST", path, json, headers);
}

Reply Browser::put(const std::string& path, const std::string& json, const std::string& revision) {
    return send("PUT", path, json,
                {{"Cookie", cookie_},
                 {"Origin", origin_},
                 {"Content-Type", "application/json"},
                 {"If-Match", revision == "*" ? revision : "\"" + revision + "\""}});
}

Reply Browser::remove(const std::string& path) {
    return send("DELETE", path, "", {{"Cookie", cookie_}, {"Origin", origin_}});
}

Reply when_over(Browser& browser, const std::string& id) {
    Reply out;
    for (int i = 0; i < 600; ++i) {
        out = browser.get("/api/paper/" + id);
        const std::string state = out.text("state");
        if (state != "waits" && state != "making") break;
        std::this_thread::sleep_for(std::chrono::milliseconds{50});
    }
    return out;
}

std::string quoted(const std::string& text) {
    return write_json(Data{text});
}

std::string raw_talk(int port, const std::string& text) {
    const int line = socket(AF_INET, SOCK_STREAM, 0);
    sockaddr_in address{};
    address.sin_family = AF_INET;
    address.sin_port = htons(static_cast<std::uint16_t>(port));
    address.sin_addr.s_addr = htonl(INADDR_LOOPBACK);
    std::string out;
    if (connect(line, reinterpret_cast<const sockaddr*>(&address), sizeof(address)) == 0 &&
        ::send(line, text.data(), text.size(), MSG_NOSIGNAL) >= 0) {
        std::array<char, 4096> chunk{};
        for (ssize_t got = 0; (got = recv(line, chunk.data(), chunk.size(), 0)) > 0;)
            out.append(chunk.data(), static_cast<std::size_t>(got));
    }
    close(line);
    return out;
}

Served::Served(ServeOptions options) {
    options.folder = tunes_.file("");
    options.data = log();
    options.port = 0;
    save(file("four-pegs.tune"), kFourBars);
    server_ = std::make_unique<PageServer>(options);
    answers_ = std::thread{[this] { server_->run(); }};
}

Served::~Served() {
    server_->stop();
    answers_.join();
}

}  // namespace shedbook
