#include "tune_tokens.h"

#include <algorithm>
#include <array>
#include <string>
#include <utility>

#include "shedbook/base/text.h"

namespace shedbook {
namespace {

constexpr std::string_view kByteOrderMark = "\xEF\xBB\xBF";
constexpr std::size_t kLongestHeaderName = 30;

// Characters that people paste instead of the plain signs: box drawing, full-width, mathematical and musical
// ones.
constexpr std::array<std::pair<std::string_view, std::string_view>, 15> kBarCharacters{{
    {"\u2502", "|"},
    {"\u2503", "|"},
    {"\u2758", "|"},
    {"\uFF5C", "|"},
    {"\u00A6", "|"},
    {"\u2223", "|"},
    {"\u23AE", "|"},
    {"\u2551", "||"},
    {"\u2016", "||"},
    {"\U0001D100", "|"},
    {"\U0001D101", "||"},
    {"\U0001D102", "|]"},
    {"\U0001D103", "||"},
    {"\U0001D106", "|:"},
    {"\U0001D107", ":|"},
}};

// Length of a blank character at `at`, 0 if there is none: space, tab, carriage return, no-break space.
std::size_t blank_at(std::string_view line, std::size_t at) {
    const char c = line[at];
    if (c == ' ' || c == '\t' || c == '\r') return 1;
    return line.substr(at).starts_with("\u00A0") ? 2 : 0;
}

class LineLexer {
  public:
    LineLexer(std::string_view line, std::size_t begin, std::vector<TuneToken>& out)
        : line_{line}, begin_{begin}, out_{out}, first_{out.size()} {}

    void run() {
        skip_blanks();
        if (!take_header()) {
            while (at_ < line_.size()) {
                take_one();
                skip_blanks();
            }
        }
        if (out_.size() > first_) out_[first_].is_first_in_line = true;
        add(TokenKind::LineEnd, line_.size(), line_.size());
    }

  private:
    [[nodiscard]] char peek(std::size_t ahead = 0) const {
        return at_ + ahead < line_.size() ? line_[at_ + ahead] : '\0';
    }

    void skip_blanks() {
        while (at_ < line_.size()) {
            const std::size_t length = blank_at(line_, at_);
            if (length == 0) return;
            at_ += length;
        }
    }

    TuneToken& add(TokenKind kind, std::size_t from, std::size_t to) {
        TuneToken token;
        token.kind = kind;
        token.span = {begin_ + from, begin_ + to};
        token.text = line_.substr(from, to - from);
        out_.push_back(token);
        return out_.back();
    }

    // "Name: text", where the name is plain words and the colon belongs to no repeat sign.
    bool take_header() {
        const std::size_t colon = line_.find(':', at_);
        if (colon == std::string_view::npos || colon == at_ || colon - at_ > kLongestHeaderName) return false;
        const std::string_view name = trimmed(line_.substr(at_, colon - at_));
        const bool plain = std::ranges::all_of(name, [](char c) {
            return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || c == ' ' || c == '-';
        });
        if (!plain || name.empty() || name.front() == '-') return false;
        const std::string_view after = line_.substr(colon + 1);
        if (after.starts_with('|') || after.starts_with(':') || bar_character(colon + 1) != nullptr)
            return false;
        TuneToken& token = add(TokenKind::Header, at_, line_.size());
        token.name = name;
        token.text = trimmed(after);
        return true;
    }

    void take_one() {
        if (peek() == ';') {
            const std::size_t from = at_;
            at_ = line_.size();
            add(TokenKind::Comment, from, at_).text = trimmed(line_.substr(from + 1));
        } else if (starts_bar_sign()) {
            take_bar_sign();
        } else if (peek() == '[') {
            take_label();
        } else {
            take_word();
        }
    }

    [[nodiscard]] const std::pair<std::string_view, std::string_view>* bar_character(std::size_t at) const {
        if (at >= line_.size() || static_cast<unsigned char>(line_[at]) < 0x80U) return nullptr;
        for (const auto& row : kBarCharacters) {
            if (line_.substr(at).starts_with(row.first)) return &row;
        }
        return nullptr;
    }

