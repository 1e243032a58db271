#include "ask.h"

#include <limits>

#include "json.h"
#include "shedbook/base/source_text.h"
#include "shedbook/job/caller.h"

namespace shedbook {
namespace {

[[noreturn]] void malformed(const std::string& name, const std::string& what) {
    throw Refusal(400, "'" + name + "' is no " + what + " in what was sent");
}

}  // namespace

std::string Ask::word(const std::string& name) const {
    const auto found = query.find(name);
    return found == query.end() ? "" : found->second;
}

int Ask::number(const std::string& name, int usual) const {
    const std::string text = word(name);
    if (text.empty()) return usual;
    constexpr std::size_t kMostDigits = 6;
    int out = 0;
    for (const char c : text) {
        if (c < '0' || c > '9' || text.size() > kMostDigits)
            throw UsageError("'" + name + "' takes a whole number");
        out = 10 * out + (c - '0');
    }
    return out;
}

Answer answered(Data::Object object, int status) {
    return {status, "application/json", write_json(as_data(std::move(object))) + "\n"};
}

Answer refused(int status, const std::string& words, Data::Object more) {
    Data::Object out{{"error", as_data(words)}};
    for (auto& member : more) out.push_back(std::move(member));
    return answered(std::move(out), status);
}

Body::Body(const Ask& ask) {
    Diagnostics diagnostics;
    std::optional<Data> read = read_json(SourceText{"what was sent", ask.body}, diagnostics);
    if (!read || diagnostics.has_errors() || read->as_object() == nullptr)
        throw Refusal(400, "what was sent is no JSON object", {{"slips", as_data(slips_of(diagnostics))}});
    data_ = *std::move(read);
}

const Data* Body::find(const std::string& name) const {
    const Data* found = data_.find(name);
    return found == nullptr || found->is_null() ? nullptr : found;
}

bool Body::has(const std::string& name) const {
    return find(name) != nullptr;
}

std::string Body::text(const std::string& name) const {
    const Data* found = find(name);
    if (found == nullptr) return {};
    const std::optional<std::string> out = found->as_string();
    if (!out) malformed(name, "text");
    return *out;
}

int Body::number(const std::string& name, int usual) const {
    const Data* found = find(name);
    if (found == nullptr) return usual;
    const std::optional<std::int64_t> out = found->as_int();
    constexpr std::int64_t kMost = 1'000'000'000;
    if (!out || *out < -kMost || *out > kMost) malformed(name, "whole number");
    return static_cast<int>(*out);
}

bool Body::flag(const std::string& name, bool usual) const {
    const Data* found = find(name);
    if (found == nullptr) return usual;
    const std::optional<bool> out = found->as_bool();
    if (!out) malformed(name, "true or false");
    return *out;
}

std::vector<std::string> Body::texts(const std::string& name) const {
    const Data* found = find(name);
    if (found == nullptr) return {};
    const Data::Array* list = found->as_array();
    if (list == nullptr) malformed(name, "list");
    std::vector<std::string> out;
    for (const Data& each : *list) {
        const std::optional<std::string> text = each.as_string();
        if (!text) malformed(name, "list of texts");
        out.push_back(*text);
    }
    return out;
}

}  // namespace shedbook
