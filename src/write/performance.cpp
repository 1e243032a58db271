#include "performance.h"

#include <algorithm>
#include <numeric>
#include <variant>

#include "shedbook/notation/notate.h"

namespace shedbook {
namespace {

class Player {
  public:
    Player(const WrittenMusic& music, unsigned scale) : music_{music}, scale_{scale} {
        Meter meter = music.meter;
        for (const Measure& measure : music.measures) {
            if (measure.meter) meter = *measure.meter;
            meters_.push_back(meter);
        }
    }

    Performance play(int times) {
        for (int i = 0; i < times; ++i) {
            out_.passes.push_back(at_);
            for (const std::size_t measure : measures_in_order(music_)) add(measure);
            close_chord();
        }
        out_.length = at_ - Position{};
        return std::move(out_);
    }

  private:
    [[nodiscard]] Duration duration(Ticks ticks) const {
        return {Rational{ticks, std::int64_t{4} * music_.ticks_per_quarter}};
    }

    void add(std::size_t which) {
        const Measure& measure = music_.measures[which];
        Duration length;
        for (const Event& event : music_.events_of(measure)) {
            add_event(event);
            length = duration(event.at + event.length);
        }
        for (const ChordMark& mark : music_.chords_of(measure)) add_chord(mark);
        if (measure.is_pickup && out_.bars.empty()) {
            out_.pickup += length;
        } else {
            if (begins_section(which)) out_.sections.push_back(at_);
            out_.bars.push_back({at_, length, meters_[which]});
        }
        add_holds(measure, at_ + length);
        at_ += length;
    }

    [[nodiscard]] bool begins_section(std::size_t which) const {
        const Measure& measure = music_.measures[which];
        const bool is_labelled = std::ranges::any_of(
            measure.signs_before, [](const Sign& sign) { return !sign.form && !sign.label.empty(); });
        const bool after_double = which > 0 && music_.measures[which - 1].right == Barline::Double;
        return is_labelled || after_double || measure.repeat_start;
    }

    // They hang on the last note of the bar, or on its last beat.
    void add_holds(const Measure& measure, Position end) {
        for (const Sign& sign : measure.signs_after) {
            const bool is_caesura = sign.form == FormSign::Caesura;
            if (sign.form != FormSign::Fermata && !is_caesura) continue;
            Position at = end - kQuarter;
            if (!out_.edges.empty() && out_.edges.back() >= at_) at = out_.edges.back();
            out_.holds.push_back({at, end - at, is_caesura});
        }
    }

    void add_event(const Event& event) {
        const Position at = at_ + duration(event.at);
        out_.edges.push_back(at);
        const auto* sounded = std::get_if<Sounded>(&event.what);
        if (sounded == nullptr) {
            is_tied_ = false;
            return;
        }
        const bool goes_on =
            is_tied_ && sounded->tied_from_before && out_.line.back().key == key_of(sounded->pitch);
        if (sounded->slur_stops) is_slurred_ = false;
        if (sounded->slur_starts && !goes_on) is_slurred_ = true;
        if (goes_on) {
            lengthen(duration(event.length));
        } else {
            struck_ = out_.line.size();
            const auto others = music_.notes_below(*sounded);
            for (auto other = others.rbegin(); other != others.rend(); ++other)
                strike(event, at, other->pitch);
            strike(event, at, sounded->pitch);
        }
        is_tied_ = sounded->tied_on;
    }

    [[nodiscard]] int key_of(WrittenPitch pitch) const { return sounding(music_, pitch).midi(); }

    void strike(const Event& event, Position at, WrittenPitch pitch) {
        const auto& sounded = std::get<Sounded>(event.what);
        out_.line.push_back({at, duration(event.length), key_of(pitch), sounded.articulation, is_slurred_});
    }

    // The note, or all of its chord.
    void lengthen(Duration by) {
        for (std::size_t i = struck_; i < out_.line.size(); ++i) {
            out_.line[i].length += by;
            out_.line[i].is_slurred_on = is_slurred_;
        }
    }

    void add_chord(const ChordMark& mark) {
        const Position at = at_ + duration(mark.at);
        close_chord(at);
        BandChord chord{at, {}, mark.symbol, scale_};
        if (chord.symbol) chord.symbol = transposed(*chord.symbol, to_sounding(music_.transposition));
        out_.chords.push_back(chord);
        is_chord_open_ = true;
    }

    void close_chord() { close_chord(at_); }
    void close_chord(Position at) {
        if (is_chord_open_) out_.chords.back().length = at - out_.chords.back().at;
        is_chord_open_ = false;
    }

    const WrittenMusic& music_;
    unsigned scale_;
    std::vector<Meter> meters_;
    Performance out_;
    Position at_;
    std::size_t struck_ = 0;  // the first of the notes that were struck last
    bool is_tied_ = false;
    bool is_slurred_ = false;
    bool is_chord_open_ = false;
};

}  // namespace

std::vector<std::size_t> measures_in_order(const WrittenMusic& music) {
    if (!music.played.empty()) return music.played;
    std::vector<std::size_t> out(music.measures.size());
    std::iota(out.begin(), out.end(), std::size_t{0});
    return out;
}

Performance perform(const WrittenMusic& music, int times, unsigned scale) {
    Performance out = Player{music, scale}.play(times);
    // The left hand moves with the right one: the edges are the same.
    for (const WrittenMusic& staff : music.lower) {
        const Performance left = Player{staff, scale}.play(times);
        out.line.insert(out.line.end(), left.line.begin(), left.line.end());
    }
    std::ranges::stable_sort(out.line, {}, &PlayedNote::at);
    for (const PlayedNote& note : out.line) out.heard.push_back({note.at, note.length, note.key});
    return out;
}

void cut_off(Performance& piece, Position end) {
    const auto is_after = [&](const auto& each) { return each.at >= end; };
    std::erase_if(piece.bars, is_after);
    std::erase_if(piece.chords, is_after);
    std::erase_if(piece.line, is_after);
    std::erase_if(piece.heard, is_after);
    std::erase_if(piece.holds, is_after);
    std::erase_if(piece.passes, [&](Position pass) { return pass >= end; });
    for (BandChord& chord : piece.chords) chord.length = std::min(chord.length, end - chord.at);
    for (PlayedNote& note : piece.line) note.length = std::min(note.length, end - note.at);
    piece.length = std::min(piece.length, end - Position{});
}

std::size_t bars_once_through(const WrittenMusic& music) {
    const std::vector<std::size_t> order = measures_in_order(music);
    const bool has_pickup = !order.empty() && music.measures[order.front()].is_pickup;
    return order.size() - (has_pickup ? 1 : 0);
}

}  // namespace shedbook
