#include "music.h"

#include <sstream>

#include "shedbook/write/musicxml.h"

namespace shedbook {

std::string musicxml_of(const Document& document) {
    std::ostringstream out;
    MusicXmlWriter writer{out};
    hand_over(document, writer);
    return out.str();
}

std::string musicxml_of(const DocumentHead& head, const std::vector<WrittenMusic>& music) {
    return musicxml_of(Document{head, {LeadSheet{music}}});
}

}  // namespace shedbook
