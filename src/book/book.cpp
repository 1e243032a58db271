#include "shedbook/book/book.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "drill_section.h"
#include "shedbook/base/text.h"
#include "shedbook/book/etude.h"
#include "shedbook/book/lead_sheet.h"

namespace shedbook {
namespace {

constexpr std::array<std::string_view, 8> kUsualDrills{
    "range-scale", "thirds",      "groups-of-four",   "chord-up-scale-down",
    "sevenths",    "open-triads", "enclosures-above", "enclosures-below"};

// General advice on playing without harm: NASM/PAMA, Protecting Your Neuromusculoskeletal Health (student
// sheet). No minutes are given there, so none here.
constexpr std::string_view kCaution =
    "Take short breaks. Stop at pain, numbness or tingling, and ask a teacher or a doctor. Mind the volume: "
    "protect your "
    "ears.";

// Keeps the chords that sound longest, in the order of the tune; says which are left out.
void keep_most_important(std::vector<ChordInContext>& chords, const BookOptions& options,
                         const std::string& title, Diagnostics& diagnostics) {
    if (!options.most_chords || chords.size() <= *options.most_chords) return;
    std::vector<Duration> lengths;
    for (const ChordInContext& chord : chords) lengths.push_back(chord.sounding);
    std::ranges::sort(lengths, std::ranges::greater{});
    const Duration least = lengths[*options.most_chords - 1];
    std::size_t room = *options.most_chords - static_cast<std::size_t>(std::ranges::count_if(
                                                  lengths, [&](Duration length) { return length > least; }));
    std::vector<ChordInContext> kept;
    std::vector<std::string> left_out;
    for (ChordInContext& chord : chords) {
        const bool keeps = chord.sounding > least || (chord.sounding == least && room > 0);
        if (chord.sounding == least && room > 0) --room;
        if (keeps) {
            kept.push_back(std::move(chord));
        } else {
            left_out.push_back(to_string(chord.symbol) + " (" + to_string(chord.scale.scale) + ")");
        }
    }
    diagnostics.note_at(title,
                        "the book keeps the " + std::to_string(kept.size()) +
                            " chords that sound longest; left out: " + join(left_out, ", "),
                        "--all takes every chord, --chords or --bars choose");
    chords = std::move(kept);
}

// The analysis of the tune as it stands in a part, so that its reasons speak of the chords that the player
// reads.
class WrittenReasons {
  public:
    WrittenReasons(const Tune& tune, const Instrument& instrument, Prefer prefer) {
        const Key key = tune.chart.key.value_or(tune.analysis.home);
        const Chart written = transposed(tune.chart, written_interval(instrument, key, {}, prefer));
        Diagnostics unused;  // the concert chart was unfolded before, and its signs are the same
        if (const std::optional<Timeline> timeline = unfold(written, unused)) {
            analysis_ = analyse(written, *timeline, tune.how);
        }
    }

    [[nodiscard]] std::string reason(const ChordInContext& chord) const {
        if (chord.reading >= analysis_.readings.size()) return chord.scale.why;
        if (!chord.later) return analysis_.readings[chord.reading].why;
        const std::vector<Reading>& others = analysis_.also[chord.reading];
        return *chord.later < others.size() ? others[*chord.later].why : chord.scale.why;
    }

  private:
    Analysis analysis_;
};

DocumentHead document_head(std::string title, std::string composer, const BookPart& part) {
    DocumentHead head;
    head.title = std::move(title);
    head.composer = std::move(composer);
    head.instrument = *part.instrument;
    head.range = "Written range " + to_string(part.range.low.on_paper()) + " to " +
                 to_string(part.range.high.on_paper());
    return head;
}

// Players ask which way to transpose: the key as it sounds and as it is written.
std::string keys_in_words(const Tune& tune, const Instrument& instrument, Prefer prefer) {
    const Key key = tune.chart.key.value_or(tune.analysis.home);
    const Key written{key.tonic + written_interval(instrument, key, {}, prefer), key.mode};
    if (written == key) return to_string(key);
    return to_string(key) + ", written " + to_string(written);
}

// The etude keeps to the bars of the book unless it names its own.
EtudeRequest etude_of_book(const BookOptions& options) {
    EtudeRequest out = options.etude;
    if (!out.bars) out.bars = options.only_bars;
    return out;
}

std::string book_title(const std::vector<Tune>& tunes) {
    std::vector<std::string> titles;
    for (const Tune& tune : tunes)
        titles.push_back(tune.chart.title.empty() ? tune.chart.id : tune.chart.title);
    if (titles.size() > 3)
        return titles.front() + " and " + std::to_string(titles.size() - 1) + " more tunes";
    return join(titles, ", ");
}

}  // namespace

std::vector<const DrillTemplate*> usual_drills() {
    std::vector<const DrillTemplate*> out;
    for (const std::string_view id : kUsualDrills) out.push_back(find_drill(id));
    return out;
}

void assemble_book(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                   const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics) {
    DocumentHead document =
        document_head(book_title(tunes), tunes.size() == 1 ? tunes[0].chart.composer : "", parts[which]);
    if (tunes.size() == 1) document.keys = keys_in_words(tunes[0], *parts[which].instrument, options.prefer);
    sink.begin(document);
    sink.take(Text{std::string{kCaution}});
    DrillSectionMaker sections{parts, which, options, sink, diagnostics};
    int number = 0;
    for (const Tune& tune : tunes) {
        const std::string title = tune.chart.title.empty() ? tune.chart.id : tune.chart.title;
        if (tunes.size() > 1) sink.take(Heading{1, title});
        sink.take(RhythmPart{rhythm_part(tune.chart, *parts[which].instrument, options.prefer)});
        std::vector<ChordInContext> chords = chords_in_context(tune, options);
        keep_most_important(chords, options, title, diagnostics);
        const WrittenReasons reasons{tune, *parts[which].instrument, options.prefer};
        for (const ChordInContext& chord : chords) {
            SectionTopic topic;
            topic.number = ++number;
            topic.symbol = chord.symbol;
            topic.scale = chord.scale;
            topic.key = tune.chart.key.value_or(tune.analysis.home);
            topic.reason = reasons.reason(chord);
            topic.bars = bars_in_words(chord.bars);
            sections.make(topic);
        }
        if (!options.with_line) continue;
        if (std::optional<WrittenMusic> line =
                etude_music(tune, parts, which, etude_of_book(options), options.prefer)) {
            line->number = std::to_string(++number);
            line->title = count_characters(title) > 40
                              ? line->title
                              : title + ": " + lower_case(line->title.substr(0, 1)) + line->title.substr(1);
            sink.take(PageBreak{});
            sink.take(std::move(*line));
        }
    }
    sink.finish();
}

void assemble_sheet(const std::vector<SheetTopic>& topics, std::span<const BookPart> parts, std::size_t which,
                    const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics) {
    std::vector<std::string> names;
    for (const SheetTopic& topic : topics) {
        names.push_back(topic.symbol ? to_string(*topic.symbol) : to_string(topic.scale.scale));
    }
    DocumentHead document = document_head("Drills on " + join(names, ", "), "", parts[which]);
    document.is_book = false;
    sink.begin(document);
    sink.take(Text{std::string{kCaution}});
    DrillSectionMaker sections{parts, which, options, sink, diagnostics};
    int number = 0;
    for (const SheetTopic& topic : topics) {
        SectionTopic section;
        section.number = ++number;
        section.symbol = topic.symbol;
        section.scale = topic.scale;
        section.reason = topic.symbol ? topic.scale.why : "";
        sections.make(section);
    }
    sink.finish();
}

}  // namespace shedbook
