// The page: everything without a terminal, for a browser of the same machine. docs/page.md is for players.
//
//     PageServer server{{.folder = "my-tunes"}};               // listens already
//     server.address();                                        // "http://127.0.0.1:8473/open?key=..."
//     server.run();                                            // until stop()
//
// Only who was given the key is answered. By itself it listens on the loopback address alone.
#pragma once

#include <memory>
#include <string>

namespace shedbook {

inline constexpr int kUsualPort = 8473;

struct ServeOptions {
    std::string folder = ".";     // of the tunes
    int port = kUsualPort;        // 0: any that is free
    bool takes_next_port = true;  // where that one is taken
    std::string listen = {};      // an address of this machine for others to come in by; empty: loopback
    std::string page = {};        // a folder with the page's files, in place of those in the program
    std::string data = {};        // the log; empty: as the environment says
    std::string player = {};      // empty: me
    std::string sound_font = {};  // empty: one that is found
};

class PageServer {
  public:
    // FileError for a folder that is none, a port that is taken, an address that is not of this machine.
    explicit PageServer(const ServeOptions& options);
    ~PageServer();
    PageServer(const PageServer&) = delete;
    PageServer& operator=(const PageServer&) = delete;

    [[nodiscard]] int port() const;
    // What is to be opened, with the key.
    [[nodiscard]] std::string address() const;
    // The same for somebody who may look and listen, and change nothing.
    [[nodiscard]] std::string guest_address() const;
    // Whether the files of the page are there; else what is missing is shown in its place.
    [[nodiscard]] bool has_page() const;

    // Answers until somebody calls stop(), from another thread.
    void run();
    void stop();

  private:
    class Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace shedbook
