// Signs beside the bars as MusicXML has them: directions, with what a player program needs to follow them.
#include "musicxml_elements.h"
#include "shedbook/base/text.h"

namespace shedbook {

void append_section_label(std::string& out, std::string_view label) {
    // A rehearsal mark is centred on the bar line: a longer name would run off the page.
    constexpr std::size_t kLongestMark = 4;
    const bool is_mark = count_characters(label) <= kLongestMark;
    out += "      <direction placement=\"above\"><direction-type>";
    out += is_mark ? "<rehearsal font-weight=\"bold\">"
                   : "<words font-weight=\"normal\" font-style=\"normal\" font-size=\"12\" "
                     "enclosure=\"rectangle\">";
    append_escaped(out, label);
    out += is_mark ? "</rehearsal>" : "</words>";
    out += "</direction-type></direction>\n";
}

void append_form_sign(std::string& out, const FormSignRow& row) {
    out += "      <direction placement=\"above\"><direction-type>";
    if (row.xml_element.empty()) {
        out += "<words font-weight=\"normal\" font-style=\"normal\" font-size=\"11\">";
        append_escaped(out, row.printed);
        out += "</words>";
    } else {
        out += "<";
        out += row.xml_element;
        out += "/>";
    }
    out += "</direction-type>";
    if (!row.xml_sound.empty()) {
        out += "<sound ";
        out += row.xml_sound;
        out += "=\"";
        out += row.xml_sound_value;
        out += "\"/>";
    }
    out += "</direction>\n";
}

std::string sign_notations(const std::vector<Sign>& signs) {
    std::string out;
    for (const Sign& sign : signs) {
        if (!sign.form || row_of(*sign.form).seat == SignSeat::Bar) continue;
        const std::vector<std::string_view> way = split(row_of(*sign.form).xml_element, '/');
        std::string end;
        for (std::size_t i = 0; i < way.size(); ++i) {
            const std::string name{way[i]};
            const bool is_sign = i + 1 == way.size();
            out += "<" + name + (is_sign ? "/>" : ">");
            if (!is_sign) end.insert(0, "</" + name + ">");
        }
        out += end;
    }
    return out;
}

}  // namespace shedbook
