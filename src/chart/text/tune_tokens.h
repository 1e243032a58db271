// The words of a text chart: bar signs, section labels, headers, comments and what stands between bar lines.
// Nothing is judged here except what no reader could make sense of; the tune reader does the rest.
#pragma once

#include <string_view>
#include <vector>

#include "shedbook/base/source_text.h"

namespace shedbook {

enum class TokenKind { Header, Label, BarSign, Word, Comment, LineEnd };

// Any bar line: |  ||  |]  |:  :|  :|:  and what looks like them.
struct BarSignParts {
    bool repeat_end = false;
    bool repeat_start = false;
    bool is_double = false;  // || or |]
    bool is_final = false;   // |]
    bool is_malformed = false;
};

struct TuneToken {
    TokenKind kind = TokenKind::Word;
    Span span;              // all of it
    std::string_view text;  // a word as written; a label or comment without its marks; the text of a header
    std::string_view name = {};  // of a header
    BarSignParts sign = {};
    bool is_closed = true;  // a label has its ]
    bool is_first_in_line = false;
};

// The tokens point into `source`, which must outlive them. Every line ends with a LineEnd.
[[nodiscard]] std::vector<TuneToken> tune_tokens(const SourceText& source);

}  // namespace shedbook
