#include "shedbook/notation/notate.h"

#include <algorithm>
#include <cassert>
#include <numeric>
#include <string>
#include <utility>

#include "steps.h"

namespace shedbook {
namespace {

// What sounds (or does not) through a stretch of a bar, before it is cut into written values.
struct Stretch {
    enum class Kind { Rest, Note, Open };

    Ticks at = 0;
    Ticks length = 0;
    Kind kind = Kind::Rest;
    const LineNote* note = nullptr;
    Pitch pitch;  // of a note, written
    bool tied_from_before = false;
    bool tied_on = false;
};

// Counted from the start of the line, where an opera act has more than a Ticks holds.
using LineTicks = std::int64_t;

// Ticks come out even: see ticks_needed().
LineTicks to_line_ticks(Rational whole_notes, Ticks ticks_per_quarter) {
    return whole_notes.num() * 4 * ticks_per_quarter / whole_notes.den();
}
Ticks to_ticks(Rational whole_notes, Ticks ticks_per_quarter) {
    return static_cast<Ticks>(to_line_ticks(whole_notes, ticks_per_quarter));
}

// How fine a bar may be cut, and how many such pieces one may have.
constexpr int kFinestDivision = 16;  // of a beat, by a tuplet
constexpr std::int64_t kMostTicksAQuarter = 100'000;
constexpr std::int64_t kMostTicksABar = 20'000'000;

// How many ticks a quarter must have for everything in the line to come out even.
Ticks ticks_needed(const ConcertLine& line, const NotateOptions& options) {
    constexpr std::int64_t kFewest = 12;
    std::int64_t ticks = kFewest;
    std::int64_t longest = 1;
    const auto need = [&](Rational whole_notes) {
        if (4 * ticks % whole_notes.den() == 0) return;
        ticks = std::lcm(ticks, Rational{whole_notes * Rational{4}}.den());
        if (ticks > kMostTicksAQuarter)
            throw UnwritableMusic("these lengths are too fine to be written together: a place at " +
                                  std::to_string(whole_notes.num()) + "/" +
                                  std::to_string(whole_notes.den()) + " of a whole note beside the others");
    };
    const auto need_meter = [&](const Meter& meter) {
        need(meter.unit_length().whole_notes);
        longest = std::max(longest, meter.bar_length().whole_notes.floor() + 1);
    };
    need_meter(options.meter);
    for (const NotateOptions::BarPlan& bar : options.bars) {
        need(bar.length.whole_notes);
        if (bar.change) need_meter(*bar.change);
        longest = std::max(longest, bar.length.whole_notes.floor() + 1);
    }
    for (const LineNote& note : line.notes) {
        need(note.at.whole_notes);
        need(note.length.whole_notes);
    }
    for (const OpenStretch& open : line.open) {
        need(open.at.whole_notes);
        need(open.length.whole_notes);
    }
    for (const PlacedSymbol& symbol : options.chords) need(symbol.at.whole_notes);
    for (const Position breath : line.breaths) need(breath.whole_notes);
    for (const auto& text : line.texts) need(text.at.whole_notes);
    need(line.length.whole_notes);
    if (longest > kMostTicksABar / (4 * ticks))
        throw UnwritableMusic("a bar is too long, and cut too finely, to be written");
    return static_cast<Ticks>(ticks);
}

// The smallest division of a beat on which all of these places lie; 0 if there is none.
int division_of(const std::vector<Ticks>& places, Ticks beat) {
    for (int n = 1; n <= kFinestDivision; ++n) {
        if (beat % n != 0) continue;
        const Ticks part = beat / n;
        if (std::ranges::all_of(places, [part](Ticks t) { return t % part == 0; })) return n;
    }
    return 0;
}

bool is_power_of_two(int n) {
    return (n & (n - 1)) == 0;
}

class Notator {
  public:
    Notator(const ConcertLine& line, const NotateOptions& options)
        : line_{line},
          options_{options},
          by_{written_interval(*options.instrument, options.key, options.scale, options.prefer)} {
        music_.ticks_per_quarter = ticks_needed(line, options);
        music_.meter = options.meter;
        music_.clef = options.instrument->clef;
        music_.transposition = options.instrument->transposition;
        music_.open_key = options.open_key || !options.key;
        if (!music_.open_key) {
            music_.key_fifths = signature(Key{options.key->tonic + by_, options.key->mode});
            music_.key_mode = options.key->mode;
        }
    }

