// Chord tones through the changes, each chord entered by the tone nearest to the last note (common practice).
#include <algorithm>
#include <cstdlib>

#include "line_maker.h"
#include "line_tools.h"
#include "lines.h"

namespace shedbook {
namespace {

enum class Way { Up, Down, Waves };

class ArpeggioLine : LineMaker {
  public:
    ArpeggioLine(const EtudeGround& ground, const EtudeRequest& request, PitchRange range, Way way)
        : LineMaker{ground, request, range}, way_{way}, direction_{way == Way::Down ? -1 : 1} {}

    ConcertLine make() {
        line_.length = ground_.length;
        const Position end = Position{} + ground_.length;
        for (const ScaleSpan& span : ground_.spans) {
            tones_ = in_range(level_.ornament > 0 ? span.chord : plain_tones(span), range_);
            if (span.notes.empty() || tones_.empty()) {
                last_.reset();
                continue;
            }
            // The tune's last half bar is one note to rest on.
            const bool is_last = span.at + span.length == end;
            const Position stop =
                span.at + span.length - (is_last ? std::min(kHalf, span.length) : Duration{});
            bool enters = true;
            for (Position at = span.at; at < stop; at += level_.note) {
                add_note(line_, next(enters), at, std::min(level_.note, stop - at));
                enters = false;
            }
            if (is_last) add_note(line_, next(enters), stop, end - stop);
        }
        return std::move(line_);
    }

  private:
    Pitch next(bool enters) {
        if (!last_) return remember(beginning());
        if (enters) return remember(nearest_to(tones_, *last_, direction_));
        if (const auto tone = next_of(tones_, *last_, direction_)) return remember(*tone);
        if (way_ == Way::Waves) {
            direction_ = -direction_;
            return remember(next_of(tones_, *last_, direction_).value_or(*last_));
        }
        // An octave back and on, or as far as the range goes.
        const Pitch back = *last_ + -direction_ * kOctave;
        return remember(nearest_to(tones_, back, direction_));
    }

    Pitch beginning() {
        const int width = range_.high.midi() - range_.low.midi();
        const int from = way_ == Way::Down ? width * 2 / 3 : width / 4;
        const int midi = range_.low.midi() + from + dice_.below(5) - 2;
        return nearest_to(tones_, Pitch{simplest_name(midi % 12), midi / 12 - 1}, direction_);
    }

    Pitch remember(Pitch pitch) {
        last_ = pitch;
        return pitch;
    }

    Way way_;
    int direction_;
    std::vector<Pitch> tones_;
    std::optional<Pitch> last_;
};

}  // namespace

ConcertLine arpeggios_up(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return ArpeggioLine{ground, request, range, Way::Up}.make();
}
ConcertLine arpeggios_down(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return ArpeggioLine{ground, request, range, Way::Down}.make();
}
ConcertLine arpeggio_waves(const EtudeGround& ground, const EtudeRequest& request, PitchRange range) {
    return ArpeggioLine{ground, request, range, Way::Waves}.make();
}

}  // namespace shedbook
