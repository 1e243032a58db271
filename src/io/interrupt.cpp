#include "shedbook/io/interrupt.h"

#include <atomic>

#include "unfinished_files.h"

namespace shedbook {
namespace {

// A handler may read and write them: they have no lock.
std::atomic<int> interrupted = 0;
std::atomic<int> watches = 0;
static_assert(std::atomic<int>::is_always_lock_free);
thread_local const std::atomic<bool>* own_wish = nullptr;

}  // namespace

InterruptWatch::InterruptWatch() {
    if (watches.fetch_add(1) == 0) interrupted = 0;
}

InterruptWatch::~InterruptWatch() {
    if (watches.fetch_sub(1) == 1) interrupted = 0;
}

bool InterruptWatch::is_interrupted() {
    return interrupted != 0 || (own_wish != nullptr && own_wish->load());
}

StopsByWish::StopsByWish(const std::atomic<bool>* wish) : before_{own_wish} {
    own_wish = wish;
}

StopsByWish::~StopsByWish() {
    own_wish = before_;
}

const std::atomic<bool>* StopsByWish::of_this_thread() {
    return own_wish;
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