    WrittenMusic run() {
        music_.events.reserve(line_.notes.size() + line_.notes.size() / 4 + 8);
        collect_chords();
        std::size_t bar = 0;
        LineTicks at = 0;
        const LineTicks end = to_line_ticks(line_.length.whole_notes, music_.ticks_per_quarter);
        Meter meter = options_.meter;
        std::optional<MetricGrid> grid;
        grid.emplace(meter, music_.ticks_per_quarter);
        while (at < end || bar < options_.bars.size()) {
            Measure measure;
            Ticks length = grid->bar();
            if (bar < options_.bars.size()) {
                const NotateOptions::BarPlan& plan = options_.bars[bar];
                if (plan.change && *plan.change != meter) {
                    meter = *plan.change;
                    measure.meter = meter;
                    grid.emplace(meter, music_.ticks_per_quarter);
                }
                length = to_ticks(plan.length.whole_notes, music_.ticks_per_quarter);
                measure.is_pickup = plan.is_pickup;
            }
            if (length <= 0) break;
            try {
                write_bar(*grid, at, length, measure);
            } catch (const UnwritableMusic& fault) {
                throw UnwritableMusic("bar " + std::to_string(bar + 1) + ": " + fault.what());
            }
            at += length;
            ++bar;
        }
        decide_accidentals(music_);
        decide_octave_lines(music_);
        decide_beams(music_);
        return std::move(music_);
    }

  private:
    void collect_chords() {
        for (const PlacedSymbol& placed : options_.chords) {
            ChordMark mark;
            if (placed.symbol) mark.symbol = written_symbol(*placed.symbol, by_);
            pending_.push_back({ticks_at(placed.at), std::move(mark)});
        }
    }

    void write_bar(const MetricGrid& grid, LineTicks start, Ticks length, Measure& measure) {
        measure.first_event = music_.events.size();
        measure.first_chord = music_.chords.size();
        // Where a pickup or short bar would stand in a full one; an over-full bar is cut at its beats from
        // its start.
        const Ticks shift = measure.is_pickup ? std::max<Ticks>(0, grid.bar() - length) : 0;
        cuts_.clear();
        for (; next_chord_ < pending_.size() && pending_[next_chord_].at < start + length; ++next_chord_) {
            ChordMark mark = std::move(pending_[next_chord_].mark);
            mark.at = static_cast<Ticks>(pending_[next_chord_].at - start);
            if (mark.at > 0) cuts_.push_back(mark.at);
            music_.chords.push_back(std::move(mark));
        }
        drop_cuts_that_no_value_has(note_edges(start, length), shift, grid.beat());
        collect_stretches(start, length);
        write_stretches(grid, shift, length);
        measure.event_count = music_.events.size() - measure.first_event;
        measure.chord_count = music_.chords.size() - measure.first_chord;
        place_texts(start, length, measure);
        music_.measures.push_back(std::move(measure));
    }

    // Where the notes of a bar begin and end.
    [[nodiscard]] std::vector<Ticks> note_edges(LineTicks start, Ticks length) const {
        std::vector<Ticks> out;
        for (std::size_t n = next_note_; n < line_.notes.size(); ++n) {
            const LineTicks begin = ticks_at(line_.notes[n].at) - start;
            const LineTicks end = ticks_at(line_.notes[n].at + line_.notes[n].length) - start;
            if (begin >= length) break;
            for (const LineTicks edge : {begin, end}) {
                if (edge > 0 && edge < length) out.push_back(static_cast<Ticks>(edge));
            }
        }
        return out;
    }

    // A chord may stand where no note can begin, as on a fifth of a beat that has a triplet; then it stands
    // over the middle of a note.
    void drop_cuts_that_no_value_has(const std::vector<Ticks>& edges, Ticks shift, Ticks beat) {
        const auto is_hopeless = [&](Ticks cut) {
            const Ticks beat_start = (cut + shift) / beat * beat;
            places_.clear();
            for (const std::vector<Ticks>* ticks : {&edges, &std::as_const(cuts_)}) {
                for (const Ticks tick : *ticks) {
                    const Ticks in_beat = tick + shift - beat_start;
                    if (in_beat > 0 && in_beat < beat) places_.push_back(in_beat);
                }
            }
            return division_of(places_, beat) == 0;
        };
        std::vector<Ticks> kept;
        for (const Ticks cut : cuts_) {
            if (!is_hopeless(cut)) kept.push_back(cut);
        }
        cuts_ = std::move(kept);
    }

