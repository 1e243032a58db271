// The lines above the music: "Title: ...", "Key: Bb".
#pragma once

#include "shedbook/base/diagnostics.h"
#include "shedbook/chart/chart.h"
#include "tune_tokens.h"

namespace shedbook {

enum class HeaderKind { Title, Composer, Key, Meter, Tempo, Feel, WrittenFor, Other };

[[nodiscard]] HeaderKind header_kind(std::string_view name);

// Sets what the header says in the chart; faults are reported, a name that is not known is kept with a
// warning.
void take_header(const TuneToken& header, const SourceText& source, Chart& chart, Diagnostics& diagnostics);

// Whether a line of this name and text is read back as a header that is kept.
[[nodiscard]] bool is_kept_header(std::string_view name, std::string_view value);

// The text of a header whose value is a word or two: without a comment behind it.
[[nodiscard]] std::string_view header_value(const TuneToken& header);
// Where that text stands.
[[nodiscard]] Span value_span(const TuneToken& header, const SourceText& source);

}  // namespace shedbook
