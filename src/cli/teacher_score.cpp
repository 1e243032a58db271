#include "teacher_score.h"

#include <string>
#include <utility>

#include "shedbook/notation/music_text.h"

namespace shedbook {
namespace {

class Recorder : public BlockSink {
  public:
    void begin(const DocumentHead& given) override { head = given; }
    void take(const Block& block) override { blocks.push_back(block); }
    void finish() override {}

    DocumentHead head;
    std::vector<Block> blocks;
};

Recorder recorded(const Tune& tune, std::span<const BookPart> parts, std::size_t which,
                  const BookOptions& options, Diagnostics& diagnostics) {
    Recorder out;
    assemble_book({tune}, parts, which, options, out, diagnostics);
    return out;
}

// The heads of the sections for a part that sounds as it is written.
std::vector<ChordHead> concert_heads(const Tune& tune, const BookPart& part, const BookOptions& options) {
    Instrument concert = *part.instrument;
    concert.transposition = {};
    const BookPart alone{&concert, part.range};
    Diagnostics unused;  // said of the parts themselves
    std::vector<ChordHead> out;
    for (const Block& block : recorded(tune, {&alone, 1}, 0, options, unused).blocks) {
        if (const auto* head = std::get_if<ChordHead>(&block)) out.push_back(*head);
    }
    return out;
}

std::string as_it_sounds(const ChordHead& head) {
    std::string out = "Sounds: ";
    if (head.symbol) out += to_string(*head.symbol) + ", ";
    out += head.scale_name;
    if (!head.bars.empty()) out += " (" + head.bars + ")";
    return with_signs(out);
}

// The blocks of one part: heads only where music follows, titles only over the first staff.
std::vector<Block> blocks_of(const std::vector<Block>& all, const std::vector<ChordHead>& concert,
                             bool is_first) {
    std::vector<Block> out;
    std::vector<Block> waiting;
    std::size_t section = 0;
    for (const Block& block : all) {
        if (const auto* head = std::get_if<ChordHead>(&block)) {
            waiting.clear();
            if (is_first) waiting.emplace_back(Text{as_it_sounds(concert[section])});
            ++section;
            ChordHead scale;
            scale.scale_name = head->scale_name;
            waiting.emplace_back(std::move(scale));
        } else if (const auto* music = std::get_if<WrittenMusic>(&block)) {
            for (Block& line : std::exchange(waiting, {})) out.push_back(std::move(line));
            WrittenMusic piece = *music;
            piece.shows_bar_numbers = true;
            if (!is_first) {
                piece.number.clear();
                piece.title.clear();
                piece.remark.clear();
            }
            out.emplace_back(std::move(piece));
        }
    }
    return out;
}

}  // namespace

std::optional<Score> teacher_score(const Tune& tune, const std::vector<BookPart>& parts,
                                   const BookOptions& options, Diagnostics& diagnostics) {
    BookOptions drills_only = options;
    drills_only.with_line = false;
    drills_only.plan = nullptr;
    const std::vector<ChordHead> concert = concert_heads(tune, parts.front(), drills_only);
    Score out;
    for (std::size_t which = 0; which < parts.size(); ++which) {
        Diagnostics said;
        const Recorder part = recorded(tune, parts, which, drills_only, said);
        if (which == 0) {
            diagnostics = said;
            out.title = part.head.title;
            out.composer = part.head.composer;
        }
        out.parts.push_back({*parts[which].instrument, blocks_of(part.blocks, concert, which == 0)});
        if (out.parts.back().blocks.empty()) return std::nullopt;
    }
    return out;
}

}  // namespace shedbook
