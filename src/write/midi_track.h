// One track of a Standard MIDI File: events in any order, then bytes. The format: MIDI Association, Standard
// MIDI Files 1.0 (RP-001).
#pragma once

#include <cstdint>
#include <functional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace shedbook {

class MidiTrack {
  public:
    // Hears of every note from then on.
    using Hears = std::function<void(std::int64_t from, std::int64_t to, int key, int velocity)>;
    void tell(Hears hears) { hears_ = std::move(hears); }

    // Ticks count from the beginning of the file.
    void note(std::int64_t from, std::int64_t to, int channel, int key, int velocity);
    void program(std::int64_t at, int channel, int program);  // from 0
    void control(std::int64_t at, int channel, int number, int value);
    // A control at the very beginning, which may be set as long as the track is not a chunk.
    void first_control(int channel, int number, int value);
    void name(std::string_view text);
    void instrument(std::string_view text);
    void marker(std::int64_t at, std::string_view text);
    void tempo(std::int64_t at, std::int64_t microseconds_per_quarter);
    void meter(std::int64_t at, int beats, int unit, int clocks_per_click);
    void key(std::int64_t at, int fifths, bool is_minor);

    // Turns what there is into bytes; whatever comes later must not lie before it.
    void settle();
    // The track as a chunk of the file, ending there.
    [[nodiscard]] std::string chunk(std::int64_t end);

  private:
    struct Event {
        std::int64_t at = 0;
        int order = 0;  // at one tick: what ends before what begins
        std::string bytes;
    };
    void meta(std::int64_t at, int type, std::string_view data);
    void add(std::int64_t at, int order, std::string bytes) {
        events_.push_back({at, order, std::move(bytes)});
    }

    Hears hears_;
    std::string first_;
    std::vector<Event> events_;
    std::string bytes_;
    std::int64_t last_ = 0;
};

// The file: its header, then the tracks' chunks.
[[nodiscard]] std::string midi_header(int tracks, int ticks_per_quarter);

}  // namespace shedbook
