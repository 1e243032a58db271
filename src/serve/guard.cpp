#include "guard.h"

#include <arpa/inet.h>

#include <array>
#include <random>
#include <string_view>
#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// 256 bits of the system's own randomness, in letters that an address may have.
std::string new_key() {
    constexpr std::string_view kDigits = "0123456789abcdef";
    constexpr int kWords = 8;
    constexpr unsigned kBitsOfDigit = 4;
    std::random_device device;
    std::string out;
    for (int word = 0; word < kWords; ++word) {
        std::uint32_t bits = device();
        for (unsigned digit = 0; digit < 32 / kBitsOfDigit; ++digit, bits >>= kBitsOfDigit)
            out += kDigits[bits & 0xFU];
    }
    return out;
}

// "127.0.0.1:8473" without its port; empty if the port is another.
std::string without_port(const std::string& host, int port) {
    const std::string ending = ":" + std::to_string(port);
    if (!host.ends_with(ending)) return {};
    std::string out = host.substr(0, host.size() - ending.size());
    if (out.starts_with('[') && out.ends_with(']')) out = out.substr(1, out.size() - 2);
    return out;
}

bool changes_something(const std::string& method) {
    return method != "GET" && method != "HEAD";
}

std::uint64_t most_body(const Head& head) {
    return head.path == "/api/import" || head.path == "/api/log/import" ? kMostImport : kMostBody;
}

std::optional<Answer> refusal_of_body(const Head& head) {
    if (head.is_chunked) return refused(411, "say how long it is: Content-Length is missing");
    const bool may_be_empty = head.method == "DELETE";
    if (!head.has_length)
        return may_be_empty ? std::nullopt
                            : std::optional{refused(411, "say how long it is: Content-Length is missing")};
    if (head.length > most_body(head))
        return refused(413, "this is larger than " + std::to_string(most_body(head) / (1024 * 1024)) +
                                " MiB, and no tune is");
    if (!head.content_encoding.empty()) return refused(415, "nothing is unpacked here");
    if (head.length == 0 && may_be_empty) return std::nullopt;
    const std::string type{trimmed(split(lower_case(head.content_type), ';').front())};
    const bool is_raw = most_body(head) == kMostImport;
    const std::string wanted = is_raw ? "application/octet-stream" : "application/json";
    if (type != wanted) return refused(415, "its type must be " + wanted);
    return std::nullopt;
}

}  // namespace

bool is_same_secret(const std::string& a, const std::string& b) {
    if (a.size() != b.size()) return false;
    unsigned differs = 0;
    for (std::size_t i = 0; i < a.size(); ++i)
        differs |= static_cast<unsigned>(static_cast<unsigned char>(a[i])) ^
                   static_cast<unsigned>(static_cast<unsigned char>(b[i]));
    return differs == 0;
}

bool is_numeric_address(const std::string& host) {
    std::array<unsigned char, sizeof(in6_addr)> address{};
    return inet_pton(AF_INET, host.c_str(), address.data()) == 1 ||
           inet_pton(AF_INET6, host.c_str(), address.data()) == 1;
}

Guard::Guard(int port, std::string listen)
    : port_{port}, listen_{std::move(listen)}, key_{new_key()}, guest_key_{new_key()} {}

std::string Guard::cookie_name() const {
    return "shedbook-" + std::to_string(port_);
}

// A name that somebody else's server gives for our address is not one of ours (DNS rebinding).
bool Guard::is_own_host(const std::string& host) const {
    const std::string name = without_port(host, port_);
    if (name == "127.0.0.1" || name == "localhost" || name == "::1") return true;
    return !listen_.empty() && (name == listen_ || is_numeric_address(name));
}

std::string Guard::key_of(const Head& head) const {
    const std::string start = cookie_name() + "=";
    for (const std::string_view part : split(head.cookie, ';')) {
        const std::string_view cookie = trimmed(part);
        if (cookie.starts_with(start)) return std::string{cookie.substr(start.size())};
    }
    return {};
}

bool Guard::is_guest(const Head& head) const {
    return !is_same_secret(key_of(head), key_);
}

std::optional<Answer> Guard::refusal_of(const Head& head) const {
    if (!is_own_host(head.host)) return refused(403, "this page is not served under that name");
    const bool is_ours =
        head.origin.empty() ? !changes_something(head.method) : head.origin == "http://" + head.host;
    if (!is_ours) return refused(403, "this was not asked by the page itself");
    if (head.path == "/open" && !changes_something(head.method)) return std::nullopt;
    const std::string key = key_of(head);
    if (!is_same_secret(key, key_) && !is_same_secret(key, guest_key_))
        return refused(403, "open the page by the address that the terminal shows: it has the key");
    return changes_something(head.method) ? refusal_of_body(head) : std::nullopt;
}

Answer Guard::open(const std::string& key) const {
    if (!is_same_secret(key, key_) && !is_same_secret(key, guest_key_))
        return refused(403,
                       "this key is not, or no longer, the right one: take the address that the "
                       "terminal shows now");
    Answer out{303, "text/plain", ""};
    out.headers.emplace_back("Set-Cookie", cookie_name() + "=" + key + "; HttpOnly; SameSite=Strict; Path=/");
    out.headers.emplace_back("Location", "/tunes");
    return out;
}

}  // namespace shedbook
