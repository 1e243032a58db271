// What is wrong with the input, collected so that one run shows every fault. A reader reports here and goes
// on.
//
//     Diagnostics diagnostics;
//     diagnostics.error(source, span, "no chord is called 'Gx7'", "did you mean 'G7'?");
//     diagnostics.has_errors();                  // true
#pragma once

#include <cstddef>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "shedbook/base/source_text.h"

namespace shedbook {

// After so many errors, or warnings, of one input the rest is noise.
inline constexpr std::size_t kMostMessages = 100;

enum class Severity { Error, Warning, Note };

// What could be written in place of a stretch of the text.
struct Mending {
    Span where;
    std::string text;
    friend bool operator==(const Mending&, const Mending&) = default;
};

// A message that is complete in itself: the place is resolved and the line copied when it is made, so a
// Diagnostic outlives the source it speaks of.
struct Diagnostic {
    Severity severity = Severity::Error;
    std::string where;              // "waltz.tune:3:9", or "song.mxl: part P1, bar 12" for what has no lines
    std::string message;            // what is wrong, and what was expected
    std::string hint;               // the nearest valid spelling or what to do; may be empty
    std::string line;               // the line in question; empty where there is none
    std::string marker;             // caret run under it, tabs kept
    std::optional<Span> span = {};  // bytes of the source; nothing for what has no lines
    std::vector<Mending> mendings = {};  // the hint as something that can be done; may be empty
};

class Diagnostics {
  public:
    void error(const SourceText& source, Span span, std::string message, std::string hint = {},
               std::vector<Mending> mendings = {});
    void warning(const SourceText& source, Span span, std::string message, std::string hint = {});
    // For documents whose places are not lines (MusicXML: part, bar, symbol).
    void error_at(std::string where, std::string message, std::string hint = {});
    void warning_at(std::string where, std::string message, std::string hint = {});
    void note_at(std::string where, std::string message, std::string hint = {});

    [[nodiscard]] bool has_errors() const { return errors_ > 0; }
    // Those that are not shown included: a reader that takes the count before and after knows of its own.
    [[nodiscard]] std::size_t error_count() const { return errors_; }
    // So many errors that nothing more is shown: a reader that still goes on may stop.
    [[nodiscard]] bool is_full() const { return errors_ > kMostMessages; }
    [[nodiscard]] const std::vector<Diagnostic>& all() const { return all_; }

  private:
    void add(Severity severity, const SourceText& source, Span span, std::string message, std::string hint,
             std::vector<Mending> mendings);
    void add_at(Severity severity, std::string where, std::string message, std::string hint);
    // Counts a message that comes; false if no room is left for it, and said so once.
    bool makes_room(Severity severity, const std::string& where);

    std::vector<Diagnostic> all_;
    std::size_t errors_ = 0;
    std::size_t warnings_ = 0;
};

// "waltz.tune:3:9: error: message", the line, the caret, the hint; ends with a line end. What the input says
// is made fit for a terminal.
[[nodiscard]] std::string render(const Diagnostic& diagnostic);

}  // namespace shedbook
