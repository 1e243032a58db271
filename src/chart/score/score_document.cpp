#include "score_document.h"

#include <algorithm>
#include <optional>
#include <string_view>
#include <utility>

#include "../encoding.h"
#include "xml_scan.h"

namespace shedbook {
namespace {

bool parse(pugi::xml_document& document, const SourceText& source, Diagnostics& diagnostics) {
    const pugi::xml_parse_result result = document.load_buffer(source.text.data(), source.text.size(),
                                                               pugi::parse_default, pugi::encoding_utf8);
    if (result) return true;
    const auto at = static_cast<std::size_t>(std::max<std::ptrdiff_t>(0, result.offset));
    diagnostics.error(source, {at, at + 1},
                      std::string{"this is not well-formed XML: "} + result.description(),
                      "open and save it again in a notation editor");
    return false;
}

}  // namespace

bool load_score(pugi::xml_document& document, const std::string& name, const std::string& xml,
                Diagnostics& diagnostics) {
    std::optional<std::string> text = to_utf8(name, xml, diagnostics);
    if (!text) return false;
    const SourceText source{name, *std::move(text)};
    if (!is_safe_xml(source, diagnostics)) return false;
    if (!parse(document, source, diagnostics)) return false;
    const std::string_view form = document.document_element().name();
    if (form == "score-partwise" || form == "score-timewise") return true;
    diagnostics.error_at(name, "this is no MusicXML score but a document of '" + std::string{form} + "'",
                         form == "opus" ? "an opus only lists scores; open one of them" : "");
    return false;
}

}  // namespace shedbook
