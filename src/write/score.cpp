#include "shedbook/write/score.h"

#include <algorithm>
#include <cassert>
#include <ostream>

#include "engrave.h"
#include "musicxml_elements.h"
#include "score_pages.h"
#include "shedbook/base/text.h"
#include "shedbook/io/files.h"
#include "shedbook/io/zip.h"
#include "shedbook/write/musicxml.h"

namespace shedbook {
namespace {

// Heights in tenths of a millimetre: what a page of A4 holds between its margins, and what a staff takes with
// the room over it, in staves.
constexpr int kPage = 2670;
constexpr int kTitle = 400;
constexpr int kLargestStaff = 60;
constexpr int kSmallestStaff = 30;
constexpr int kStavesAPart = 3;  // the staff itself, and twice as much for symbols and ledger lines
constexpr int kStavesBetween = 3;
// The names of the parts take room from each line (tried with scales full of accidentals).
constexpr std::size_t kNotesALine = 32;

int systems_on_page(std::size_t parts, bool is_first) {
    const int system = (kStavesAPart * static_cast<int>(parts) + kStavesBetween) * staff_height(parts);
    return std::max(1, (is_first ? kPage - kTitle : kPage) / system);
}

std::vector<WrittenMusic*> pieces_of(PartOfScore& part) {
    std::vector<WrittenMusic*> out;
    for (Block& block : part.blocks) {
        if (auto* music = std::get_if<WrittenMusic>(&block)) out.push_back(music);
    }
    return out;
}

// Where the first part's lines begin: bars that share the notes of the piece about evenly.
std::vector<bool> line_starts(const WrittenMusic& music) {
    const std::size_t lines = (music.events.size() + kNotesALine - 1) / kNotesALine;
    std::size_t done = 0;
    std::vector<bool> out;
    for (const Measure& measure : music.measures) {
        const std::size_t middle = 2 * measure.first_event + measure.event_count;
        const bool starts = done == 0 || (done < lines && middle * lines > 2 * done * music.events.size());
        if (starts) ++done;
        out.push_back(starts);
    }
    return out;
}

DocumentHead head_of(const Score& score, const Instrument& instrument) {
    DocumentHead head;
    head.title = score.title;
    head.composer = score.composer;
    head.instrument = instrument;
    head.is_book = false;
    return head;
}

}  // namespace

int staff_height(std::size_t parts) {
    const int staves = kStavesAPart * static_cast<int>(parts) + kStavesBetween;
    return std::clamp((kPage - kTitle) / staves, kSmallestStaff, kLargestStaff);
}

void break_lines(Score& score) {
    std::vector<std::vector<WrittenMusic*>> parts;
    for (PartOfScore& part : score.parts) parts.push_back(pieces_of(part));
    const int page = systems_on_page(score.parts.size(), false);
    int room = systems_on_page(score.parts.size(), true);
    for (std::size_t piece = 0; piece < parts.front().size(); ++piece) {
        const WrittenMusic& leading = *parts.front()[piece];
        const std::vector<bool> starts = line_starts(leading);
        // A piece that one page holds is not torn in two.
        const auto systems = static_cast<int>(std::ranges::count(starts, true));
        if (systems <= page && systems > room && piece > 0) room = 0;
        for (std::size_t bar = 0; bar < leading.measures.size(); ++bar) {
            const bool new_system = starts[bar];
            const bool new_page = new_system && room == 0;
            if (new_page) room = page;
            if (new_system) --room;
            for (const std::vector<WrittenMusic*>& part : parts) {
                assert(part.size() == parts.front().size() &&
                       part[piece]->measures.size() == leading.measures.size());
                Measure& measure = part[piece]->measures[bar];
                measure.new_system = new_system && bar > 0;
                measure.new_page = new_page;
            }
        }
    }
}

void write_score_text(const Score& score, std::ostream& out) {
    std::vector<Instrument> instruments;
    for (const PartOfScore& part : score.parts) instruments.push_back(part.instrument);
    std::string text;
    append_file_head(text, head_of(score, instruments.front()), instruments,
                     staff_height(instruments.size()));
    out << text;
    int number = 0;
    for (const PartOfScore& part : score.parts) {
        MusicXmlWriter writer{out, ++number};
        writer.begin(head_of(score, part.instrument));
        for (const Block& block : part.blocks) writer.take(block);
        writer.finish();
    }
    out << kFileEnd;
}

void write_score(const std::string& path, Score score, const WriteOptions& options) {
    break_lines(score);
    const std::string name = lower_case(path);
    if (name.ends_with(".pdf")) return engrave_text(path, score_pages(score, options.paper));
    if (name.ends_with(".ly"))
        return write_atomically(path, [&](std::ostream& out) { out << score_pages(score, options.paper); });
    const auto produce = [&](std::ostream& out) { write_score_text(score, out); };
    if (name.ends_with(".mxl")) return write_mxl(path, produce);
    write_atomically(path, produce);
}

}  // namespace shedbook
