#include "shedbook/drill/speeds.h"

#include <algorithm>
#include <array>
#include <cassert>
#include <cmath>
#include <cstdlib>
#include <iterator>

#include "shedbook/io/data.h"
#include "shedbook/io/embedded.h"

namespace shedbook {
namespace {

// The numbers on a metronome's dial. Common practice, no source.
constexpr std::array kDial{40,  42,  44,  46,  48,  50,  52,  54,  56,  58,  60,  63,  66,
                           69,  72,  76,  80,  84,  88,  92,  96,  100, 104, 108, 112, 116,
                           120, 126, 132, 138, 144, 152, 160, 168, 176, 184, 192, 200, 208};
constexpr int kSlowest = kDial.front();
constexpr int kBeyondDial = 8;  // the steps go on beyond it, as those before its end do

std::vector<Speeds> read_speeds() {
    Diagnostics diagnostics;
    const SourceText source{"speeds.toml", std::string{embedded_template("speeds.toml")}};
    const std::optional<Data> data = read_toml(source, diagnostics);
    assert(data && !diagnostics.has_errors());  // a test reads every row
    std::vector<Speeds> out;
    for (const Data& entry : *data->find("speed")->as_array()) {
        Speeds& row = out.emplace_back();
        row.id = entry.find("id")->as_string().value_or("");
        for (const Data& sound : *entry.find("sounds")->as_array())
            row.sounds.push_back(sound.as_string().value_or(""));
        const Data::Array& notes = *entry.find("notes")->as_array();
        assert(notes.size() == row.notes.size());
        for (std::size_t i = 0; i < notes.size(); ++i) row.notes[i] = notes[i].as_number().value_or(0);
        row.leap = entry.find("leap")->as_number().value_or(0);
        if (const Data* bass = entry.find("bass")) row.is_bass = bass->as_bool().value_or(false);
        if (const Data* line = entry.find("line")) {
            const auto known = from_word<HandLine>(line->as_string().value_or(""));
            assert(known);
            row.line = known.value_or(HandLine::None);
        }
    }
    return out;
}

// Speeds are no exact times: whole notes as a fraction.
double about(Duration length) {
    return static_cast<double>(length.whole_notes.num()) / static_cast<double>(length.whole_notes.den());
}

}  // namespace

int on_dial(double tempo) {
    const double exact = tempo + 1e-9;
    const int beyond = static_cast<int>(std::floor(exact - kDial.back())) / kBeyondDial;
    if (beyond > 0) return kDial.back() + beyond * kBeyondDial;
    const auto* const above = std::ranges::upper_bound(kDial, exact);
    return above == kDial.begin() ? kSlowest : *std::prev(above);
}

const std::vector<Speeds>& speed_rows() {
    static const std::vector<Speeds> kRows = read_speeds();
    return kRows;
}

const Speeds& speeds_of(std::string_view sound) {
    const Speeds* best = &speed_rows().front();
    std::size_t longest = 0;
    for (const Speeds& row : speed_rows()) {
        for (const std::string& beginning : row.sounds) {
            if (!sound.starts_with(beginning) || beginning.size() <= longest) continue;
            best = &row;
            longest = beginning.size();
        }
    }
    return *best;
}

double notes_in_a_beat(const ConcertLine& line, const Meter& meter, const Speeds& speeds) {
    constexpr std::size_t kRun = 4;
    constexpr int kFourth = 5;
    const double beat = about(meter.beat_length());
    std::vector<double> at;
    at.reserve(line.notes.size());
    for (const LineNote& note : line.notes) at.push_back(about(note.at - Position{}) / beat);
    double most = 0;
    for (std::size_t i = 0; i + 1 < line.notes.size(); ++i) {
        double notes = 0;
        const std::size_t last = std::min(i + kRun, line.notes.size() - 1);
        for (std::size_t k = i; k < last; ++k) {
            const int by = std::abs(line.notes[k + 1].pitch.midi() - line.notes[k].pitch.midi());
            notes += 1 + speeds.leap * std::max(0, by - kFourth);
        }
        const double beats = at[last] - at[i];
        if (beats > 0) most = std::max(most, notes / beats);
    }
    return most;
}

int top_tempo(const ConcertLine& line, const Meter& meter, const Speeds& speeds, int level) {
    constexpr double kFastest = 320;
    const double notes = notes_in_a_beat(line, meter, speeds);
    const double a_second = speeds.notes[static_cast<std::size_t>(std::clamp(level, 1, 6) - 1)];
    const double tempo = notes > 0 ? 60 * a_second / notes : kFastest;
    return on_dial(std::min(tempo, kFastest));
}

std::vector<int> box_tempos(const ConcertLine& line, const Meter& meter, const Speeds& speeds, int level,
                            int goal, const std::vector<int>& per_cent) {
    const int own = top_tempo(line, meter, speeds, level);
    const int top = std::min(own, std::max(goal, kSlowest));
    std::vector<int> out;
    out.reserve(per_cent.size());
    for (const int part : per_cent) {
        // The tune's own tempo is what it is.
        out.push_back(part >= 100 ? top : on_dial(part * top / 100.0));
    }
    std::ranges::sort(out);
    out.erase(std::unique(out.begin(), out.end()), out.end());
    return out;
}

}  // namespace shedbook
