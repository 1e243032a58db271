// A page server in this program with a folder of its own, and a browser's side of the talk.
#pragma once

#include <map>
#include <memory>
#include <optional>
#include <string>
#include <thread>

#include "scratch_folder.h"
#include "shedbook/io/data.h"
#include "shedbook/serve/serve.h"

namespace shedbook {

using Headers = std::map<std::string, std::string>;

struct Reply {
    int status = 0;  // 0: none came
    std::string body;
    Headers headers;  // names in lower case
    [[nodiscard]] Data json() const;
    // A member of its object, deeper ones behind dots and numbers: "tunes.0.name"; null if it is not there.
    [[nodiscard]] Data at(const std::string& path) const;
    [[nodiscard]] std::string text(const std::string& path) const;
    [[nodiscard]] std::int64_t number(const std::string& path) const;
    [[nodiscard]] double real(const std::string& path) const;
    [[nodiscard]] std::size_t size(const std::string& path) const;
};

// What a browser that came in by an address does.
class Browser {
  public:
    // Opens the address with the key.
    explicit Browser(const std::string& address);
    ~Browser();
    Reply get(const std::string& path, const Headers& more = {});
    Reply post(const std::string& path, const std::string& json, const Headers& more = {});
    Reply put(const std::string& path, const std::string& json, const std::string& revision);
    Reply remove(const std::string& path);
    Reply send(const std::string& method, const std::string& path, const std::string& body,
               const Headers& headers);
    [[nodiscard]] const std::string& cookie() const { return cookie_; }

  private:
    struct Client;
    std::unique_ptr<Client> client_;
    std::string origin_;
    std::string cookie_;
};

// What is made in the background, when it is over, or as it stands after half a minute.
[[nodiscard]] Reply when_over(Browser& browser, const std::string& id);
// Text as a string of JSON.
[[nodiscard]] std::string quoted(const std::string& text);
// Everything between two marks of what is sent as it stands, over a connection of its own.
[[nodiscard]] std::string raw_talk(int port, const std::string& text);

class Served {
  public:
    explicit Served(ServeOptions options = {});
    ~Served();
    [[nodiscard]] std::string file(const std::string& name) const { return tunes_.file(name); }
    [[nodiscard]] const PageServer& server() const { return *server_; }
    [[nodiscard]] std::string log() const { return beside_.file("practice.db"); }
    // One that has come in.
    [[nodiscard]] Browser browser() const { return Browser{server_->address()}; }

  private:
    ScratchFolder tunes_;
    ScratchFolder beside_;
    std::unique_ptr<PageServer> server_;
    std::thread answers_;
};

inline constexpr const char* kFourBars = "Title: Four Pegs\nKey: C\nTempo: 120\n| Dm7 | G7 | Cmaj7 | A7 |\n";

}  // namespace shedbook
