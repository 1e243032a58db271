#include "shedbook/book/grading.h"

#include <algorithm>
#include <cmath>
#include <cstdlib>
#include <iomanip>
#include <ostream>
#include <set>
#include <string_view>
#include <utility>

#include "shedbook/notation/music_text.h"
#include "shedbook/theory/scale.h"

namespace shedbook {
namespace {

// Sums over a part, bar by bar.
class Grader {
  public:
    Grading grade(const ScoreNotes& score) {
        for (const ScoreNotesBar& bar : score.bars) add(bar);
        Grading& g = out_;
        g.range = g.notes > 0 ? g.highest.midi() - g.lowest.midi() : 0;
        g.mean_leap = ratio(leaps_, leap_count_);
        g.mean_accidentals = ratio(accidentals_, g.bars);
        g.mean_notes_a_beat = ratio(g.notes, beats_);
        g.off_beat_percent = static_cast<int>(std::lround(100 * ratio(off_beat_, g.notes)));
        g.distinct_scales = static_cast<int>(scales_.empty() ? chords_.size() : scales_.size());
        return g;
    }

  private:
    static double ratio(int part, int whole) {
        return whole > 0 ? static_cast<double>(part) / static_cast<double>(whole) : 0;
    }

    void add(const ScoreNotesBar& bar) {
        for (const std::string& words : bar.words) note_scale(words);
        chords_.insert(bar.chords.begin(), bar.chords.end());
        if (bar.starts_piece) has_last_ = false;
        if (bar.notes.empty()) {
            has_last_ = false;
            return;
        }
        ++out_.bars;
        int accidentals = std::abs(bar.key_fifths);
        for (const ScoreNote& note : bar.notes) {
            accidentals += note.shows_accidental ? 1 : 0;
            if (note.staff == 1) add(note, bar.meter);
        }
        accidentals_ += accidentals;
        out_.most_accidentals = std::max(out_.most_accidentals, accidentals);
        count_beats(bar);
        bar_start_ += bar.meter.bar_length();
    }

    void note_scale(const std::string& printed) {
        // Headings have real flats and sharps; names of scales are read with letters.
        const std::string words = with_letters(printed);
        const std::size_t colon = words.find(": ");
        const auto scale = parse_scale(colon == std::string::npos ? words : words.substr(colon + 2));
        if (scale) scales_.insert(to_string(*scale));
    }

    void add(const ScoreNote& note, const Meter& meter) {
        const Position at = bar_start_ + (note.at - Position{});
        const bool joins = has_last_ && last_end_ == at;
        if (note.is_tied_from_before) {
            last_end_ = at + note.length;
            return;
        }
        if (out_.notes == 0 || note.written.midi() < out_.lowest.midi()) out_.lowest = note.written;
        if (out_.notes == 0 || note.written.midi() > out_.highest.midi()) out_.highest = note.written;
        ++out_.notes;
        if (joins) {
            const int leap = std::abs(note.written.midi() - last_.midi());
            leaps_ += leap;
            ++leap_count_;
            out_.largest_leap = std::max(out_.largest_leap, leap);
        }
        const Rational halves = (note.at - Position{}) / meter.beat_length() * Rational{2};
        off_beat_ += halves.is_whole() ? 0 : 1;
        last_ = note.written;
        last_end_ = at + note.length;
        has_last_ = true;
    }

    void count_beats(const ScoreNotesBar& bar) {
        const Duration beat = bar.meter.beat_length();
        for (Position from; from - Position{} < bar.meter.bar_length(); from += beat) {
            const Position to = from + beat;
            int struck = 0;
            bool sounds = false;
            for (const ScoreNote& note : bar.notes) {
                if (note.staff != 1) continue;
                sounds = sounds || (note.at < to && note.at + note.length > from);
                struck += note.at >= from && note.at < to && !note.is_tied_from_before ? 1 : 0;
            }
            beats_ += sounds ? 1 : 0;
            out_.most_notes_a_beat = std::max(out_.most_notes_a_beat, static_cast<double>(struck));
        }
    }

    Grading out_;
    std::set<std::string> scales_;
    std::set<std::string> chords_;
    Position bar_start_;
    Pitch last_;
    Position last_end_;
    bool has_last_ = false;
    int leaps_ = 0;
    int leap_count_ = 0;
    int accidentals_ = 0;
    int beats_ = 0;
    int off_beat_ = 0;
};

}  // namespace

Grading grade(const ScoreNotes& score) {
    return Grader{}.grade(score);
}

void write_grading(const Grading& g, std::ostream& out) {
    out << std::fixed << std::setprecision(1);
    out << "bars with notes      " << g.bars << "\n"
        << "notes                " << g.notes << "\n";
    if (g.notes == 0) return;
    out << "range                " << to_string(g.lowest) << " to " << to_string(g.highest) << ", " << g.range
        << " semitones (written)\n"
        << "leaps                largest " << g.largest_leap << ", mean " << g.mean_leap << " semitones\n"
        << "accidentals a bar    most " << g.most_accidentals << ", mean " << g.mean_accidentals
        << " (with the signature's)\n"
        << "notes a beat         most " << std::setprecision(0) << g.most_notes_a_beat << std::setprecision(1)
        << ", mean " << g.mean_notes_a_beat << "\n"
        << "off the half beat    " << g.off_beat_percent << " % of the notes\n"
        << "distinct scales      " << g.distinct_scales << "\n";
}

}  // namespace shedbook
