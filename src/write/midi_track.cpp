#include "midi_track.h"

#include <algorithm>
#include <bit>
#include <cassert>
#include <utility>

namespace shedbook {
namespace {

constexpr int kOff = 0;
constexpr int kSet = 1;
constexpr int kOn = 2;

void put_byte(std::string& out, std::int64_t value) {
    out += static_cast<char>(static_cast<unsigned char>(value & 0xFF));
}

void put_number(std::string& out, std::int64_t value, int bytes) {
    for (int shift = 8 * (bytes - 1); shift >= 0; shift -= 8) put_byte(out, value >> shift);
}

// Seven bits a byte, all but the last with the top bit set.
void put_variable(std::string& out, std::int64_t value) {
    constexpr std::int64_t kMost = 0x0FFFFFFF;
    value = std::clamp<std::int64_t>(value, 0, kMost);
    for (int shift = 21; shift > 0; shift -= 7) {
        if (value >> shift != 0) put_byte(out, (value >> shift & 0x7F) | 0x80);
    }
    put_byte(out, value & 0x7F);
}

std::string message(int status, int channel, int first, int second) {
    std::string out;
    put_byte(out, status | channel);
    put_byte(out, std::clamp(first, 0, 127));
    put_byte(out, std::clamp(second, 0, 127));
    return out;
}

}  // namespace

void MidiTrack::note(std::int64_t from, std::int64_t to, int channel, int key, int velocity) {
    assert(to > from);
    add(from, kOn, message(0x90, channel, key, velocity));
    add(to, kOff, message(0x80, channel, key, 64));
    if (hears_) hears_(from, to, key, velocity);
}

void MidiTrack::program(std::int64_t at, int channel, int program) {
    std::string bytes;
    put_byte(bytes, 0xC0 | channel);
    put_byte(bytes, std::clamp(program, 0, 127));
    add(at, kSet, std::move(bytes));
}

void MidiTrack::control(std::int64_t at, int channel, int number, int value) {
    add(at, kSet, message(0xB0, channel, number, value));
}

void MidiTrack::first_control(int channel, int number, int value) {
    put_variable(first_, 0);
    first_ += message(0xB0, channel, number, value);
}

void MidiTrack::name(std::string_view text) {
    meta(0, 0x03, text);
}

void MidiTrack::instrument(std::string_view text) {
    meta(0, 0x04, text);
}

void MidiTrack::marker(std::int64_t at, std::string_view text) {
    meta(at, 0x06, text);
}

void MidiTrack::tempo(std::int64_t at, std::int64_t microseconds_per_quarter) {
    std::string data;
    put_number(data, microseconds_per_quarter, 3);
    meta(at, 0x51, data);
}

void MidiTrack::meter(std::int64_t at, int beats, int unit, int clocks_per_click) {
    std::string data;
    put_byte(data, beats);
    put_byte(data, std::countr_zero(static_cast<unsigned>(unit)));
    put_byte(data, clocks_per_click);
    put_byte(data, 8);  // thirty-seconds to a quarter
    meta(at, 0x58, data);
}

void MidiTrack::key(std::int64_t at, int fifths, bool is_minor) {
    std::string data;
    put_byte(data, fifths);
    put_byte(data, is_minor ? 1 : 0);
    meta(at, 0x59, data);
}

void MidiTrack::meta(std::int64_t at, int type, std::string_view data) {
    std::string bytes;
    put_byte(bytes, 0xFF);
    put_byte(bytes, type);
    put_variable(bytes, static_cast<std::int64_t>(data.size()));
    bytes += data;
    add(at, kSet, std::move(bytes));
}

void MidiTrack::settle() {
    std::ranges::stable_sort(events_, [](const Event& a, const Event& b) {
        return a.at != b.at ? a.at < b.at : a.order < b.order;
    });
    for (const Event& event : events_) {
        assert(event.at >= last_);
        put_variable(bytes_, event.at - last_);
        bytes_ += event.bytes;
        last_ = event.at;
    }
    events_.clear();
}

std::string MidiTrack::chunk(std::int64_t end) {
    meta(std::max(end, last_), 0x2F, {});
    settle();
    std::string out = "MTrk";
    put_number(out, static_cast<std::int64_t>(first_.size() + bytes_.size()), 4);
    return out + first_ + bytes_;
}

std::string midi_header(int tracks, int ticks_per_quarter) {
    std::string out = "MThd";
    put_number(out, 6, 4);
    put_number(out, 1, 2);  // tracks that sound together
    put_number(out, tracks, 2);
    put_number(out, ticks_per_quarter, 2);
    return out;
}

}  // namespace shedbook