    [[nodiscard]] bool starts_bar_sign() const {
        if (peek() == '|' || bar_character(at_) != nullptr) return true;
        const bool bar_next = peek(1) == '|' || bar_character(at_ + 1) != nullptr;
        return (peek() == ':' && (bar_next || peek(1) == ':')) || (peek() == '[' && bar_next);
    }

    void take_bar_sign() {
        const std::size_t from = at_;
        std::string shape;
        if (peek() == '[') ++at_;  // thick and thin: how some begin a repeat
        while (at_ < line_.size()) {
            if (const auto* row = bar_character(at_)) {
                shape += row->second;
                at_ += row->first.size();
            } else if (peek() == '|' || peek() == ':' || (peek() == ']' && shape.ends_with('|'))) {
                shape += peek();
                ++at_;
            } else {
                break;
            }
        }
        add(TokenKind::BarSign, from, at_).sign = parts_of(shape);
    }

    static BarSignParts parts_of(std::string_view shape) {
        BarSignParts out;
        out.repeat_end = shape.starts_with(':');
        out.repeat_start = shape.ends_with(':');
        const std::size_t first = shape.find_first_not_of(':');
        if (first == std::string_view::npos) return out;  // "::"
        std::string_view middle = shape.substr(first, shape.find_last_not_of(':') + 1 - first);
        out.is_final = middle.ends_with(']');
        if (out.is_final) middle.remove_suffix(1);
        out.is_malformed = middle.find_first_not_of('|') != std::string_view::npos;
        out.is_double = out.is_final || middle.size() > 1;
        return out;
    }

    void take_label() {
        const std::size_t from = at_;
        const std::size_t close = line_.find(']', at_);
        at_ = close == std::string_view::npos ? line_.size() : close + 1;
        TuneToken& token = add(TokenKind::Label, from, at_);
        token.is_closed = close != std::string_view::npos;
        token.text = trimmed(line_.substr(from + 1, at_ - from - (token.is_closed ? 2 : 1)));
    }

    // To the next blank, comment or bar sign; blanks within brackets belong to the word.
    void take_word() {
        const std::size_t from = at_;
        const bool in_brackets = peek() == '(';
        int depth = 0;
        bool in_scale = false;
        while (at_ < line_.size() && peek() != ';' && !starts_bar_sign_in_word()) {
            const std::size_t blank = blank_at(line_, at_);
            if (blank > 0 && depth == 0 && !in_scale) break;
            if (peek() == ']' && !in_scale) {
                if (at_ == from) ++at_;  // a lone ] is a word: the bracket of an ending closes
                break;
            }
            in_scale = peek() == '[' || (in_scale && peek() != ']');
            if (peek() == '(') ++depth;
            if (peek() == ')' && depth > 0) --depth;
            at_ += blank > 0 ? blank : 1;
            if (in_brackets && depth == 0) break;
        }
        if (at_ == from) ++at_;
        while (at_ > from + 1 && blank_at(line_, at_ - 1) > 0)
            --at_;  // what an unclosed bracket has swallowed
        add(TokenKind::Word, from, at_);
    }

    [[nodiscard]] bool starts_bar_sign_in_word() const { return peek() != '[' && starts_bar_sign(); }

    std::string_view line_;
    std::size_t begin_;
    std::vector<TuneToken>& out_;
    std::size_t first_;
    std::size_t at_ = 0;
};

}  // namespace

std::vector<TuneToken> tune_tokens(const SourceText& source) {
    std::vector<TuneToken> out;
    const std::string_view text = source.text;
    std::size_t at = text.starts_with(kByteOrderMark) ? kByteOrderMark.size() : 0;
    while (at < text.size()) {
        std::size_t end = text.find('\n', at);
        if (end == std::string_view::npos) end = text.size();
        LineLexer{text.substr(at, end - at), at, out}.run();
        at = end + 1;
    }
    return out;
}

}  // namespace shedbook
