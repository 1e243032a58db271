#include <algorithm>
#include <set>
#include <string>
#include <utility>
#include <vector>

#include <toml++/toml.h>

#include "shedbook/io/data.h"
#include "toml_faults.h"

namespace shedbook {
namespace {

// The library counts lines and columns from 1, columns in code points, as a Place does.
Span span_of(const toml::source_region& region, const SourceText& source) {
    const std::size_t begin = source.byte_of({region.begin.line, region.begin.column});
    return {begin, std::max(source.byte_of({region.end.line, region.end.column}), begin)};
}

Data to_data(const toml::node& node, const SourceText& source) {
    Data out;
    out.where = span_of(node.source(), source);
    if (const toml::table* table = node.as_table()) {
        // The library sorts its tables; the order of the text is the order of places.
        Data::Object object;
        for (auto&& [key, value] : *table)
            object.emplace_back(std::string{key.str()}, to_data(value, source));
        std::ranges::stable_sort(object, {}, [](const Data::Member& m) { return m.second.where.begin; });
        out.value = std::move(object);
    } else if (const toml::array* array = node.as_array()) {
        Data::Array members;
        for (const toml::node& member : *array) members.push_back(to_data(member, source));
        out.value = std::move(members);
    } else if (const auto* text = node.as_string()) {
        out.value = text->get();
    } else if (const auto* whole = node.as_integer()) {
        out.value = whole->get();
    } else if (const auto* number = node.as_floating_point()) {
        out.value = number->get();
    } else if (const auto* truth = node.as_boolean()) {
        out.value = truth->get();
    }
    return out;
}

// The text with one line in the place of another; the lines keep their numbers.
std::string with_line(const std::string& text, std::size_t begin, const std::string& instead) {
    const std::size_t end = std::min(text.find('\n', begin), text.size());
    return text.substr(0, begin) + instead + text.substr(end);
}

// Where a text of several lines would have to be mended to go on, nothing that follows can be trusted.
bool spans_lines(std::string_view said) {
    return said.find("array") != std::string_view::npos ||
           said.find("multi-line") != std::string_view::npos || said.find("utf-8") != std::string_view::npos;
}

}  // namespace

// The library stops at the first fault: the line that has it is replaced, and it is asked again.
std::optional<Data> read_toml(const SourceText& source, Diagnostics& diagnostics) {
    std::string text = source.text;
    for (std::set<std::size_t> mended;;) {
        try {
            const toml::table table = toml::parse(std::string_view{text});
            if (!mended.empty()) return std::nullopt;
            return to_data(table, source);
        } catch (const toml::parse_error& error) {
            const Span span = span_of(error.source(), source);
            const std::string_view said = error.description();
            const std::size_t line = source.line_begin(span.begin);
            const TomlFault fault = toml_fault(said, source.line_at(span.begin), span.begin - line);
            if (!mended.insert(error.source().begin.line).second) return std::nullopt;
            diagnostics.error(source, span, fault.message, fault.hint);
            if (spans_lines(said) || diagnostics.is_full()) return std::nullopt;
            const SourceText now{source.name, text};
            text = with_line(text, now.byte_of({error.source().begin.line, 1}),
                             stand_in_for(source.line_at(span.begin)));
        }
    }
}

}  // namespace shedbook
