#include "melody_pages.h"

#include <optional>
#include <utility>

#include "shedbook/book/lead_sheet.h"
#include "shedbook/notation/memory_page.h"
#include "sittings.h"

namespace shedbook {

std::vector<Etude> melody_pages(const Tune& tune, const Ensemble& ensemble, const BookOptions& options,
                                Diagnostics& diagnostics) {
    constexpr std::size_t kBarsAGap = 4;
    Etude melody;
    for (const std::size_t which : ensemble.written) {
        std::optional<WrittenMusic> music =
            melody_part(tune.chart, *ensemble.parts[which].instrument, options.prefer, diagnostics);
        if (!music) return {};
        melody.music.push_back(*std::move(music));
    }
    melody.tune = name_of(tune.chart);
    melody.boxes = boxes_at(options.tempos, options.goal_tempo);
    diagnostics.note_at(
        melody.tune.title,
        "its melody is printed as the chart has it; whose it is, and who may copy it, you know");
    Etude by_ear = melody;
    melody.id = "melody";
    melody.title = "The melody";
    by_ear.id = "melody-by-ear";
    by_ear.title = "The melody, its gaps by ear";
    for (WrittenMusic& music : by_ear.music) music = with_gaps(music, kBarsAGap);
    return {std::move(melody), std::move(by_ear)};
}

}  // namespace shedbook