    // Adds a stretch, cut at chord changes.
    void add_stretch(Stretch stretch) {
        const Ticks to = stretch.at + stretch.length;
        const bool is_note = stretch.kind == Stretch::Kind::Note;
        const bool tied_on = std::exchange(stretch.tied_on, is_note);
        for (const Ticks cut : cuts_) {
            if (cut <= stretch.at || cut >= to) continue;
            stretch.length = cut - stretch.at;
            stretches_.push_back(stretch);
            stretch.tied_from_before = is_note;
            stretch.at = cut;
        }
        stretch.length = to - stretch.at;
        stretch.tied_on = tied_on;
        stretches_.push_back(stretch);
    }

    // Between the notes: rest, or the player's own.
    void add_silence(LineTicks start, Ticks from, Ticks to) {
        while (from < to) {
            while (next_open_ < line_.open.size() && ticks_at(end_of(line_.open[next_open_])) <= start + from)
                ++next_open_;
            Stretch stretch;
            stretch.at = from;
            Ticks end = to;
            if (next_open_ < line_.open.size()) {
                const LineTicks opens = ticks_at(line_.open[next_open_].at) - start;
                if (opens <= from) {
                    stretch.kind = Stretch::Kind::Open;
                    end = earlier(end, ticks_at(end_of(line_.open[next_open_])) - start);
                } else {
                    end = earlier(end, opens);
                }
            }
            stretch.length = end - from;
            add_stretch(stretch);
            from = end;
        }
    }

    // The notes of one bar and what lies between them.
    void collect_stretches(LineTicks start, Ticks length) {
        stretches_.clear();
        Ticks at = 0;
        for (; next_note_ < line_.notes.size(); ++next_note_) {
            const LineNote& note = line_.notes[next_note_];
            const LineTicks begin = ticks_at(note.at) - start;
            if (begin >= length) break;
            const LineTicks end = begin + to_line_ticks(note.length.whole_notes, music_.ticks_per_quarter);
            const auto from = static_cast<Ticks>(std::max<LineTicks>(begin, 0));
            add_silence(start, at, from);
            at = earlier(length, end);
            add_stretch(
                {from, at - from, Stretch::Kind::Note, &note, written(note.pitch), begin<0, end> length});
            if (end > length) return;  // goes on in the next bar
        }
        add_silence(start, at, length);
    }

    [[nodiscard]] static Position end_of(const OpenStretch& open) { return open.at + open.length; }
    [[nodiscard]] LineTicks ticks_at(Position place) const {
        return to_line_ticks(place.whole_notes, music_.ticks_per_quarter);
    }
    [[nodiscard]] static Ticks earlier(Ticks in_bar, LineTicks other) {
        return static_cast<Ticks>(std::min<LineTicks>(in_bar, other));
    }

    // Words stand with the event that sounds at their place.
    void place_texts(LineTicks start, Ticks length, const Measure& measure) {
        for (; next_text_ < line_.texts.size(); ++next_text_) {
            const LineTicks at = ticks_at(line_.texts[next_text_].at) - start;
            if (at >= length) break;
            Ticks event_at = 0;
            for (const Event& event : music_.events_of(measure)) {
                if (event.at <= at) event_at = event.at;
            }
            music_.texts.push_back({music_.measures.size(), event_at, line_.texts[next_text_].text});
        }
    }

    [[nodiscard]] Pitch written(Pitch concert) const {
        const Pitch pitch = concert + by_;
        // A seven-note scale keeps its seven letters where the page has room for nothing else; a neighbour
        // outside it, and any note in a key, is easier to read by its plain name.
        const bool in_scale =
            music_.open_key && std::ranges::find(options_.scale, concert.name()) != options_.scale.end();
        return in_scale ? pitch : without_double_accidental(pitch);
    }

