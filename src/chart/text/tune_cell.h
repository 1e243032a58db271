// What stands between two bar lines of a text chart, word by word, until the closing line makes a bar of it
// (or two, for a two-bar repeat sign).
#pragma once

#include <optional>
#include <span>
#include <string>
#include <vector>

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"
#include "tune_tokens.h"

namespace shedbook {

class TuneCell {
  public:
    TuneCell(const SourceText& source, Diagnostics& diagnostics, Meter meter);

    // Takes the first of the words, and those after it that belong to it ("D.C. al Fine"); returns how many.
    // The words are the ones up to the next sign or line end.
    std::size_t take(std::span<const TuneToken> words);

    [[nodiscard]] bool is_empty() const { return is_empty_; }
    // Chords, slashes or a repeat sign: what makes it a bar and not just signs at a bar line.
    [[nodiscard]] bool has_music() const {
        return !items_.empty() || bar_.simile > 0 || is_pickup_ || length_;
    }
    [[nodiscard]] const Bar& signs() const { return bar_; }
    [[nodiscard]] bool closes_bracket() const { return closes_bracket_; }
    [[nodiscard]] bool is_pickup() const { return is_pickup_; }
    // A word in it was not understood and may have been meant for a sign of the form.
    [[nodiscard]] bool may_miss_a_sign() const { return may_miss_a_sign_; }
    [[nodiscard]] Span where() const { return bar_.where; }
    // Once it is finished: fewer chords than beats, no slash, and so the last one has the beats that are
    // left: "three chords in four beats". Empty where each has its share.
    [[nodiscard]] const std::string& uneven() const { return uneven_; }
    // The bars, their chords laid out; faults of the layout are reported.
    [[nodiscard]] std::vector<Bar> finish();

  private:
    struct Item {
        PlacedChord chord;
        bool is_slash = false;
        bool has_place = false;
    };
    struct Decoration {
        bool is_optional = false;
        bool is_pushed = false;
        std::optional<Position> place = {};
    };

    bool take_sign(std::span<const TuneToken> words, std::size_t& used);
    bool take_setting(std::span<const TuneToken> words, std::size_t& used);
    void take_slashes(Span span);
    void take_chord(Span span, Decoration decoration);
    void take_in_brackets(Span span, Decoration decoration);
    void take_symbol(Span span, std::optional<Span> scale, const Decoration& decoration);
    void set_scale(PlacedChord& chord, Span name);
    void lay_out_slots();
    [[nodiscard]] std::string broken_in_two(Span end) const;
    void fault(Span span, std::string message, std::string hint, std::vector<Mending> mendings = {});
    [[nodiscard]] std::string_view text(Span span) const;

    const SourceText* source_;
    Diagnostics* diagnostics_;
    Meter meter_;
    Bar bar_;
    std::vector<Item> items_;
    std::optional<Duration> length_;
    bool is_pickup_ = false;
    bool closes_bracket_ = false;
    bool is_empty_ = true;
    bool is_bad_ = false;
    bool may_miss_a_sign_ = false;
    std::string uneven_;
};

}  // namespace shedbook
