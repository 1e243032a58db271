#include <algorithm>
#include <cstddef>
#include <iterator>
#include <nlohmann/json.hpp>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include "shedbook/io/data.h"

namespace shedbook {
namespace {

using Json = nlohmann::ordered_json;

// Deeper nesting than any chart has; bounds the stack of whoever walks the tree.
constexpr std::size_t kDeepest = 64;

// Walks the text and tells how far the parser has come: the library itself keeps no places of values.
class CountingIterator {
  public:
    using iterator_category = std::input_iterator_tag;
    using value_type = char;
    using difference_type = std::ptrdiff_t;
    using pointer = const char*;
    using reference = const char&;

    CountingIterator(const char* at, const char** furthest) : at_{at}, furthest_{furthest} {}
    reference operator*() const { return *at_; }
    CountingIterator& operator++() {
        ++at_;
        *furthest_ = at_;
        return *this;
    }
    CountingIterator operator++(int) {
        CountingIterator before = *this;
        ++*this;
        return before;
    }
    bool operator==(const CountingIterator& other) const { return at_ == other.at_; }
    bool operator!=(const CountingIterator& other) const { return at_ != other.at_; }

  private:
    const char* at_;
    const char** furthest_;
};

// Builds the tree from the parser's events. A value's span ends where the parser stands and begins as far
// back as its own text is long: exact for strings and words, within a character for numbers.
class TreeBuilder : public nlohmann::json_sax<Json> {
  public:
    TreeBuilder(const SourceText& source, const char* const* furthest, Diagnostics& diagnostics)
        : source_{source}, furthest_{furthest}, diagnostics_{diagnostics} {}

    bool null() override { return put(nullptr, 4); }
    bool boolean(bool truth) override { return put(truth, truth ? 4 : 5); }
    bool number_integer(number_integer_t number) override { return put(std::int64_t{number}, 1); }
    bool number_unsigned(number_unsigned_t number) override {
        if (number > static_cast<number_unsigned_t>(INT64_MAX)) return put(static_cast<double>(number), 1);
        return put(static_cast<std::int64_t>(number), 1);
    }
    bool number_float(number_float_t number, const string_t& text) override {
        return put(number, text.size());
    }
    bool string(string_t& text) override {
        const std::size_t size = text.size() + 2;
        return put(std::move(text), size);
    }
    bool binary(binary_t& /*never in a text*/) override { return false; }
    bool start_object(std::size_t /*unknown*/) override { return open(Data::Object{}); }
    // Which of two members of one name counts is not defined (RFC 8259, section 4), so neither is taken.
    bool key(string_t& name) override {
        if (!names_.back().insert(name).second) {
            const std::size_t end = place();
            diagnostics_.error(source_, {end - std::min(end, name.size() + 2), end},
                               "'" + name + "' is given twice in one object", "keep one of the two");
            has_doubled = true;
        }
        keys_.back() = std::move(name);
        return true;
    }
    bool end_object() override { return close(); }
    bool start_array(std::size_t /*unknown*/) override { return open(Data::Array{}); }
    bool end_array() override { return close(); }
    bool parse_error(std::size_t position, const std::string& token,
                     const nlohmann::detail::exception& /*says less*/) override {
        const std::size_t at = position > 0 ? position - 1 : 0;
        diagnostics_.error(source_, {at, at + 1}, "this is no JSON from here on",
                           token.empty() ? "the text ends too early" : "stopped at '" + token + "'");
        return false;
    }

    Data root;
    bool has_doubled = false;

  private:
    [[nodiscard]] std::size_t place() const {
        return static_cast<std::size_t>(*furthest_ - source_.text.data());
    }

    bool put(decltype(Data::value) value, std::size_t size) {
        const std::size_t end = place();
        insert(Data{std::move(value), {end - std::min(end, size), end}});
        return true;
    }

    Data* insert(Data data) {
        if (open_.empty()) {
            root = std::move(data);
            return &root;
        }
        auto& parent = open_.back()->value;
        if (auto* array = std::get_if<Data::Array>(&parent)) {
            array->push_back(std::move(data));
            return &array->back();
        }
        auto& object = std::get<Data::Object>(parent);
        object.emplace_back(keys_.back(), std::move(data));
        return &object.back().second;
    }

    bool open(decltype(Data::value) empty) {
        if (open_.size() >= kDeepest) {
            diagnostics_.error(source_, {place(), place()}, "nested deeper than any chart is");
            return false;
        }
        const std::size_t at = place();
        open_.push_back(insert(Data{std::move(empty), {at - std::min<std::size_t>(at, 1), at}}));
        keys_.emplace_back();
        names_.emplace_back();
        return true;
    }

    // Values are only added to the innermost open container, so pointers to the outer ones stay good.
    bool close() {
        open_.back()->where.end = place();
        open_.pop_back();
        keys_.pop_back();
        names_.pop_back();
        return true;
    }

    const SourceText& source_;
    const char* const* furthest_;
    Diagnostics& diagnostics_;
    std::vector<Data*> open_;
    std::vector<std::string> keys_;             // of the member that is read, by open container
    std::vector<std::set<std::string>> names_;  // of all its members so far
};

Json to_json(const Data& data) {
    return std::visit(
        [](const auto& value) -> Json {
            using T = std::decay_t<decltype(value)>;
            if constexpr (std::is_same_v<T, Data::Array>) {
                Json out = Json::array();
                for (const Data& member : value) out.push_back(to_json(member));
                return out;
            } else if constexpr (std::is_same_v<T, Data::Object>) {
                Json out = Json::object();
                for (const auto& [name, member] : value) out[name] = to_json(member);
                return out;
            } else if constexpr (std::is_same_v<T, std::nullptr_t>) {
                return nullptr;
            } else {
                return value;
            }
        },
        data.value);
}

}  // namespace

std::optional<Data> read_json(const SourceText& source, Diagnostics& diagnostics) {
    const char* const begin = source.text.data();
    const char* const end = begin + source.text.size();
    const char* furthest = begin;
    TreeBuilder builder{source, &furthest, diagnostics};
    if (!Json::sax_parse(CountingIterator{begin, &furthest}, CountingIterator{end, &furthest}, &builder)) {
        return std::nullopt;
    }
    if (builder.has_doubled) return std::nullopt;
    return std::move(builder.root);
}

std::string write_json(const Data& data) {
    // Text that is no valid UTF-8 is mended rather than refused: it can only come from a hostile file.
    return to_json(data).dump(-1, ' ', false, Json::error_handler_t::replace);
}

}  // namespace shedbook