    void write_stretches(const MetricGrid& grid, Ticks shift, Ticks length) {
        if (stretches_.size() == 1 && stretches_[0].kind == Stretch::Kind::Rest && shift == 0 &&
            length == grid.bar()) {
            Event rest;
            rest.length = length;
            rest.what = Rest{.whole_bar = true};
            music_.events.push_back(rest);
            return;
        }
        const std::size_t first = music_.events.size();
        const Ticks beat = grid.beat();
        std::size_t i = 0;
        while (i < stretches_.size()) {
            const Stretch& stretch = stretches_[i];
            const Ticks at = stretch.at + shift;
            const Ticks beat_start = at / beat * beat;
            const int division = division_in_beat(i, shift, beat_start, beat);
            if (!is_power_of_two(division)) {
                i = write_tuplet(i, shift, beat_start, beat, division);
                continue;
            }
            // A binary stretch runs on until the next beat that is a tuplet.
            Ticks take = stretch.length;
            for (Ticks next = beat_start + beat; next < at + take; next += beat) {
                if (!is_power_of_two(division_in_beat(i, shift, next, beat))) {
                    take = next - at;
                    break;
                }
            }
            if (stretch.kind == Stretch::Kind::Open) {
                write_slashes(stretch, shift, take,
                              to_ticks(grid.meter().beat_length().whole_notes, music_.ticks_per_quarter));
            } else {
                write_values(grid, shift, stretch, take);
            }
            i = consume(i, take);
        }
        // Pieces were placed as in a full bar; a pickup begins at its own beginning.
        for (std::size_t e = first; shift > 0 && e < music_.events.size(); ++e) music_.events[e].at -= shift;
    }

    // Into how many equal parts the beat from `beat_start` falls, by the edges of stretch i and those after
    // it.
    int division_in_beat(std::size_t i, Ticks shift, Ticks beat_start, Ticks beat) {
        places_.clear();
        for (; i < stretches_.size(); ++i) {
            const Ticks from = stretches_[i].at + shift - beat_start;
            const Ticks to = from + stretches_[i].length;
            if (from >= beat) break;
            if (from > 0) places_.push_back(from);
            if (to > 0 && to < beat) places_.push_back(to);
        }
        const int division = division_of(places_, beat);
        if (division == 0) throw_unwritable(places_.front(), music_.ticks_per_quarter);
        return division;
    }

    // Takes `length` off the front of stretch i; gives the index of what is to be written next.
    std::size_t consume(std::size_t i, Ticks length) {
        Stretch& stretch = stretches_[i];
        if (length == stretch.length) return i + 1;
        stretch.at += length;
        stretch.length -= length;
        stretch.tied_from_before = stretch.kind == Stretch::Kind::Note;
        return i;
    }

    void write_values(const MetricGrid& grid, Ticks shift, const Stretch& stretch, Ticks take) {
        pieces_.clear();
        const bool fits_grid = stretch.at + shift + take <= grid.bar();
        if (fits_grid) {
            split_into_values(grid, music_.ticks_per_quarter, stretch.at + shift, take,
                              stretch.kind == Stretch::Kind::Rest, pieces_);
        } else {
            split_plainly(take);
        }
        const auto is_drawn = [&](Ticks piece) { return value_of(piece, music_.ticks_per_quarter).found; };
        if (!std::ranges::all_of(pieces_, is_drawn)) throw_unwritable(take, music_.ticks_per_quarter);
        Ticks at = stretch.at + shift;
        for (std::size_t p = 0; p < pieces_.size(); ++p) {
            const bool last = p + 1 == pieces_.size();
            push(at, pieces_[p], drawn_value(pieces_[p], music_.ticks_per_quarter), {}, stretch, p == 0,
                 last && take == stretch.length);
            at += pieces_[p];
        }
    }

    // One slash a beat; less than a beat of the player's own gets a slash of its length.
    void write_slashes(const Stretch& stretch, Ticks shift, Ticks take, Ticks beat) {
        Ticks left = take;
        Ticks at = stretch.at + shift;
        while (left > 0) {
            Ticks piece = std::min(left, beat - at % beat);
            while (piece > 1 && !value_of(piece, music_.ticks_per_quarter).found) --piece;
            push(at, piece, drawn_value(piece, music_.ticks_per_quarter), {}, stretch, true, true);
            at += piece;
            left -= piece;
        }
    }

    // An over-full bar has no places to show: the largest values first.
    void split_plainly(Ticks length) {
        while (length > 0) {
            Ticks piece = std::min(length, 4 * music_.ticks_per_quarter);
            while (piece > 1 && !value_of(piece, music_.ticks_per_quarter).found) --piece;
            pieces_.push_back(piece);
            length -= piece;
        }
    }

