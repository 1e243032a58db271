#include <algorithm>
#include <cassert>
#include <cstdlib>
#include <utility>

#include "drill_section.h"
#include "handling.h"
#include "line_on_paper.h"
#include "shedbook/book/etude.h"

namespace shedbook {
namespace {

// The key number of the window's low end, an octave of `low`, where the window lies nearest the middle of the
// range.
std::optional<int> place_in(const PitchRange& range, int low, int width) {
    std::optional<int> best;
    const int middle = range.low.midi() + range.high.midi();
    for (int at = low; at + width <= range.high.midi(); at += 12) {
        if (at < range.low.midi()) continue;
        if (!best || std::abs(2 * at + width - middle) < std::abs(2 * *best + width - middle)) best = at;
    }
    return best;
}

Pitch pitch_at(int midi) {
    return Pitch{simplest_name(midi % 12), midi / 12 - 1};
}

}  // namespace

PitchRange common_window(const std::vector<PitchRange>& ranges, std::size_t which) {
    const PitchRange own = ranges[which];
    if (ranges.size() == 1) return own;
    int widest = own.high.midi() - own.low.midi();
    for (const PitchRange& range : ranges) widest = std::min(widest, range.high.midi() - range.low.midi());
    for (int width = widest; width >= 12; --width) {
        for (int low = 0; low < 12; ++low) {
            const bool fits_all = std::ranges::all_of(
                ranges, [&](const PitchRange& range) { return place_in(range, low, width).has_value(); });
            if (!fits_all) continue;
            const int at = *place_in(own, low, width);
            return {pitch_at(at), pitch_at(at + width)};
        }
    }
    return own;
}

EtudeMaker::EtudeMaker(std::span<const BookPart> parts, EtudeRequest request, EtudePaper paper)
    : parts_{parts}, request_{std::move(request)}, kind_{find_etude_kind(request_.kind)}, paper_{paper} {
    assert(kind_ != nullptr);
}

bool EtudeMaker::fits_part(std::size_t which) const {
    return fits(*kind_, window_of(which));
}

PitchRange EtudeMaker::window_of(std::size_t which) const {
    std::vector<PitchRange> ranges;
    for (const BookPart& part : parts_) ranges.push_back(comfortable_range(part, kind_->narrowest));
    return common_window(ranges, which);
}

ConcertLine EtudeMaker::line_for(const Tune& tune, const EtudeGround& ground, PitchRange range) {
    const int width = range.high.midi() - range.low.midi();
    for (const Composed& known : composed_) {
        const int by = range.low.midi() - known.range.low.midi();
        const bool is_alike = known.range.high.midi() - known.range.low.midi() == width && by % 12 == 0;
        if (known.tune == &tune && is_alike) return transposed(known.line, by / 12 * kOctave);
    }
    EtudeRequest request = request_;
    if (!request.tempo) request.tempo = tune.chart.tempo;
    if (!request.style) request.style = style_of(tune.chart.feel, ground);
    // Parts that play together have no hand in common, but they breathe together.
    if (parts_.size() == 1) request.handling = handling_of(*parts_.front().instrument, request.level);
    request.handling.breathes = std::ranges::any_of(
        parts_, [&](const BookPart& part) { return handling_of(*part.instrument, request.level).breathes; });
    composed_.push_back({&tune, range, make_etude(ground, request, range)});
    return composed_.back().line;
}

WrittenMusic EtudeMaker::music_of(const Tune& tune, const EtudeGround& ground, std::size_t which) {
    const ConcertLine line = line_for(tune, ground, window_of(which));
    return line_on_paper(line, tune, ground, parts_[which],
                         {paper_.prefer, paper_.reading_level.value_or(request_.level)});
}

TempoBoxes EtudeMaker::boxes_of(const Tune& tune, const EtudeGround& ground,
                                const std::vector<std::size_t>& which, const EtudeBoxes& boxes) {
    std::vector<PartLine> lines;
    lines.reserve(which.size());
    for (const std::size_t part : which)
        lines.push_back({&parts_[part], line_for(tune, ground, window_of(part))});
    return boxes_for(lines, tune, ground, request_.level, boxes);
}

std::optional<Etude> EtudeMaker::make(const Tune& tune, const std::vector<std::size_t>& which,
                                      const EtudeBoxes& boxes) {
    const EtudeGround ground = ground_of(tune.timeline, tune.analysis,
                                         {.bars = request_.bars,
                                          .choruses = request_.choruses,
                                          .once = request_.once,
                                          .rests_on = request_.rests_on,
                                          .bars_for_one = request_.bars_for_one});
    if (!has_chords(ground)) return std::nullopt;
    Etude out;
    for (const std::size_t part : which) {
        if (!fits_part(part)) return std::nullopt;
        out.music.push_back(music_of(tune, ground, part));
    }
    out.boxes = boxes_of(tune, ground, which, boxes);
    say_whose_tempo(out);
    out.id = kind_->id;
    out.title = request_.bars ? kind_->title_on_bars : kind_->title;
    out.tune = name_of(tune.chart);
    return out;
}

void assemble_etudes(const std::vector<Tune>& tunes, EtudeMaker& maker, std::size_t which, BlockSink& sink,
                     Diagnostics& diagnostics) {
    const bool is_one = tunes.size() == 1;
    const std::string title = name_of(tunes.front().chart).title;
    sink.begin({is_one ? title : title + " and " + std::to_string(tunes.size() - 1) + " more",
                is_one ? tunes.front().chart.composer : "",
                {*maker.parts()[which].instrument},
                ""});
    for (std::size_t i = 0; i < tunes.size(); ++i) {
        std::optional<Etude> etude = maker.make(tunes[i], {which});
        if (!etude) {
            diagnostics.warning_at(name_of(tunes[i].chart).title,
                                   "there is no chord to play on, so no etude");
            continue;
        }
        const EtudeRequest& request = maker.request();
        if (!is_one) etude->number = {static_cast<int>(i) + 1, 0};
        etude->composer = tunes[i].chart.composer;
        etude->made = Etude::Made{request.level, request.seed, request.choruses};
        sink.take(*std::move(etude));
    }
    sink.finish();
}

}  // namespace shedbook
