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
    LeadSheet plain{music};
    for (WrittenMusic& part : plain.music) {
        part.tempo.reset();
        part.feel.clear();
    }
    return musicxml_of(Document{head, {std::move(plain)}});
}

}  // namespace shedbook
