#include "goals.h"

#include <vector>

#include "log_words.h"
#include "shedbook/book/book.h"
#include "shedbook/notation/pieces.h"

namespace shedbook {

std::optional<int> usual_goal(const Item& item, std::optional<int> tempo_of_tune, int of_level) {
    BookOptions options;
    options.etude.level = of_level;
    if (item.kind != ItemKind::Scale) return tempo_of_tune.value_or(options.goal_tempo);
    const std::optional<Scale> scale = scale_of(item);
    const DrillTemplate* drill = find_drill(item.work);
    const Instrument* instrument = find_instrument(item.instrument);
    if (!scale || drill == nullptr || instrument == nullptr) return std::nullopt;
    SheetTopic topic;
    topic.scale.scale = *scale;
    topic.scale.notes = spelled(*scale);
    options.drills = {drill};
    const std::optional<WrittenRange> range = parse_range(level(of_level).range, *instrument);
    BookPart part;
    part.instrument = instrument;
    part.range = range.value_or(instrument->practical);
    const std::vector<BookPart> parts{part};
    Diagnostics diagnostics;
    const Document sheet =
        recorded([&](BlockSink& sink) { assemble_sheet({topic}, parts, 0, options, sink, diagnostics); });
    for (const Block& block : sheet.blocks) {
        const TempoBoxes boxes = boxes_of(block);
        if (!boxes.tempos.empty()) return boxes.tempos.back();
    }
    return std::nullopt;
}

}  // namespace shedbook
