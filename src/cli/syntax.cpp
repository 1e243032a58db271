#include "syntax.h"

#include <charconv>
#include <utility>

#include "shedbook/job/caller.h"

namespace shedbook {

std::int64_t whole_number(const std::string& text) {
    std::int64_t out = 0;
    const char* end = text.data() + text.size();
    const auto [stopped, error] = std::from_chars(text.data(), end, out);
    if (error != std::errc{} || stopped != end || text.empty())
        throw UsageError("takes a whole number, not '" + text + "'");
    return out;
}

namespace {

void check_within(const std::string& text, std::int64_t low, std::int64_t high) {
    const std::int64_t number = whole_number(text);
    if (number >= low && number <= high) return;
    throw UsageError("takes a whole number from " + std::to_string(low) +
                     (high == INT32_MAX ? " up" : " to " + std::to_string(high)) + ", not " + text);
}

}  // namespace

SyntaxOption SyntaxOption::required() const {
    row().is_required = true;
    return *this;
}

SyntaxOption SyntaxOption::with_commas() const {
    row().with_commas = true;
    return *this;
}

SyntaxOption SyntaxOption::positive() const {
    return between(1, INT32_MAX);
}

SyntaxOption SyntaxOption::between(int low, int high) const {
    return checked([=](const std::string& text) { check_within(text, low, high); });
}

SyntaxOption SyntaxOption::in_group(const std::string& heading) const {
    row().group = heading;
    return *this;
}

SyntaxOption SyntaxOption::takes(const std::string& placeholder) const {
    row().value = placeholder;
    return *this;
}

SyntaxOption SyntaxOption::reads_file() const {
    row().file = SyntaxRow::File::Read;
    return row().is_argument() ? *this : takes("FILE");
}

SyntaxOption SyntaxOption::writes_file() const {
    row().file = SyntaxRow::File::Written;
    return takes("FILE");
}

SyntaxOption SyntaxOption::checked(std::function<void(const std::string&)> check) const {
    row().checks.push_back(std::move(check));
    return *this;
}

SyntaxOption SyntaxOption::offers(std::function<Words()> words) const {
    row().words = std::move(words);
    return *this;
}

SyntaxOption SyntaxOption::goes_on_with(std::function<bool(const std::string&)> is_more) const {
    row().goes_on = std::move(is_more);
    return *this;
}

SyntaxOption Syntax::add(SyntaxRow row, const std::string& names) {
    const std::size_t comma = names.find(',');
    if (comma != std::string::npos) row.short_name = names.substr(0, comma);
    row.name = comma == std::string::npos ? names : names.substr(comma + 1);
    if (row.group.empty()) row.group = group_;
    command_->rows.push_back(std::move(row));
    return {&command_->rows, command_->rows.size() - 1};
}

SyntaxOption Syntax::add_option(const std::string& name, std::string& value, const std::string& about) {
    return add({.value = "WORD", .about = about, .set = [&value](const std::string& text) { value = text; }},
               name);
}

SyntaxOption Syntax::add_option(const std::string& name, Words& values, const std::string& about) {
    return add({.value = "WORDS",
                .about = about,
                .is_list = true,
                .set = [&values](const std::string& text) { values.push_back(text); }},
               name);
}

SyntaxOption Syntax::add_option(const std::string& name, int& value, const std::string& about) {
    const auto set = [&value](const std::string& text) {
        check_within(text, INT32_MIN, INT32_MAX);
        value = static_cast<int>(whole_number(text));
    };
    return add({.value = "NUMBER", .about = about, .set = set}, name);
}

SyntaxOption Syntax::add_option(const std::string& name, std::uint64_t& value, const std::string& about) {
    const auto set = [&value](const std::string& text) {
        const char* end = text.data() + text.size();
        const auto [stopped, error] = std::from_chars(text.data(), end, value);
        if (error != std::errc{} || stopped != end)
            throw UsageError("takes a whole number from 0 up, not '" + text + "'");
    };
    return add({.value = "NUMBER", .about = about, .set = set}, name);
}

Syntax Syntax::add_command(const std::string& name, const std::string& about, const std::string& footer) {
    return Syntax{command_->commands.emplace_back(
        CommandRows{command_->name + " " + name, about, footer, command_->group})};
}

void Syntax::add_flag(const std::string& name, bool& value, const std::string& about) {
    add({.about = about, .set = [&value](const std::string&) { value = true; }}, name);
}

void Syntax::add_answer(const std::string& name, std::function<void()> answer, const std::string& about) {
    add({.about = about,
         .set = [answer = std::move(answer)](const std::string&) { answer(); },
         .is_answer = true},
        name);
}

}  // namespace shedbook
