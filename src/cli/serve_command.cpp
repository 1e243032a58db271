#include <unistd.h>

#include <chrono>
#include <iostream>
#include <memory>
#include <string>
#include <thread>

#include "command.h"
#include "log_lines.h"
#include "qr_code.h"
#include "shedbook/io/interrupt.h"
#include "shedbook/io/process.h"
#include "shedbook/serve/serve.h"
#include "terminal.h"

namespace shedbook {
namespace {

constexpr std::chrono::milliseconds kLookUp{100};

// The browser goes on when this program ends, so it is nobody's child.
void open_in_browser(const std::string& address) {
    const std::optional<std::string> opener = find_program("xdg-open");
    if (!opener) return;
    const pid_t child = fork();
    if (child != 0) return;
    setsid();
    if (fork() != 0) _exit(0);
    execl(opener->c_str(), opener->c_str(), address.c_str(), static_cast<char*>(nullptr));
    _exit(1);
}

void tell(const PageServer& server, const ServeOptions& options) {
    if (!server.has_page()) {
        say_fault(
            "the page is not in this program: it was built without npm (on Debian: apt-get install npm, then "
            "configure and build again); the commands do all that the page does");
    }
    std::cout << "Open in the browser of this machine (the key in it is for you alone):\n  "
              << server.address() << "\n";
    if (!options.listen.empty()) {
        std::cout << "On another device in the same network that address too";
        // For the camera of a tablet; nobody's eyes where it goes into a file.
        if (isatty(STDOUT_FILENO) == 1)
            std::cout << ", or its camera:\n" << qr_code(server.address());
        else
            std::cout << ".\n";
        std::cout
            << "For somebody who may look and listen, and change nothing:\n  " << server.guest_address()
            << "\nWhoever can read your network can read along: not for a network that you do not trust.\n";
    }
    std::cout << "Ctrl-C ends it." << std::endl;
}

int run_serve(const ServeOptions& options, bool opens) {
    PageServer server{options};
    tell(server, options);
    const InterruptWatch watch;
    std::thread answers{[&] { server.run(); }};
    if (opens && server.has_page()) open_in_browser(server.address());
    while (!InterruptWatch::is_interrupted()) std::this_thread::sleep_for(kLookUp);
    server.stop();
    answers.join();
    return kDone;
}

}  // namespace

Action serve_command(Syntax& syntax) {
    auto options = std::make_shared<ServeOptions>();
    auto place = std::make_shared<LogPlace>();
    auto port = std::make_shared<int>(0);
    auto stays_closed = std::make_shared<bool>(false);
    syntax.add_option("folder", options->folder, "the folder of your tunes (default: this one)");
    syntax
        .add_option(
            "--port", *port,
            "the port to listen to (default: " + std::to_string(kUsualPort) + ", or the next free one)")
        .between(1, 65535);
    syntax
        .add_option("--listen", options->listen,
                    "also for other devices: the address of this machine by which they come, as 192.168.1.20")
        .takes("ADDRESS");
    syntax.add_flag("--no-open", *stays_closed, "leave the browser alone");
    syntax
        .add_option("--page", options->page,
                    "the files of the page from this folder, not those in the program")
        .takes("FOLDER");
    syntax.add_option("--sound-font", options->sound_font, "a .sf2 or .sf3 file to play with").reads_file();
    add_log_options(syntax, *place);
    return [=] {
        options->takes_next_port = *port == 0;
        if (*port != 0) options->port = *port;
        options->data = place->data;
        options->player = place->player;
        return run_serve(*options, !*stays_closed);
    };
}

}  // namespace shedbook
