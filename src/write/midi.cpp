#include "shedbook/write/midi.h"

#include <algorithm>
#include <cmath>
#include <functional>
#include <optional>
#include <ostream>
#include <sstream>
#include <string>
#include <utility>
#include <variant>

#include "band_plan.h"
#include "band_tracks.h"
#include "feel.h"
#include "key_loop.h"
#include "midi_track.h"
#include "performance.h"
#include "shedbook/notation/document_words.h"
#include "swing.h"
#include "tempo_plan.h"

namespace shedbook {
namespace {

constexpr int kLineChannel = 0;
constexpr int kLineVolume = 92;
constexpr int kMiddle = 64;

constexpr int kOnBeat = 88;
constexpr int kOffBeat = 96;
constexpr int kAccent = 16;

// A key signature as it sounds.
int concert_fifths(const WrittenMusic& music) {
    int fifths = music.key_fifths + to_sounding(music.transposition).fifths();
    while (fifths > 7) fifths -= 12;
    while (fifths < -7) fifths += 12;
    return fifths;
}

std::int64_t microseconds_per_quarter(double quarters_per_minute) {
    constexpr double kMinute = 60'000'000.0;
    constexpr double kMost = 0xFFFFFF;
    return std::llround(std::min(kMost, kMinute / quarters_per_minute));
}

}  // namespace

class MidiWriter::Impl {
  public:
    Impl(std::ostream& out, const SoundOptions& options) : out_{out}, options_{options}, band_{options} {}

    // Hears of every note of the pieces, with its place in them; of none that counts in.
    using Hears = std::function<void(const SoundedNote&)>;
    void tell(const Hears& hears) {
        const auto [chords, bass, drums, clicks] = band_.tracks();
        const std::pair<MidiTrack*, SoundingPart> tracks[] = {{&line_, SoundingPart::Line},
                                                              {bass, SoundingPart::Bass},
                                                              {chords, SoundingPart::Chords},
                                                              {clicks, SoundingPart::Clicks}};
        for (const auto& [track, part] : tracks) {
            track->tell([this, hears, sounding = part](std::int64_t from, std::int64_t to, int key,
                                                       int velocity) {
                if (start_)
                    hears({std::max<std::int64_t>(0, from - *start_), to - from, sounding, key, velocity});
            });
        }
    }

    void begin(const DocumentHead& head) {
        head_ = head;
        conductor_.name(head.title);
        begin_track(line_,
                    {"Line", head.parts.front().name, kLineChannel, head.parts.front().program - 1, kMiddle});
    }

    void operator()(const Cover& /*on paper*/) {}
    void operator()(const Caution& /*on paper*/) {}
    void operator()(const PlanTable& /*on paper*/) {}
    void operator()(const LogPage& /*on paper*/) {}
    void operator()(const ChapterStart& chapter) { tune_ = chapter.chapters > 1 ? chapter.tune.title : ""; }
    void operator()(const ChapterEnd& /*the next one has its name*/) {}
    void operator()(const SittingStart& /*on paper*/) {}
    void operator()(const SittingEnd& /*on paper*/) {}
    void operator()(const AnswersStart& /*on paper*/) {}
    void operator()(const AnswersEnd& /*on paper*/) {}
    void operator()(const SectionStart& /*drills say what they are on*/) {}
    void operator()(const SectionEnd& /*on paper*/) {}
    void operator()(const Drill& drill) {
        play(drill.music.front(), Played::Drill, named(drill.number, heading_of(drill)),
             scale_of(drill.topic));
    }
    void operator()(const Etude& etude) {
        play(etude.music.front(), Played::Tune, named(etude.number, heading_of(etude)), 0,
             etude.made ? etude.made->choruses : 1);
    }
    void operator()(const Changes& changes) {
        feel_ = changes.music.front().feel;
        play(changes.music.front(), Played::Tune,
             tune_.empty() ? "The changes" : "The changes: " + changes.tune.title, 0);
    }
    void operator()(const UnitBars& /*the lines on them sound*/) {}
    void operator()(const LeadSheet& sheet) { play(sheet.music.front(), Played::Tune, head_.title, 0); }
    void operator()(const TuneOverview& /*on paper*/) {}
    void operator()(const ScaleTable& /*on paper*/) {}

