#include "shedbook/notation/notate.h"

#include <algorithm>
#include <cassert>
#include <string>
#include <utility>

#include "steps.h"
#include "stretches.h"

namespace shedbook {
namespace {

bool is_power_of_two(int n) {
    return (n & (n - 1)) == 0;
}

class Notator {
  public:
    Notator(const ConcertLine& line, const NotateOptions& options)
        : line_{line},
          options_{options},
          by_{written_interval(*options.instrument, options.key, options.scale, options.prefer)},
          scales_{options.scales},
          sound_{line, ticks_needed(line, options)} {
        music_.ticks_per_quarter = sound_.ticks_per_quarter();
        music_.meter = options.meter;
        music_.clef = options.instrument->clef;
        music_.transposition = options.instrument->transposition;
        const bool has_no_key = options.open_key || !options.key;
        if (options.scales.empty() && !options.scale.empty() && has_no_key)
            scales_ = {scale_in_part({}, options.scale, {}, by_, {})};
        const std::optional<Key> printed = has_no_key ? options.signature : options.key;
        music_.open_key = !printed;
        if (printed) {
            music_.key_fifths = signature(Key{printed->tonic + by_, printed->mode});
            music_.key_mode = printed->mode;
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
        decide_beams(music_);
        decide_clefs(music_, *options_.instrument);
        decide_octave_lines(music_, *options_.instrument);
        return std::move(music_);
    }

  private:
    void collect_chords() {
        std::optional<Key> key;
        if (options_.key) key = Key{options_.key->tonic + by_, options_.key->mode};
        for (const PlacedSymbol& placed : options_.chords) {
            ChordMark mark;
            mark.is_optional = placed.is_optional;
            if (placed.symbol) mark.symbol = written_symbol(*placed.symbol, by_, key);
            pending_.push_back({sound_.ticks_at(placed.at), std::move(mark)});
        }
    }

    void write_bar(const MetricGrid& grid, LineTicks start, Ticks length, Measure& measure) {
        measure.first_event = music_.events.size();
        measure.first_chord = music_.chords.size();
        // Where a pickup or short bar would stand in a full one; an over-full bar is cut at its beats from
        // its start.
        const Ticks shift = measure.is_pickup ? std::max<Ticks>(0, grid.bar() - length) : 0;
        std::vector<Ticks> cuts;
        for (; next_chord_ < pending_.size() && pending_[next_chord_].at < start + length; ++next_chord_) {
            ChordMark mark = std::move(pending_[next_chord_].mark);
            mark.at = static_cast<Ticks>(pending_[next_chord_].at - start);
            const bool is_pushed = (mark.at + shift) % grid.beat() != 0;
            if (mark.at > 0 && !is_pushed) cuts.push_back(mark.at);
            music_.chords.push_back(std::move(mark));
        }
        stretches_ = sound_.in_bar({start, length, shift, grid.beat()}, std::move(cuts));
        write_stretches(grid, shift, length);
        measure.event_count = music_.events.size() - measure.first_event;
        measure.chord_count = music_.chords.size() - measure.first_chord;
        place_texts(start, length, measure);
        music_.measures.push_back(std::move(measure));
    }

    // Words stand with the event that sounds at their place.
    void place_texts(LineTicks start, Ticks length, const Measure& measure) {
        for (; next_text_ < line_.texts.size(); ++next_text_) {
            const LineTicks at = sound_.ticks_at(line_.texts[next_text_].at) - start;
            if (at >= length) break;
            Ticks event_at = 0;
            for (const Event& event : music_.events_of(measure)) {
                if (event.at <= at) event_at = event.at;
            }
            music_.texts.push_back({music_.measures.size(), event_at, line_.texts[next_text_].text});
        }
    }

    // A note of the scale that sounds there, or of the next one where it leads over the change, as the part
    // names it; one that is in neither passes, under the name that its sound has in the scale or a plain one.
    [[nodiscard]] Pitch written(Pitch sounding, Position at) {
        while (next_scale_ < scales_.size() && scales_[next_scale_].at <= at) ++next_scale_;
        const Pitch pitch = sounding + by_;
        if (scales_.empty()) return without_double_accidental(pitch);
        const std::size_t first = next_scale_ > 0 ? next_scale_ - 1 : 0;
        const PitchClass name = sounding.name();
        for (std::size_t s = first; s < std::min(first + 2, scales_.size()); ++s) {
            if (const auto known = name_in(scales_[s], [&](PitchClass own) { return own == name; }))
                return renamed(pitch, *known);
        }
        const auto sounds_so = [&](PitchClass own) { return own.semitone() == name.semitone(); };
        if (const auto known = name_in(scales_[first], sounds_so)) return renamed(pitch, *known);
        const bool is_of_key =
            !music_.open_key && signature_alter(music_.key_fifths, pitch.step()) == pitch.alter();
        return is_of_key ? pitch : renamed(pitch, plain_name(pitch.name()));
    }

    template <class Wanted>
    [[nodiscard]] static std::optional<PitchClass> name_in(const PlacedScale& scale, const Wanted& wanted) {
        const auto at = std::ranges::find_if(scale.concert, wanted);
        if (at == scale.concert.end()) return std::nullopt;
        return scale.written[static_cast<std::size_t>(at - scale.concert.begin())];
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

    static constexpr int kQuarter = 2;

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
                event.what = Slash{middle_of_staff(music_.clef, music_.key_fifths), value.log2 > kQuarter};
                break;
            case Stretch::Kind::Note:
                event.what = sounded(stretch, is_first, is_last);
        }
    }

    // One written value of a note: what happens at its start and at its end is said once.
    [[nodiscard]] Sounded sounded(const Stretch& stretch, bool is_first, bool is_last) {
        Sounded out;
        out.pitch = WrittenPitch{written(stretch.note->pitch, stretch.note->at)};
        if (!line_.below.empty()) add_below(out, *stretch.note);
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

    // The other notes of its chord.
    void add_below(Sounded& out, const LineNote& note) {
        const auto index = static_cast<std::size_t>(&note - line_.notes.data());
        out.first_below = static_cast<std::uint32_t>(music_.below.size());
        for (auto other = std::ranges::lower_bound(line_.below, index, {}, &NoteBelow::note);
             other != line_.below.end() && other->note == index; ++other)
            music_.below.push_back({WrittenPitch{written(other->pitch, note.at)}});
        out.below_count = static_cast<std::uint8_t>(music_.below.size() - out.first_below);
    }

    const ConcertLine& line_;
    const NotateOptions& options_;
    Interval by_;
    std::vector<PlacedScale> scales_;
    SoundOfBars sound_;
    WrittenMusic music_;
    struct PendingMark {
        LineTicks at = 0;
        ChordMark mark;
    };
    std::vector<PendingMark> pending_;
    std::size_t next_chord_ = 0;
    std::size_t next_text_ = 0;
    std::size_t next_breath_ = 0;
    std::size_t next_scale_ = 0;
    // Kept between bars so that their memory is used again.
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
