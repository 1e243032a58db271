// Reads a Standard MIDI File back, for tests: written from the specification alone (MIDI Association,
// Standard MIDI Files 1.0, RP-001), with nothing of the writer in it. Throws where the file is not as the
// specification says.
#pragma once

#include <cstdint>
#include <map>
#include <stdexcept>
#include <string>
#include <utility>
#include <vector>

namespace shedbook {

struct ReadNote {
    std::int64_t at = 0;
    std::int64_t length = 0;
    int channel = 0;
    int key = 0;
    int velocity = 0;
};
struct ReadMeta {
    std::int64_t at = 0;
    int type = 0;
    std::string data;
};
struct ReadControl {
    std::int64_t at = 0;
    int channel = 0;
    int number = 0;
    int value = 0;
};
struct ReadTrack {
    std::vector<ReadNote> notes;  // by onset
    std::vector<ReadControl> controls;
    std::vector<ReadMeta> meta;
    std::map<int, int> programs;  // by channel
    std::int64_t end = 0;

    [[nodiscard]] std::vector<ReadMeta> of_type(int type) const {
        std::vector<ReadMeta> out;
        for (const ReadMeta& each : meta) {
            if (each.type == type) out.push_back(each);
        }
        return out;
    }
    [[nodiscard]] std::string name() const { return of_type(3).empty() ? "" : of_type(3).front().data; }
};
struct ReadFile {
    int format = 0;
    int division = 0;
    std::vector<ReadTrack> tracks;
};

class MidiReader {
  public:
    explicit MidiReader(std::string bytes) : bytes_{std::move(bytes)} {}

    ReadFile read() {
        ReadFile out;
        expect("MThd");
        if (number(4) != 6) throw std::runtime_error("header length");
        out.format = static_cast<int>(number(2));
        const std::int64_t tracks = number(2);
        out.division = static_cast<int>(number(2));
        for (std::int64_t i = 0; i < tracks; ++i) out.tracks.push_back(track());
        if (at_ != bytes_.size()) throw std::runtime_error("bytes behind the last track");
        return out;
    }

  private:
    int byte() {
        if (at_ >= bytes_.size()) throw std::runtime_error("file ends early");
        return static_cast<unsigned char>(bytes_[at_++]);
    }
    int data_byte() {
        const int out = byte();
        if (out > 127) throw std::runtime_error("status where data is due");
        return out;
    }
    std::int64_t number(int count) {
        std::int64_t out = 0;
        for (int i = 0; i < count; ++i) out = 256 * out + byte();
        return out;
    }
    std::int64_t variable() {
        std::int64_t out = 0;
        for (int i = 0; i < 4; ++i) {
            const int each = byte();
            out = 128 * out + each % 128;
            if (each < 128) return out;
        }
        throw std::runtime_error("number longer than four bytes");
    }
    void expect(const std::string& id) {
        if (bytes_.substr(at_, 4) != id) throw std::runtime_error("no " + id);
        at_ += 4;
    }

    ReadTrack track() {
        ReadTrack out;
        expect("MTrk");
        const std::size_t length = static_cast<std::size_t>(number(4));
        const std::size_t stop = at_ + length;
        std::map<std::pair<int, int>, std::size_t> open;  // channel and key to the note that sounds
        std::int64_t now = 0;
        while (true) {
            now += variable();
            const int status = byte();
            if (status == 0xFF) {
                const int type = byte();
                const auto size = static_cast<std::size_t>(variable());
                out.meta.push_back({now, type, bytes_.substr(at_, size)});
                at_ += size;
                if (type == 0x2F) break;
                continue;
            }
            message(status, now, out, open);
        }
        if (at_ != stop) throw std::runtime_error("track length is wrong");
        if (!open.empty()) throw std::runtime_error("a note never ends");
        out.end = now;
        return out;
    }

    void message(int status, std::int64_t now, ReadTrack& out,
                 std::map<std::pair<int, int>, std::size_t>& open) {
        const int channel = status % 16;
        const int first = data_byte();
        switch (status / 16) {
            case 0x9: {
                const int velocity = data_byte();
                if (open.contains({channel, first})) throw std::runtime_error("a note begins twice");
                open[{channel, first}] = out.notes.size();
                out.notes.push_back({now, 0, channel, first, velocity});
                return;
            }
            case 0x8: {
                data_byte();
                const auto it = open.find({channel, first});
                if (it == open.end()) throw std::runtime_error("a note ends that never began");
                out.notes[it->second].length = now - out.notes[it->second].at;
                open.erase(it);
                return;
            }
            case 0xB:
                out.controls.push_back({now, channel, first, data_byte()});
                return;
            case 0xC:
                out.programs[channel] = first;
                return;
            default:
                throw std::runtime_error("an unknown message");
        }
    }

    std::string bytes_;
    std::size_t at_ = 0;
};

}  // namespace shedbook
