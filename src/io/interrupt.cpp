#include "shedbook/io/interrupt.h"

#include <csignal>

#include "unfinished_files.h"

namespace shedbook {
namespace {

volatile std::sig_atomic_t interrupted = 0;
volatile std::sig_atomic_t watches = 0;

}  // namespace

InterruptWatch::InterruptWatch() {
    if (watches == 0) interrupted = 0;
    watches = watches + 1;
}

InterruptWatch::~InterruptWatch() {
    watches = watches - 1;
    if (watches == 0) interrupted = 0;
}

bool InterruptWatch::is_interrupted() {
    return interrupted != 0;
}

bool take_interrupt() noexcept {
    if (watches > 0) {
        interrupted = 1;
        return true;
    }
    remove_unfinished();
    return false;
}

}  // namespace shedbook
