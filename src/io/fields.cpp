#include "shedbook/io/fields.h"

#include <algorithm>

#include "shedbook/base/text.h"

namespace shedbook {

const Data* Fields::find(std::string_view key) {
    if (std::ranges::find(asked_, key) == asked_.end()) asked_.emplace_back(key);
    return entry_.find(key);
}

const Data* Fields::need(std::string_view key) {
    const Data* member = find(key);
    if (member == nullptr) fail(entry_.where, "this " + what_ + " has no '" + std::string{key} + "'");
    return member;
}

std::string Fields::text(std::string_view key) {
    const Data* member = need(key);
    if (member == nullptr) return {};
    std::optional<std::string> out = member->as_string();
    if (!out || out->empty()) fail(member->where, "'" + std::string{key} + "' must be a text");
    return out.value_or("");
}

std::string Fields::text(std::string_view key, std::string_view if_absent) {
    return find(key) == nullptr ? std::string{if_absent} : text(key);
}

int Fields::number(std::string_view key, int low, int high) {
    const Data* member = need(key);
    if (member == nullptr) return low;
    const std::optional<std::int64_t> out = member->as_int();
    if (!out || *out < low || *out > high) {
        fail(member->where, "'" + std::string{key} + "' must be a number from " + std::to_string(low) +
                                " to " + std::to_string(high));
        return low;
    }
    return static_cast<int>(*out);
}

int Fields::number(std::string_view key, int low, int high, int if_absent) {
    return find(key) == nullptr ? if_absent : number(key, low, high);
}

bool Fields::flag(std::string_view key, bool if_absent) {
    const Data* member = find(key);
    if (member == nullptr) return if_absent;
    const std::optional<bool> out = member->as_bool();
    if (!out) fail(member->where, "'" + std::string{key} + "' must be true or false");
    return out.value_or(if_absent);
}

std::vector<std::string> Fields::texts(std::string_view key) {
    const Data* member = find(key);
    std::vector<std::string> out;
    if (member == nullptr) return out;
    if (const std::optional<std::string> one = member->as_string()) return {*one};
    const Data::Array* list = member->as_array();
    for (const Data& item : list != nullptr ? *list : Data::Array{}) {
        const std::optional<std::string> text = item.as_string();
        if (!text) fail(item.where, "'" + std::string{key} + "' must be a list of texts");
        out.push_back(text.value_or(""));
    }
    if (list == nullptr) fail(member->where, "'" + std::string{key} + "' must be a list of texts");
    return out;
}

std::optional<std::string> Fields::one_of(std::string_view key, const std::vector<std::string>& words) {
    const Data* member = find(key);
    if (member == nullptr) return std::nullopt;
    std::string text = lower_case(member->as_string().value_or(""));
    const auto known =
        std::ranges::find_if(words, [&](const std::string& word) { return lower_case(word) == text; });
    if (known != words.end()) return *known;
    const std::string near = nearest(text, words);
    fail(member->where, "'" + std::string{key} + "' must be one of: " + join(words, ", "),
         near.empty() ? "" : "did you mean '" + near + "'?");
    return std::nullopt;
}

bool Fields::either(std::string_view key, const std::string& no, const std::string& yes, bool if_absent) {
    const std::optional<std::string> found = one_of(key, {no, yes});
    return found ? *found == yes : if_absent;
}

void Fields::fail(Span where, std::string message, std::string hint) {
    diagnostics_.error(source_, where, std::move(message), std::move(hint));
    failed_ = true;
}

void Fields::fail_unknown(Span where, const std::string& what, const std::string& typed,
                          const std::vector<std::string>& known, const std::string& what_there_is) {
    const std::string near = nearest(slug(typed), known);
    const std::string message = "no " + what + " is called '" + typed + "'";
    if (near.empty()) return fail(where, message, what_there_is);
    diagnostics_.error(source_, where, message, "did you mean '" + near + "'?", {{where, near}});
    failed_ = true;
}

void Fields::allow_only(const std::vector<std::string>& known) {
    const std::string article =
        std::string_view{"aeiou"}.find(what_.front()) == std::string_view::npos ? "a " : "an ";
    const Data::Object* members = entry_.as_object();
    if (members == nullptr)
        return fail(entry_.where, article + what_ + " is a table, written [[" + what_ + "]]");
    for (const auto& [name, value] : *members) {
        if (std::ranges::find(known, name) != known.end()) continue;
        const std::string near = nearest(name, known);
        fail(value.where, article + what_ + " has no field '" + name + "'",
             near.empty() ? "fields: " + join(known, ", ") : "did you mean '" + near + "'?");
    }
}

bool Fields::finish() {
    allow_only(asked_);
    return !failed_;
}

const Data::Array& entries_of(const Data& data, std::string_view name, const SourceText& source,
                              Diagnostics& diagnostics) {
    static const Data::Array kNone;
    const Data* list = data.find(name);
    if (list != nullptr && list->as_array() != nullptr) return *list->as_array();
    diagnostics.error(source, {}, "no [[" + std::string{name} + "]] entry in this file");
    return kNone;
}

}  // namespace shedbook
