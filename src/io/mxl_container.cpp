#include "mxl_container.h"

#include <array>
#include <optional>
#include <utility>

namespace shedbook {
namespace {

std::string without_comments(std::string_view text) {
    std::string out;
    while (true) {
        const std::size_t open = text.find("<!--");
        out += text.substr(0, open);
        if (open == std::string_view::npos) return out;
        const std::size_t close = text.find("-->", open + 4);
        if (close == std::string_view::npos) return out;
        text.remove_prefix(close + 3);
    }
}

// The inside of the first tag of that name; empty if there is none.
std::string_view first_tag(std::string_view text, std::string_view name) {
    for (std::size_t at = text.find(name); at != std::string_view::npos; at = text.find(name, at + 1)) {
        const std::string_view rest = text.substr(at + name.size());
        const bool is_whole =
            !rest.empty() && std::string_view{" \t\r\n/>"}.find(rest.front()) != std::string_view::npos;
        if (is_whole) return rest.substr(0, rest.find('>'));
    }
    return {};
}

std::string_view attribute(std::string_view tag, std::string_view name) {
    const std::size_t at = tag.find(name);
    if (at == std::string_view::npos) return {};
    const std::size_t open = tag.find_first_of("\"'", at);
    if (open == std::string_view::npos) return {};
    const std::size_t close = tag.find(tag[open], open + 1);
    if (close == std::string_view::npos) return {};
    return tag.substr(open + 1, close - open - 1);
}

// With the five entities that XML knows by itself (XML 1.0, section 4.6); nothing for a text with another.
std::optional<std::string> resolved(std::string_view text) {
    static constexpr std::array<std::pair<std::string_view, char>, 5> kEntities{
        {{"&amp;", '&'}, {"&lt;", '<'}, {"&gt;", '>'}, {"&quot;", '"'}, {"&apos;", '\''}}};
    std::string out;
    while (!text.empty()) {
        if (text.front() != '&') {
            out += text.front();
            text.remove_prefix(1);
            continue;
        }
        bool is_known = false;
        for (const auto& [entity, character] : kEntities) {
            if (!text.starts_with(entity)) continue;
            out += character;
            text.remove_prefix(entity.size());
            is_known = true;
            break;
        }
        if (!is_known) return std::nullopt;
    }
    return out;
}

}  // namespace

ContainerPath path_in_container(std::string_view container, const std::vector<std::string>& entries) {
    const std::string text = without_comments(container);
    if (text.find("<!ENTITY") != std::string::npos || text.find("<!ELEMENT") != std::string::npos)
        return {{}, "its container declares entities or elements of its own, which no score needs"};
    const std::string_view tag = first_tag(text, "<rootfile");
    for (const std::string& entry : entries) {
        for (const char quote : {'\'', '"'}) {
            if (tag.find("full-path=" + (quote + entry + quote)) != std::string_view::npos)
                return {entry, {}};
        }
    }
    const std::string_view path = attribute(tag, "full-path");
    std::optional<std::string> out = resolved(path);
    if (!out) return {{}, "its container names the score by an entity: '" + std::string{path} + "'"};
    return {*std::move(out), {}};
}

}  // namespace shedbook
