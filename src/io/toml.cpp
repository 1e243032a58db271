#include <algorithm>
#include <string>
#include <utility>
#include <vector>

#include <toml++/toml.h>

#include "shedbook/io/data.h"

namespace shedbook {
namespace {

// Byte offsets of line beginnings, to turn the library's lines and columns into places in the text.
class Lines {
  public:
    explicit Lines(const std::string& text) : text_{text}, begins_{0} {
        for (std::size_t i = 0; i < text.size(); ++i) {
            if (text[i] == '\n') begins_.push_back(i + 1);
        }
    }
    [[nodiscard]] std::size_t byte(toml::source_position at) const {
        if (at.line == 0) return 0;
        const std::size_t line = std::min<std::size_t>(at.line, begins_.size()) - 1;
        std::size_t out = begins_[line];
        // Columns count code points: step over continuation bytes.
        for (toml::source_index column = 1; column < at.column && out < text_.size(); ++column) {
            ++out;
            while (out < text_.size() && (static_cast<unsigned char>(text_[out]) & 0xC0U) == 0x80U) ++out;
        }
        return out;
    }
    [[nodiscard]] Span span(const toml::source_region& region) const {
        const std::size_t begin = byte(region.begin);
        return {begin, std::max(byte(region.end), begin)};
    }

  private:
    const std::string& text_;
    std::vector<std::size_t> begins_;
};

Data to_data(const toml::node& node, const Lines& lines) {
    Data out;
    out.where = lines.span(node.source());
    if (const toml::table* table = node.as_table()) {
        // The library sorts its tables; the order of the text is the order of places.
        Data::Object object;
        for (auto&& [key, value] : *table) object.emplace_back(std::string{key.str()}, to_data(value, lines));
        std::ranges::stable_sort(object, {}, [](const Data::Member& m) { return m.second.where.begin; });
        out.value = std::move(object);
    } else if (const toml::array* array = node.as_array()) {
        Data::Array members;
        for (const toml::node& member : *array) members.push_back(to_data(member, lines));
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

}  // namespace

std::optional<Data> read_toml(const SourceText& source, Diagnostics& diagnostics) {
    const Lines lines{source.text};
    try {
        return to_data(toml::parse(std::string_view{source.text}), lines);
    } catch (const toml::parse_error& error) {
        diagnostics.error(source, lines.span(error.source()), std::string{error.description()});
        return std::nullopt;
    }
}

}  // namespace shedbook
