// The makers of the kinds of etudes, one function each; what they do is in templates/etudes.toml.
#pragma once

#include "shedbook/etude/etude.h"

namespace shedbook {

ConcertLine guide_tone_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine arpeggios_up(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine arpeggios_down(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine arpeggio_waves(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine unbroken_scale_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine target_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine added_note_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine cell_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine call_and_answer(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine composed_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);
ConcertLine riff_line(const EtudeGround& ground, const EtudeRequest& request, PitchRange range);

}  // namespace shedbook
