// The music of an ABC tune (standard 2.1, section 4), line by line, into bars: as much as a single voice with
// chord symbols needs. Beams, slurs, grace notes and ornaments are read past.
#pragma once

#include <array>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "../score_bar.h"
#include "abc_fields.h"
#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/limits.h"

namespace shedbook {

class AbcMusic {
  public:
    AbcMusic(const SourceText& source, Diagnostics& diagnostics)
        : source_{source}, diagnostics_{diagnostics} {}

    void set_key(const AbcKey& key, bool is_change);
    void set_meter(const std::optional<Meter>& meter, bool is_change);
    void set_unit(Duration unit) { unit_ = unit; }
    void begin_section(std::string label);

    // A line of music; `begin` is where it stands in the source. Inline fields are given to `field`.
    template <class Field>
    void take_line(std::string_view line, std::size_t begin, Field field) {
        line_ = line;
        begin_ = begin;
        at_ = 0;
        while (at_ < line_.size() && !is_full()) {
            if (const auto found = take_inline_field()) {
                field(found->first, found->second);
            } else {
                take();
            }
        }
    }
    // More bars than a chart may have: no more are read.
    [[nodiscard]] bool is_full() const { return bars_.size() > static_cast<std::size_t>(kMostWrittenBars); }
    [[nodiscard]] std::vector<ScoreBar> finish();

  private:
    struct Event {
        std::optional<Pitch> pitch;  // nothing: a rest
        Duration length;
        bool is_tied_on = false;
        std::vector<PlacedChord> chords = {};  // written above it
    };
    using InlineField = std::pair<char, std::string_view>;

    std::optional<InlineField> take_inline_field();
    void take();
    bool take_bar_sign();
    bool take_ending();
    bool take_note();
    bool take_rest();
    bool take_unison();
    bool take_tuplet();
    bool take_broken_rhythm();
    bool take_quoted();
    bool take_decoration();
    void take_form_decoration(const FormSignRow& row);
    bool take_grace();
    std::optional<Pitch> take_pitch();
    Duration take_length();
    int take_number();
    void add_event(std::optional<Pitch> pitch, Duration length);
    void take_chord_symbol(std::string text, Span where);
    void close_bar();
    void push_whole_rests(int bars);
    void warning(std::size_t from, std::string message, std::string hint);
    [[nodiscard]] char peek(std::size_t ahead = 0) const {
        return at_ + ahead < line_.size() ? line_[at_ + ahead] : '\0';
    }

    const SourceText& source_;
    Diagnostics& diagnostics_;
    std::string_view line_;
    std::size_t begin_ = 0;
    std::size_t at_ = 0;

    std::array<int, 7> alters_ = {};
    std::array<std::optional<int>, 7> bar_alters_ =
        {};  // written in this bar, in every octave (section 11.3)
    std::optional<Meter> meter_;
    std::optional<Duration> unit_;
    std::vector<ScoreBar> bars_;
    ScoreBar next_;  // signs for the bar that is being read
    std::vector<Event> events_;
    std::vector<PlacedChord> chords_;  // for the next event
    Rational broken_{1};               // factor for the next note
    Rational tuplet_{1};               // factor of the running tuplet
    int tuplet_notes_ = 0;             // notes left in it
    bool ending_is_open_ = false;
    bool has_unread_ = false;  // said once
};

}  // namespace shedbook
