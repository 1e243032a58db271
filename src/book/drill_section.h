// The section of one chord or scale: its head and its drills.
#pragma once

#include <span>
#include <string>
#include <vector>

#include "shedbook/book/book.h"
#include "shedbook/drill/evaluate.h"
#include "shedbook/drill/ladder.h"

namespace shedbook {

struct SectionTopic {
    int number = 1;  // "3" of "3.2"
    std::optional<ChordSymbol> symbol;
    ScaleChoice scale;                     // with its reason, which stands at the head
    std::optional<Key> key;                // of the tune: which way to spell
    std::vector<int> bars;                 // as pages count them
    std::vector<int> bars_of_reason = {};  // those for which the reason of `scale` holds; empty: all
    bool is_listed = true;                 // in the table of scales
    Duration sounding;                     // in the whole tune
};

// What is done with a topic.
struct SectionWork {
    std::vector<const DrillTemplate*> drills;
    TempoBoxes boxes;           // of a piece that is played at the tune's own tempo
    std::vector<int> per_cent;  // of a drill's own top tempo, for its boxes
    Memory memory = Memory::None;
};

// The parts that play together, and those of them that the document is for.
struct Ensemble {
    std::span<const BookPart> parts;
    std::vector<std::size_t> written;
};

// A topic as a part reads it, and why its scale was chosen, in the words of that part.
[[nodiscard]] TopicInPart in_part(const SectionTopic& topic, const Instrument& instrument, Prefer prefer);
// In a table, where bars are listed beside it: "mostly" where it does not hold for all.
[[nodiscard]] std::string reason_in_table(const SectionTopic& topic, const Instrument& instrument,
                                          Prefer prefer);
[[nodiscard]] std::string reason_in_part(const SectionTopic& topic, const Instrument& instrument,
                                         Prefer prefer);

class DrillSectionMaker {
  public:
    DrillSectionMaker(Ensemble ensemble, const BookOptions& options, BlockSink& sink,
                      Diagnostics& diagnostics);
    // One topic with all its drills.
    void make(const SectionTopic& topic, const SectionWork& work);
    // Every topic with one drill, in every round another one.
    void make_round(int number, int round, std::span<const SectionTopic> topics, const SectionWork& work);

    // The same without the section around them.
    [[nodiscard]] SectionStart start_of(const SectionTopic& topic, Memory memory = Memory::None) const;
    [[nodiscard]] std::vector<Drill> drills_of(const SectionTopic& topic, const SectionWork& work);

  private:
    // The drill in the octave that lies best, or in every octave; nothing if it does not fit. Still without a
    // number.
    [[nodiscard]] std::vector<Drill> drills_of(const SectionTopic& topic, const DrillTemplate& shipped,
                                               const SectionWork& work);
    [[nodiscard]] WrittenMusic music_of(const BookPart& part, const SectionTopic& topic,
                                        const ScaleLadder& ladder, const DrillTemplate& drill,
                                        const ConcertLine& line, Memory memory) const;
    void slow_down(TempoBoxes& boxes, const ConcertLine& line, const DrillTemplate& drill,
                   const Instrument& instrument, const SectionWork& work) const;
    // As many for every part, so that numbers agree.
    [[nodiscard]] int octaves_for_all(const DrillTemplate& drill, const ScaleLadder& ladder,
                                      const DrillPlan& plan) const;
    [[nodiscard]] const BookPart& first_part() const { return ensemble_.parts[ensemble_.written.front()]; }
    void say_missing(const DrillTemplate& drill, const SectionTopic& topic, const ScaleLadder& ladder);

    Ensemble ensemble_;
    const BookOptions& options_;
    BlockSink& sink_;
    Diagnostics& diagnostics_;
    std::vector<PitchRange> ranges_;  // sounding, of all parts
};

// Sounding ranges of the parts.
[[nodiscard]] std::vector<PitchRange> sounding_ranges(std::span<const BookPart> parts);

}  // namespace shedbook
