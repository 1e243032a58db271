#include "shedbook/book/book.h"

#include <algorithm>
#include <array>
#include <string_view>
#include <utility>

#include "drill_section.h"
#include "shedbook/base/text.h"
#include "shedbook/book/etude.h"
#include "shedbook/book/lead_sheet.h"
#include "shedbook/notation/fingering.h"
#include "sittings.h"
#include "topics.h"

namespace shedbook {
namespace {

constexpr std::size_t kLongestTitle = 40;  // of a tune, before that of its etude

constexpr std::array<std::string_view, 8> kUsualDrills{
    "range-scale", "thirds",      "groups-of-four",   "chord-up-scale-down",
    "sevenths",    "open-triads", "enclosures-above", "enclosures-below"};

// One of each kind, and a page full of them.
constexpr std::array<std::string_view, 4> kSheetDrills{"range-scale", "thirds", "sevenths",
                                                       "enclosures-above"};

// General advice on playing without harm: NASM/PAMA, Protecting Your Neuromusculoskeletal Health (student
// sheet). No minutes are given there, so none here.
constexpr std::string_view kCaution =
    "Take short breaks. Stop at pain, numbness or tingling, and ask a teacher or a doctor. Mind the volume: "
    "protect your "
    "ears.";

DocumentHead document_head(std::string title, std::string composer, const BookPart& part) {
    DocumentHead head;
    head.title = std::move(title);
    head.composer = std::move(composer);
    head.instrument = *part.instrument;
    head.range = "Written range " + to_string(part.range.low.on_paper()) + " to " +
                 to_string(part.range.high.on_paper());
    const FingeringChart* chart = fingering_chart_of(*part.instrument);
    if (part.fingerings != Fingerings::None && chart != nullptr) head.fingerings = chart->row;
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
EtudeRequest etude_of(const std::string& kind, const BookOptions& options) {
    EtudeRequest out = options.etude;
    out.kind = kind;
    if (!out.bars) out.bars = options.only_bars;
    return out;
}

// A tune in the book: its changes, then the sittings of the plan, then what was left out for the memory.
class TuneChapter {
  public:
    TuneChapter(const Tune& tune, std::span<const BookPart> parts, std::size_t which, const BookPlan& plan,
                const BookOptions& options, Diagnostics& diagnostics)
        : tune_{&tune},
          parts_{parts},
          which_{which},
          plan_{&plan},
          options_{&options},
          diagnostics_{&diagnostics} {
        sittings_ = plan_sittings(plan, topics_of(tune, parts[which], options, diagnostics), options);
    }

    [[nodiscard]] std::string title() const { return tune_->chart.name(); }

    [[nodiscard]] Table table() const {
        std::vector<std::vector<std::string>> names;
        const Instrument& instrument = *parts_[which_].instrument;
        for (const PlannedSitting& sitting : sittings_) {
            names.emplace_back();
            for (const SectionTopic& topic : sitting.topics)
                names.back().push_back(written_name(topic, instrument, options_->prefer));
        }
        return table_of(*plan_, sittings_, names);
    }

    void write(DrillSectionMaker& sections, BlockSink& sink, int& number) {
        sink.take(RhythmPart{rhythm_part(tune_->chart, *parts_[which_].instrument, options_->prefer)});
        std::vector<SectionTopic> listed;
        for (PlannedSitting& sitting : sittings_) {
            if (options_->plan != nullptr) {
                sink.take(Heading{2, sitting.title});
                if (!sitting.sitting->advice.empty()) sink.take(Text{sitting.sitting->advice});
            }
            write_sections(sitting, sections, number, listed);
            for (const std::string& kind : sitting.sitting->etudes) write_etude(kind, sitting, sink, number);
        }
        write_answers(sections, sink);
    }

  private:
    void write_sections(PlannedSitting& sitting, DrillSectionMaker& sections, int& number,
                        std::vector<SectionTopic>& listed) {
        if (sitting.topics.empty()) return;
        if (sitting.sitting->order == Order::Mixed) {
            sitting.first_round = number + 1;
            write_rounds(sitting, sitting.work, sections);
            number += static_cast<int>(sitting.work.drills.size());
            return;
        }
        for (SectionTopic& topic : sitting.topics) {
            topic.number = ++number;
            const bool is_known = std::ranges::any_of(listed, [&](const SectionTopic& known) {
                return known.symbol == topic.symbol && known.scale.scale == topic.scale.scale;
            });
            if (is_known) topic.is_listed = false;
            if (topic.is_listed) listed.push_back(topic);
            sections.make(topic, sitting.work);
        }
    }

    static void write_rounds(const PlannedSitting& sitting, const SectionWork& work,
                             DrillSectionMaker& sections) {
        for (std::size_t round = 0; round < work.drills.size(); ++round)
            sections.make_round(sitting.first_round + static_cast<int>(round), round, sitting.topics, work);
    }

    void write_etude(const std::string& kind, const PlannedSitting& sitting, BlockSink& sink,
                     int& number) const {
        std::optional<WrittenMusic> music =
            etude_music(*tune_, parts_, which_, etude_of(kind, *options_), options_->prefer);
        if (!music) {
            const EtudeKind* asked = find_etude_kind(kind);
            if (asked != nullptr && !fits(*asked, sounding_ranges(parts_)[which_]))
                diagnostics_->note_at(title(), "'" + asked->title + "' is left out: it needs " +
                                                   std::to_string(asked->narrowest) + " half steps of range");
            return;
        }
        music->number = std::to_string(++number);
        if (count_characters(title()) <= kLongestTitle) {
            music->title = title() + ": " + lower_case(music->title.substr(0, 1)) + music->title.substr(1);
        }
        sink.take(PageBreak{});
        sink.take(sitting.work.boxes);
        sink.take(*std::move(music));
    }

    // The whole drills of the memory pages, under the same numbers.
    void write_answers(DrillSectionMaker& sections, BlockSink& sink) const {
        bool has_heading = false;
        for (const PlannedSitting& sitting : sittings_) {
            if (sitting.work.memory == Memory::None || sitting.topics.empty()) continue;
            if (!has_heading) sink.take(Heading{2, "Answers"});
            has_heading = true;
            SectionWork whole = sitting.work;
            whole.memory = Memory::None;
            if (sitting.sitting->order == Order::Mixed) {
                write_rounds(sitting, whole, sections);
                continue;
            }
            for (SectionTopic topic : sitting.topics) {
                topic.is_listed = false;
                sections.make(topic, whole);
            }
        }
    }

    const Tune* tune_;
    std::span<const BookPart> parts_;
    std::size_t which_;
    const BookPlan* plan_;
    const BookOptions* options_;
    Diagnostics* diagnostics_;
    std::vector<PlannedSitting> sittings_;
};

std::string book_title(const std::vector<Tune>& tunes) {
    std::vector<std::string> titles;
    for (const Tune& tune : tunes) titles.push_back(tune.chart.name());
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

std::vector<std::string> sheet_drills() {
    return {kSheetDrills.begin(), kSheetDrills.end()};
}

void assemble_book(const std::vector<Tune>& tunes, std::span<const BookPart> parts, std::size_t which,
                   const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics) {
    DocumentHead document =
        document_head(book_title(tunes), tunes.size() == 1 ? tunes[0].chart.composer : "", parts[which]);
    if (tunes.size() == 1) document.keys = keys_in_words(tunes[0], *parts[which].instrument, options.prefer);
    document.player = options.player;
    sink.begin(document);
    sink.take(Text{std::string{kCaution}});
    const BookPlan plan = options.plan != nullptr ? *options.plan : plain_plan(options);
    std::vector<TuneChapter> chapters;
    for (const Tune& tune : tunes) chapters.push_back({tune, parts, which, plan, options, diagnostics});
    if (options.plan != nullptr) {
        for (const TuneChapter& chapter : chapters) sink.take(chapter.table());
    }
    DrillSectionMaker sections{parts, which, options, sink, diagnostics};
    int number = 0;
    for (TuneChapter& chapter : chapters) {
        if (tunes.size() > 1) sink.take(Heading{1, chapter.title()});
        chapter.write(sections, sink, number);
    }
    sink.finish();
}

void assemble_sheet(const std::vector<SheetTopic>& topics, std::span<const BookPart> parts, std::size_t which,
                    const BookOptions& options, BlockSink& sink, Diagnostics& diagnostics) {
    std::vector<std::string> names;
    for (const SheetTopic& topic : topics) {
        names.push_back(topic.symbol ? to_string(*topic.symbol) : to_string(topic.scale.scale));
    }
    // A sheet in all keys would have a title without end.
    constexpr std::size_t kNamesInTitle = 6;
    const std::string title = names.size() <= kNamesInTitle
                                  ? join(names, ", ")
                                  : names.front() + " to " + names.back() + " (" +
                                        std::to_string(names.size()) + " chords and scales)";
    DocumentHead document = document_head("Drills on " + title, "", parts[which]);
    document.is_book = false;
    sink.begin(document);
    sink.take(Text{std::string{kCaution}});
    DrillSectionMaker sections{parts, which, options, sink, diagnostics};
    const SectionWork work{options.drills, tick_boxes(options.tempos, options.goal_tempo), options.memory};
    int number = 0;
    for (const SheetTopic& topic : topics) {
        SectionTopic section;
        section.number = ++number;
        section.symbol = topic.symbol;
        section.scale = topic.scale;
        section.reason = topic.symbol ? topic.scale.why : "";
        sections.make(section, work);
    }
    sink.finish();
}

}  // namespace shedbook
