// The parser itself: one pass from left to right, one function for each kind of word. It fills a Draft and
// remembers what it read last, since a number or a sign means different things behind a root, a number or a
// comma.
#pragma once

#include <algorithm>

#include "chord_symbol_draft.h"
#include "chord_symbol_parser.h"
#include "chord_symbol_tokens.h"

namespace shedbook {

// What was read last: it decides what a number or a sign after it means.
enum class Last {
    Name,        // root or quality word: a number now belongs to the name
    Number,      // the number of the name, or of a suspension
    Suspension,  // "sus" without a number of its own
    Change,      // an altered tone, or a tension
    Added,       // after add or no
    Separator,   // comma or slash
    Open,
    Close,
};

class SymbolParser {
  public:
    SymbolParser(const PlainText& text, std::size_t begin, Failure& failure)
        : text_{text}, failure_{failure}, begin_{begin} {}

    std::optional<ChordSymbol> run();

  private:
    bool root();
    bool body();
    bool item();
    bool complete();

    bool quality(Quality quality, std::string_view name);
    bool dominant();
    bool power();
    bool major();
    bool late_major(SymbolToken word, bool with_seven);
    bool dash();
    bool plus();
    bool augmented();
    bool raise_fifth(SymbolToken word);
    bool diminished();
    bool suspended();
    bool suspension_number();
    bool suspension_tone(SymbolToken token);
    bool altered();

    bool number();
    [[nodiscard]] bool may_come_first(int number) const;
    bool first_number(SymbolToken token);
    bool further_number(SymbolToken token);
    bool number_after_suspension(SymbolToken token);
    bool tension(SymbolToken token);
    bool sign_behind_number(SymbolToken token);

    bool accidental();
    bool change(int number, int alter, SymbolToken first);
    bool changed_seventh(int alter, SymbolToken first);
    bool add();
    bool add_major_seventh(SymbolToken word);
    bool add_tone(int number, int alter, SymbolToken first);
    bool omit();
    bool omit_number(SymbolToken token);

    bool open();
    bool close();
    bool comma();
    bool slash();
    bool bass();

    // The current token, and the next one.
    SymbolToken take() {
        const SymbolToken out = token_;
        token_ = token_at(text_, token_.end);
        return out;
    }
    [[nodiscard]] SymbolToken after() const { return token_at(text_, token_.end); }
    // Where the token before the current one ended.
    [[nodiscard]] std::size_t end_of_last() const {
        return token_.blank_before ? token_.begin - 1 : token_.begin;
    }
    // "add(9,11)", "no(3,5)"
    [[nodiscard]] bool opens_list() const { return token_.word == Word::Open && bracket_ == '\0'; }
    // A number that follows a sign without a blank.
    [[nodiscard]] bool number_follows() const {
        const SymbolToken next = after();
        return next.word == Word::Number && !next.blank_before;
    }

    bool refused(Slip slip, std::size_t begin, std::size_t end, std::string_view first = {},
                 std::string_view second = {}, int number = 0) {
        failure_ = {slip, text_.origin[begin], text_.origin[end], first, second, number};
        return false;
    }
    bool refused(Slip slip, const SymbolToken& token, std::string_view first = {},
                 std::string_view second = {}) {
        return refused(slip, token.begin, std::max(token.end, token.begin), first, second, token.number);
    }
    bool unknown(const SymbolToken& token);
    // Where another chord begins at a token or behind the signs there; nothing if none does.
    [[nodiscard]] std::optional<std::size_t> second_chord(const SymbolToken& token) const;
    // The word for what the chord is already, where another quality cannot join it.
    [[nodiscard]] std::string_view said() const;

    const PlainText& text_;
    Failure& failure_;
    std::size_t begin_;
    SymbolToken token_;
    PitchClass root_;
    std::optional<PitchClass> bass_;
    Draft draft_;
    Last last_ = Last::Name;
    char bracket_ = '\0';       // the kind of bracket that is open
    std::size_t opened_ = 0;    // where
    Word list_ = Word::End;     // Add or Omit: further plain numbers of the list are added or left out too
    bool major_waits_ = false;  // "maj" over a chord that is not major must be followed by its number
    SymbolToken major_word_;
};

}  // namespace shedbook