    void finish() {
        // Some instruments ring on long after they are heard, and a synthesizer waits for them.
        line_.control(now_, kLineChannel, kAllSoundOff, 0);
        band_.stop(now_);
        line_.first_control(kLineChannel, kChannelVolume, volume_at(kLineVolume, levels_.line));
        band_.set_volumes(levels_.band);
        const auto [chords, bass, drums, clicks] = band_.tracks();
        MidiTrack* tracks[] = {&conductor_, &line_, chords, bass, drums, clicks};
        out_ << midi_header(static_cast<int>(std::size(tracks)), kMidiTicksPerQuarter);
        for (MidiTrack* track : tracks) out_ << track->chunk(now_);
    }

    MixLevels set_line_over_band(double more) {
        levels_.line = std::min(more, most_louder(kLineVolume));
        levels_.line = volume_as_set(kLineVolume, levels_.line);
        levels_.band = std::min(0.0, levels_.line - more);
        return levels_;
    }

    [[nodiscard]] double seconds() const { return seconds_; }

  private:
    // The notes of a scale, bit 0 for C.
    static unsigned scale_of(const Topic& topic) {
        unsigned out = 0;
        for (const PitchClass note : spelled(topic.scale))
            out |= 1U << static_cast<unsigned>(note.semitone());
        return out;
    }

    static std::string named(const PieceNumber& number, const PieceHeading& heading) {
        const std::string words = in_words(number);
        return words + (words.empty() || heading.title.empty() ? "" : " ") + heading.title;
    }

    // `scale`: that of the section, where one is all there is; 0: none. `choruses`: that it has written out.
    void play(const WrittenMusic& music, Played as, const std::string& name, unsigned scale,
              int choruses = 1) {
        if (!music.feel.empty()) feel_ = music.feel;
        ++piece_;
        Performance piece = perform(music, times_through(music, as, options_), scale);
        std::vector<TempoChange> tempos = tempo_changes(music, as, options_, piece);
        go_through_keys(piece, options_.keys);
        if (options_.excerpt) shorten(piece, *options_.excerpt, tempos.front());
        const Meter& meter = music.meter;
        const double pace = tempos.front().quarters_per_minute;
        const Manner manner = manner_of(feel_, options_.feel, meter, as, pace);
        if (as == Played::Tune) tempos = with_breaths(tempos, piece, manner.style == BandStyle::Ballad);
        const std::int64_t bar = ticks_of(meter.bar_length());
        const std::int64_t start = now_ + 2 * bar - ticks_of(piece.pickup);
        const Clock clock{piece, manner.feel, tempos, start};
        conduct(music, name, piece, tempos, clock);
        start_.reset();
        if (options_.count_in)
            band_.count_off(now_, meter, manner.feel == Feel::TwelveEight || is_counted_slowly(meter, pace));
        start_ = start;
        if (options_.line) play_line(piece, clock);
        const BandPlace place{as, pace, key_of(music), options_.seed + piece_, choruses};
        band_.play(piece, plan_band(piece, manner, place), clock);
        // A bar to breathe before the next piece, in which the last note rings.
        const std::int64_t end = start + ticks_of(piece.length) + bar;
        count_seconds(tempos, clock, end);
        now_ = end;
        for (MidiTrack* track : {&conductor_, &line_}) track->settle();
        band_.settle();
    }

    static void shorten(Performance& piece, double seconds, const TempoChange& tempo) {
        const double whole_notes = seconds * tempo.quarters_per_minute / 60 / 4;
        const Position most{Rational{static_cast<std::int64_t>(whole_notes)}};
        const auto bar =
            std::ranges::find_if(piece.bars, [&](const BandBar& each) { return each.at >= most; });
        if (bar != piece.bars.end()) cut_off(piece, bar->at);
    }

    // So slow that a count needs something between its beats.
    static bool is_counted_slowly(const Meter& meter, double quarters_per_minute) {
        constexpr double kSlow = 50;
        return meter.unit == 4 && quarters_per_minute < kSlow;
    }

    // As it sounds, where a key is known.
    static std::optional<Key> key_of(const WrittenMusic& music) {
        if (music.open_key || !music.key_mode) return std::nullopt;
        const int sharps = concert_fifths(music);
        for (int fifths = -8; fifths <= 12; ++fifths) {
            const Key key{PitchClass::from_fifths(fifths), *music.key_mode};
            if (signature(key) == sharps) return key;
        }
        return std::nullopt;
    }

