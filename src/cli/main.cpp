#include <csignal>
#include <initializer_list>

#include "run.h"
#include "shedbook/io/interrupt.h"

namespace {

void on_signal(int which) {
    if (shedbook::take_interrupt()) return;
    std::signal(which, SIG_DFL);
    std::raise(which);
}

// Who is told to ignore a signal (nohup) goes on ignoring it.
void listen_to_signals() {
    for (const int which : {SIGINT, SIGTERM, SIGHUP}) {
        struct sigaction now {};
        if (sigaction(which, nullptr, &now) == 0 && now.sa_handler != SIG_IGN) std::signal(which, on_signal);
    }
}

}  // namespace

int main(int argc, char** argv) {
    listen_to_signals();
    return shedbook::run(argc, argv);
}
