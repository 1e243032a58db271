#include "topics.h"

#include <optional>
#include <string_view>

#include "shedbook/base/text.h"
#include "shedbook/job/words.h"

namespace shedbook {
namespace {

// A word behind a note name that is no scale decides which message helps.
SheetTopic topic_of(const std::string& text, Diagnostics& diagnostics) {
    SheetTopic out;
    if (const std::optional<Scale> scale = parse_scale(text)) {
        out.scale.scale = *scale;
        out.scale.notes = spelled(*scale);
        return out;
    }
    const std::string_view typed = trimmed(text);
    const std::size_t gap = typed.find_first_of(" -_");
    if (const auto symbol = parse_chord_symbol(text)) {
        out.symbol = symbol;
        out.scale = scales_for(*symbol).front();
        return out;
    }
    if (gap != std::string_view::npos && parse_pitch_class(typed.substr(0, gap))) {
        const std::string name{trimmed(typed.substr(gap + 1))};
        unknown_name("scale", name, scale_type_names(), "'shedbook list scales' shows what there is");
    }
    static_cast<void>(read_chord_symbol(SourceText{"drills", text}, diagnostics));
    return out;
}

}  // namespace

std::vector<SheetTopic> topics_of(const std::vector<std::string>& words, Diagnostics& diagnostics) {
    std::vector<SheetTopic> out;
    out.reserve(words.size());
    for (const std::string& word : words) out.push_back(topic_of(word, diagnostics));
    return out;
}

}  // namespace shedbook
