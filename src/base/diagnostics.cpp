#include "shedbook/base/diagnostics.h"

#include <algorithm>
#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// A line longer than this is shown from a little before the fault, so that the caret stays in sight.
constexpr std::size_t kLongestLine = 400;

std::string caret_run(std::string_view before, std::string_view marked) {
    std::string out;
    for (std::size_t i = 0; i < before.size(); i += character_length(before, i)) {
        out += before[i] == '\t' ? '\t' : ' ';
    }
    out.append(std::max<std::size_t>(1, count_characters(marked)), '^');
    return out;
}

}  // namespace

bool Diagnostics::makes_room(Severity severity, const std::string& where) {
    if (severity == Severity::Note) return true;
    const bool was_full = is_full();
    std::size_t& count = severity == Severity::Error ? errors_ : warnings_;
    ++count;
    if (was_full || count > kMostMessages + 1) return false;
    if (count <= kMostMessages) return true;
    const bool is_error = severity == Severity::Error;
    all_.push_back(
        {severity,
         where,
         is_error ? "too many faults; the rest is not shown" : "too many warnings; the rest is not shown",
         is_error ? "mend these first" : "",
         {},
         {}});
    return false;
}

void Diagnostics::add(Severity severity, const SourceText& source, Span span, std::string message,
                      std::string hint, std::vector<Mending> mendings) {
    if (!makes_room(severity, source.name)) return;
    span.begin = std::min(span.begin, source.text.size());
    const Place place = source.place_of(span.begin);
    std::string_view line = source.line_at(span.begin);
    const std::size_t at = std::min(span.begin - source.line_begin(span.begin), line.size());
    std::size_t skipped = 0;
    if (line.size() > kLongestLine) {
        skipped = at > kLongestLine / 2 ? at - kLongestLine / 2 : 0;
        // Not into the middle of a character, which has at most three bytes after its first.
        for (int back = 0;
             back < 3 && skipped > 0 && (static_cast<unsigned char>(line[skipped]) & 0xC0U) == 0x80U;
             ++back) {
            --skipped;
        }
        line = line.substr(skipped, kLongestLine);
    }
    const std::size_t shown_at = at - skipped;
    const std::size_t length = span.end > span.begin ? span.end - span.begin : 0;
    all_.push_back({severity,
                    source.name + ":" + std::to_string(place.line) + ":" + std::to_string(place.column),
                    std::move(message), std::move(hint), std::string{line},
                    caret_run(line.substr(0, shown_at), line.substr(shown_at, length)),
                    Span{span.begin, std::min(std::max(span.begin, span.end), source.text.size())},
                    std::move(mendings)});
}

void Diagnostics::error(const SourceText& source, Span span, std::string message, std::string hint,
                        std::vector<Mending> mendings) {
    add(Severity::Error, source, span, std::move(message), std::move(hint), std::move(mendings));
}

void Diagnostics::warning(const SourceText& source, Span span, std::string message, std::string hint) {
    add(Severity::Warning, source, span, std::move(message), std::move(hint), {});
}

void Diagnostics::add_at(Severity severity, std::string where, std::string message, std::string hint) {
    if (!makes_room(severity, where)) return;
    all_.push_back({severity, std::move(where), std::move(message), std::move(hint), {}, {}});
}

void Diagnostics::error_at(std::string where, std::string message, std::string hint) {
    add_at(Severity::Error, std::move(where), std::move(message), std::move(hint));
}

void Diagnostics::warning_at(std::string where, std::string message, std::string hint) {
    add_at(Severity::Warning, std::move(where), std::move(message), std::move(hint));
}

void Diagnostics::note_at(std::string where, std::string message, std::string hint) {
    add_at(Severity::Note, std::move(where), std::move(message), std::move(hint));
}

std::string render(const Diagnostic& diagnostic) {
    static constexpr const char* kWords[] = {"error", "warning", "note"};
    std::string out = printable(diagnostic.where) + ": " + kWords[static_cast<int>(diagnostic.severity)] +
                      ": " + printable(diagnostic.message) + "\n";
    if (!diagnostic.line.empty()) {
        out += "    " + printable(diagnostic.line) + "\n    " + diagnostic.marker + "\n";
    }
    if (!diagnostic.hint.empty()) out += "    " + printable(diagnostic.hint) + "\n";
    return out;
}

}  // namespace shedbook
