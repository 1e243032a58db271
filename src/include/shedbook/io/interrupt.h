// The wish to stop: Ctrl-C, or a polite request to end. Libraries install no signal handlers; the program
// does, and hands on what it hears.
//
//     void on_signal(int which) { if (!take_interrupt()) end_by(which); }      // of the program
//
//     const InterruptWatch watch;                              // of a library: from here on it is remembered
//     if (InterruptWatch::is_interrupted()) throw Stopped("stopped; nothing was written");
#pragma once

#include <atomic>

namespace shedbook {

// While one lives, a wish to stop does not end this program: it ends the one that run_process waits for, and
// is remembered, so that what was begun can be cleared away. One within another is the same watch.
class InterruptWatch {
  public:
    InterruptWatch();
    ~InterruptWatch();
    InterruptWatch(const InterruptWatch&) = delete;
    InterruptWatch& operator=(const InterruptWatch&) = delete;
    [[nodiscard]] static bool is_interrupted();
};

// While one lives, what this thread does also ends once `wish` is true, as if the program had been asked to
// stop: for work on behalf of one among many.
class StopsByWish {
  public:
    explicit StopsByWish(const std::atomic<bool>& wish) : StopsByWish{&wish} {}
    // For a thread that helps another one: with the wish of that, which may be none.
    explicit StopsByWish(const std::atomic<bool>* wish);
    ~StopsByWish();
    StopsByWish(const StopsByWish&) = delete;
    StopsByWish& operator=(const StopsByWish&) = delete;
    [[nodiscard]] static const std::atomic<bool>* of_this_thread();

  private:
    const std::atomic<bool>* before_;
};

// For the handler of a program; calls only what POSIX allows in one. True if somebody watches and will end
// what is being done; else the unfinished files have been removed, and the program should end.
[[nodiscard]] bool take_interrupt() noexcept;

}  // namespace shedbook