    std::size_t write_tuplet(std::size_t i, Ticks shift, Ticks beat_start, Ticks beat, int division) {
        int normal = 1;
        // The plain value of one part: a beat divided by `normal`.
        NoteValue base = drawn_value(beat, music_.ticks_per_quarter);
        for (; 2 * normal < division; normal *= 2) ++base.log2;
        if (base.log2 > kShortestValue) throw_unwritable(beat / division, music_.ticks_per_quarter);
        const Ticks part = beat / division;
        const std::size_t first = music_.events.size();
        while (i < stretches_.size() && stretches_[i].at + shift < beat_start + beat) {
            const Stretch stretch = stretches_[i];
            const Ticks take = std::min(stretch.length, beat_start + beat - stretch.at - shift);
            Ticks left = take / part;
            Ticks at = stretch.at + shift;
            bool is_first = true;
            while (left > 0) {
                const Ticks parts = largest_value(left);
                NoteValue value = base;
                value.log2 = static_cast<std::int8_t>(value.log2 - (parts >= 4 ? 2 : parts >= 2 ? 1 : 0));
                value.dots = parts == 3 || parts == 6 ? 1 : 0;
                left -= parts;
                push(at, parts * part, value,
                     {static_cast<std::int8_t>(division), static_cast<std::int8_t>(normal)}, stretch,
                     is_first, left == 0 && take == stretch.length);
                at += parts * part;
                is_first = false;
            }
            i = consume(i, take);
        }
        finish_tuplet(first);
        return i;
    }

    static Ticks largest_value(Ticks parts) {
        for (const Ticks size : {6, 4, 3, 2}) {
            if (parts >= size) return size;
        }
        return 1;
    }

    void finish_tuplet(std::size_t first) {
        music_.events[first].tuplet.starts = true;
        music_.events.back().tuplet.stops = true;
        const bool beamed =
            std::all_of(music_.events.begin() + static_cast<std::ptrdiff_t>(first), music_.events.end(),
                        [](const Event& event) {
                            return event.value.log2 >= 3 && std::holds_alternative<Sounded>(event.what);
                        });
        for (std::size_t e = first; e < music_.events.size(); ++e) music_.events[e].tuplet.bracket = !beamed;
    }

    void push(Ticks at, Ticks length, NoteValue value, Tuplet tuplet, const Stretch& stretch, bool is_first,
              bool is_last) {
        Event& event = music_.events.emplace_back();
        event.at = at;
        event.length = length;
        event.value = value;
        event.tuplet = tuplet;
        switch (stretch.kind) {
            case Stretch::Kind::Rest:
                event.what = Rest{};
                break;
            case Stretch::Kind::Open:
                event.what = Slash{middle_of_staff(music_.clef, music_.key_fifths)};
                break;
            case Stretch::Kind::Note:
                event.what = sounded(stretch, is_first, is_last);
        }
    }

    // One written value of a note: what happens at its start and at its end is said once.
    [[nodiscard]] Sounded sounded(const Stretch& stretch, bool is_first, bool is_last) {
        Sounded out;
        out.pitch = WrittenPitch{stretch.pitch};
        out.tied_from_before = is_first ? stretch.tied_from_before : true;
        out.tied_on = is_last ? stretch.tied_on : true;
        const LineNote& note = *stretch.note;
        if (!out.tied_from_before) {
            out.articulation = note.articulation;
            out.slur_starts = note.slur_starts;
        }
        if (!out.tied_on) {
            out.slur_stops = note.slur_stops;
            const Position end = note.at + note.length;
            while (next_breath_ < line_.breaths.size() && line_.breaths[next_breath_] < end) ++next_breath_;
            out.breath_after = next_breath_ < line_.breaths.size() && line_.breaths[next_breath_] == end;
        }
        return out;
    }

    const ConcertLine& line_;
    const NotateOptions& options_;
    Interval by_;
    WrittenMusic music_;
    struct PendingMark {
        LineTicks at = 0;
        ChordMark mark;
    };
    std::vector<PendingMark> pending_;
    std::size_t next_chord_ = 0;
    std::size_t next_note_ = 0;
    std::size_t next_open_ = 0;
    std::size_t next_text_ = 0;
    std::size_t next_breath_ = 0;
    // Kept between bars so that their memory is used again.
    std::vector<Ticks> cuts_;
    std::vector<Stretch> stretches_;
    std::vector<Ticks> places_;
    std::vector<Ticks> pieces_;
};

}  // namespace

WrittenPitch middle_of_staff(const Clef& clef, int key_fifths) {
    const int place = middle_line(clef);
    const auto step = static_cast<Step>(((place % 7) + 7) % 7);
    return WrittenPitch{Pitch{PitchClass::of(step, signature_alter(key_fifths, step)), place / 7}};
}

WrittenMusic notate(const ConcertLine& line, const NotateOptions& options) {
    assert(options.instrument != nullptr);
    return Notator{line, options}.run();
}

}  // namespace shedbook