    void conduct(const WrittenMusic& music, const std::string& name, const Performance& piece,
                 const std::vector<TempoChange>& tempos, const Clock& clock) {
        conductor_.marker(now_, name);
        set_meter(now_, music.meter);
        const bool is_minor =
            music.key_mode && (*music.key_mode == Mode::Minor || *music.key_mode == Mode::Aeolian);
        conductor_.key(now_, music.open_key ? 0 : concert_fifths(music), !music.open_key && is_minor);
        for (std::size_t i = 0; i < tempos.size(); ++i) {
            const std::int64_t at = i == 0 ? now_ : clock.of_band(tempos[i].at);
            conductor_.tempo(at, microseconds_per_quarter(tempos[i].quarters_per_minute));
            if (i > 0 && tempos[i].is_marked)
                conductor_.marker(at, name + ", at " + std::to_string(tempos[i].per_minute));
        }
        Meter meter = music.meter;
        for (const BandBar& bar : piece.bars) {
            if (bar.meter == meter) continue;
            meter = bar.meter;
            set_meter(clock.of_band(bar.at), meter);
        }
    }

    void set_meter(std::int64_t at, const Meter& meter) {
        constexpr int kClocksPerQuarter = 24;
        const Rational clocks = meter.beat_length() / kQuarter * Rational{kClocksPerQuarter};
        conductor_.meter(at, meter.beats, meter.unit, std::max(1, static_cast<int>(clocks.floor())));
    }

    void play_line(const Performance& piece, const Clock& clock) {
        for (const PlayedNote& note : piece.line) {
            if (is_resting(piece, note.at)) continue;
            const std::int64_t from = clock.of_line(note.at);
            const std::int64_t written = clock.of_line(note.at + note.length) - from;
            const std::int64_t gap = std::min(kNoteGap, written / 4);
            std::int64_t length = written - gap;
            if (note.is_slurred_on) length = written;
            if (note.articulation == Articulation::Staccato) length = written / 2;
            if (note.articulation == Articulation::Tenuto) length = written - gap / 2;
            int velocity = clock.is_off_beat(note.at) ? kOffBeat : kOnBeat;
            if (note.articulation == Articulation::Accent) velocity += kAccent;
            line_.note(from, from + std::max<std::int64_t>(1, length), kLineChannel, note.key, velocity);
        }
    }

    // Trading: every other few bars are the player's.
    [[nodiscard]] bool is_resting(const Performance& piece, Position at) const {
        if (options_.trade_bars <= 0) return false;
        const auto after = std::ranges::upper_bound(piece.bars, at, {}, &BandBar::at);
        const auto bar = static_cast<int>(after - piece.bars.begin()) - 1;
        return bar >= 0 && bar / options_.trade_bars % 2 == 1;
    }

    void count_seconds(const std::vector<TempoChange>& tempos, const Clock& clock, std::int64_t end) {
        for (std::size_t i = 0; i < tempos.size(); ++i) {
            const std::int64_t from = i == 0 ? now_ : clock.of_band(tempos[i].at);
            const std::int64_t to = i + 1 < tempos.size() ? clock.of_band(tempos[i + 1].at) : end;
            seconds_ +=
                static_cast<double>(to - from) / kMidiTicksPerQuarter * 60.0 / tempos[i].quarters_per_minute;
        }
    }

    std::ostream& out_;
    SoundOptions options_;
    DocumentHead head_;
    std::string tune_;
    std::string feel_;                   // of the tune at hand
    std::optional<std::int64_t> start_;  // of the piece at hand, once it is counted in
    std::int64_t now_ = 0;
    unsigned piece_ = 0;
    double seconds_ = 0;
    MixLevels levels_;
    MidiTrack conductor_;
    MidiTrack line_;
    BandTracks band_;
};

std::vector<SoundedNote> sounded_notes(const Block& piece, SoundOptions options) {
    options.times = 1;
    options.drums = false;
    std::vector<SoundedNote> out;
    std::ostringstream unused;
    MidiWriter::Impl player{unused, options};
    player.tell([&](const SoundedNote& note) { out.push_back(note); });
    std::visit(player, piece);
    std::ranges::stable_sort(out, {}, &SoundedNote::at);
    return out;
}

MidiWriter::MidiWriter(std::ostream& out, const SoundOptions& options)
    : impl_{std::make_unique<Impl>(out, options)} {}
MidiWriter::~MidiWriter() = default;

void MidiWriter::begin(const DocumentHead& head) {
    impl_->begin(head);
}
void MidiWriter::take(const Block& block) {
    std::visit(*impl_, block);
}
void MidiWriter::finish() {
    impl_->finish();
}
MixLevels MidiWriter::set_line_over_band(double more) {
    return impl_->set_line_over_band(more);
}
double MidiWriter::seconds() const {
    return impl_->seconds();
}

}  // namespace shedbook
