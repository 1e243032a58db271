// Who is answered at all: whoever came in by the address with the key, at the name under which this machine
// was asked, and from our own page. docs/page.md says what it protects against.
#pragma once

#include <cstdint>
#include <optional>
#include <string>

#include "ask.h"

namespace shedbook {

// What stands over a request.
struct Head {
    std::string method;
    std::string path;
    std::string host;
    std::string origin;  // empty: none was sent
    std::string cookie;
    std::string content_type;
    std::string content_encoding;
    bool has_length = false;
    std::uint64_t length = 0;
    bool is_chunked = false;
};

inline constexpr std::uint64_t kMostBody = 4 * 1024 * 1024;
inline constexpr std::uint64_t kMostImport = 32 * 1024 * 1024;

class Guard {
  public:
    // `listen`: the address by which others come in; empty: nobody does.
    Guard(int port, std::string listen);

    [[nodiscard]] const std::string& key() const { return key_; }
    [[nodiscard]] const std::string& guest_key() const { return guest_key_; }
    // "shedbook-8473": browsers do not keep cookies of two ports apart.
    [[nodiscard]] std::string cookie_name() const;

    // Nothing: it may be answered.
    [[nodiscard]] std::optional<Answer> refusal_of(const Head& head) const;
    [[nodiscard]] bool is_guest(const Head& head) const;
    // The answer to /open: the cookie for that key and on to the page.
    [[nodiscard]] Answer open(const std::string& key) const;

  private:
    [[nodiscard]] bool is_own_host(const std::string& host) const;
    [[nodiscard]] std::string key_of(const Head& head) const;

    int port_;
    std::string listen_;
    std::string key_;
    std::string guest_key_;
};

// Whether two texts are the same, in a time that tells nothing about where they differ.
[[nodiscard]] bool is_same_secret(const std::string& a, const std::string& b);
// Whether it is an address of numbers, which no name server can turn elsewhere.
[[nodiscard]] bool is_numeric_address(const std::string& host);

}  // namespace shedbook
