// What a browser asks, and what it is answered: HTTP without the library.
#pragma once

#include <cstdint>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

#include "shedbook/io/data.h"

namespace shedbook {

struct Ask {
    std::string method;
    std::vector<std::string> path;  // "/api/tunes/blue" is api, tunes, blue
    std::map<std::string, std::string> query;
    std::string if_match;
    std::string body;
    bool is_guest = false;

    // Empty where it was not said.
    [[nodiscard]] std::string word(const std::string& name) const;
    // UsageError where it is no whole number.
    [[nodiscard]] int number(const std::string& name, int usual) const;
};

struct Answer {
    int status = 200;
    std::string type = "application/json";
    std::string body;
    std::vector<std::pair<std::string, std::string>> headers = {};
    std::string file = {};  // to be sent in place of `body`
};

// Ends the work on what was asked with this status; `words` are for the player. `more`: members beside them.
class Refusal : public std::runtime_error {
  public:
    Refusal(int status, const std::string& words, Data::Object more = {})
        : std::runtime_error{words}, status_{status}, more_{std::move(more)} {}
    [[nodiscard]] int status() const { return status_; }
    [[nodiscard]] const Data::Object& more() const { return more_; }

  private:
    int status_;
    Data::Object more_;
};

[[nodiscard]] Answer answered(Data::Object object, int status = 200);
[[nodiscard]] Answer refused(int status, const std::string& words, Data::Object more = {});

// The body as the object that it must be; Refusal 400 where it is none.
class Body {
  public:
    explicit Body(const Ask& ask);
    // Empty, 0 or false where it is not there or null; Refusal 400 where it is something else.
    [[nodiscard]] std::string text(const std::string& name) const;
    [[nodiscard]] int number(const std::string& name, int usual = 0) const;
    [[nodiscard]] bool flag(const std::string& name, bool usual = false) const;
    [[nodiscard]] std::vector<std::string> texts(const std::string& name) const;
    // Null if it is not there.
    [[nodiscard]] const Data* find(const std::string& name) const;
    [[nodiscard]] bool has(const std::string& name) const;
    [[nodiscard]] const Data& data() const { return data_; }

  private:
    Data data_;
};

}  // namespace shedbook
