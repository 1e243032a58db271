#include "shedbook/book/book.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "book_code.h"
#include "drill_section.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/score_layout.h"
#include "sittings.h"
#include "topics.h"
#include "tune_chapter.h"
#include "unit_chapter.h"

namespace shedbook {
namespace {

constexpr std::array<std::string_view, 8> kUsualDrills{
    "range-scale", "thirds",      "groups-of-four",   "chord-up-scale-down",
    "sevenths",    "open-triads", "enclosures-above", "enclosures-below"};

// One of each kind, and a page full of them.
constexpr std::array<std::string_view, 4> kSheetDrills{"range-scale", "thirds", "sevenths",
                                                       "enclosures-above"};

// Players ask which way to transpose: the key as it sounds and as it is written.
Cover cover_of(const std::vector<Tune>& tunes, const BookPart& part, const BookOptions& options) {
    Cover out;
    out.player = options.player;
    out.range = part.range;
    const FingeringChart* chart = fingering_chart_of(*part.instrument);
    if (part.fingerings != Fingerings::None && chart != nullptr) out.fingerings = chart->row;
    if (tunes.size() != 1) return out;
    const Key key = key_of(tunes[0]);
    out.sounding_key = key;
    out.written_key = Key{key.tonic + written_interval(*part.instrument, key, {}, options.prefer), key.mode};
    return out;
}

std::string book_title(const std::vector<Tune>& tunes) {
    std::vector<std::string> titles;
    titles.reserve(tunes.size());
    for (const Tune& tune : tunes) titles.push_back(name_of(tune.chart).title);
    if (titles.size() > 3)
        return titles.front() + " and " + std::to_string(titles.size() - 1) + " more tunes";
    return join(titles, ", ");
}

}  // namespace

std::vector<const DrillTemplate*> usual_drills() {
    std::vector<const DrillTemplate*> out;
    out.reserve(std::size(kUsualDrills));
    for (const std::string_view id : kUsualDrills) out.push_back(find_drill(id));
    return out;
}

std::vector<std::string> sheet_drills() {
    return {kSheetDrills.begin(), kSheetDrills.end()};
}

TuneName name_of(const Chart& chart) {
    return {chart.id, chart.name()};
}

Key key_of(const Tune& tune) {
    return tune.chart.key.value_or(tune.analysis.home);
}

void assemble_book(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                   const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics) {
    sink.begin({book_title(tunes),
                tunes.size() == 1 ? tunes[0].chart.composer : "",
                {*parts[which].instrument},
                code_of(tunes, parts, which, options)});
    sink.take(cover_of(tunes, parts[which], options));
    sink.take(Caution{std::string{kCaution}});
    if (options.by == BookBy::Unit) {
        write_unit_chapters(tunes, {parts, {which}}, options, sink, diagnostics);
        sink.take(LogPage{});
        sink.finish();
        return;
    }
    const BookPlan plan = options.plan != nullptr ? *options.plan : plain_plan(options);
    std::vector<TuneChapter> chapters;
    chapters.reserve(tunes.size());
    for (const Tune& tune : tunes) chapters.push_back({tune, {parts, {which}}, plan, options, diagnostics});
    if (options.plan != nullptr) {
        for (const TuneChapter& chapter : chapters) sink.take(chapter.table());
    }
    DrillSectionMaker sections{{parts, {which}}, options, sink, diagnostics};
    int number = 0;
    for (std::size_t i = 0; i < chapters.size(); ++i) {
        sink.take(ChapterStart{name_of(tunes[i].chart), static_cast<int>(i) + 1,
                               static_cast<int>(chapters.size())});
        chapters[i].write(sections, sink, number);
        sink.take(ChapterEnd{});
    }
    sink.take(LogPage{});
    sink.finish();
}

void assemble_sheet(const std::vector<SheetTopic>& topics, std::span<const BookPart> parts, std::size_t which,
                    const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics) {
    std::vector<std::string> names;
    names.reserve(topics.size());
    for (const SheetTopic& topic : topics) names.push_back(name_of(Topic{topic.symbol, topic.scale.scale}));
    // A sheet in all keys would have a title without end.
    constexpr std::size_t kNamesInTitle = 6;
    const std::string title = names.size() <= kNamesInTitle
                                  ? join(names, ", ")
                                  : names.front() + " to " + names.back() + " (" +
                                        std::to_string(names.size()) + " chords and scales)";
    // The pages themselves name what the instrument reads.
    const bool reads_another = to_sounding(parts[which].instrument->transposition).semitones() % 12 != 0;
    sink.begin(
        {"Drills on " + title + (reads_another ? " (concert)" : ""), "", {*parts[which].instrument}, ""});
    sink.take(Caution{std::string{kCaution}});
    DrillSectionMaker sections{{parts, {which}}, options, sink, diagnostics};
    const SectionWork work{options.drills, boxes_at(options.tempos, options.goal_tempo), options.tempos,
                           options.memory};
    int number = 0;
    for (const SheetTopic& topic : topics) {
        SectionTopic section;
        section.number = ++number;
        section.symbol = topic.symbol;
        section.scale = topic.scale;
        sections.make(section, work);
    }
    sink.finish();
}

void assemble_score(const Tune& tune, std::span<const BookPart> parts, const BookOptions& options,
                    BlockSink& sink, Diagnostics& diagnostics) {
    DocumentHead head{name_of(tune.chart).title, tune.chart.composer, {}, ""};
    Ensemble ensemble{parts, {}};
    for (std::size_t which = 0; which < parts.size(); ++which) {
        head.parts.push_back(*parts[which].instrument);
        ensemble.written.push_back(which);
    }
    sink.begin(head);
    DrillSectionMaker sections{ensemble, options, sink, diagnostics};
    ScoreLayout layout{parts.size()};
    SectionWork work;
    work.drills = options.drills;
    int number = 0;
    for (SectionTopic& topic : topics_of(tune, options, diagnostics)) {
        topic.number = ++number;
        std::vector<Drill> drills = sections.drills_of(topic, work);
        if (drills.empty()) continue;
        sink.take(sections.start_of(topic));
        for (Drill& drill : drills) {
            layout.lay_out(drill.music);
            for (WrittenMusic& music : drill.music) music.shows_bar_numbers = true;
            sink.take(std::move(drill));
        }
        sink.take(SectionEnd{});
    }
    sink.finish();
}

}  // namespace shedbook
