// What stands before the music: title, page layout, the list of parts.
#include <string>
#include <string_view>
#include <vector>

#include "musicxml_elements.h"

namespace shedbook {
namespace {

// A4 with margins of 15 mm; room over a system for a heading, and over a staff of several for chord symbols.
void append_layout(std::string& out, int staff_height, bool has_several_parts) {
    constexpr int kStaffTenths = 40;
    // MusicXML measures the page by its staff.
    const auto measure = [&](std::string_view name, int millimetres) {
        out += "<";
        out += name;
        out += ">";
        append_number(out, (millimetres * 10 * kStaffTenths + staff_height / 2) / staff_height);
        out += "</";
        out += name;
        out += ">";
    };
    out += "  <defaults>\n    <scaling><millimeters>";
    append_number(out, staff_height / 10);
    if (staff_height % 10 != 0) {
        out += ".";
        append_number(out, staff_height % 10);
    }
    out += "</millimeters><tenths>40</tenths></scaling>\n    <page-layout>";
    measure("page-height", 297);
    measure("page-width", 210);
    out += "<page-margins type=\"both\">";
    for (const std::string_view side : {"left-margin", "right-margin", "top-margin", "bottom-margin"})
        measure(side, 15);
    out +=
        "</page-margins></page-layout>\n"
        "    <system-layout><system-distance>100</system-distance></system-layout>\n";
    if (has_several_parts) out += "    <staff-layout><staff-distance>65</staff-distance></staff-layout>\n";
    out += "  </defaults>\n";
}

void append_score_part(std::string& out, const Instrument& instrument, int number) {
    // Channel 10 is the drums' (General MIDI); with more parts than channels some share one.
    constexpr int kChannels = 15;
    constexpr int kDrums = 10;
    int channel = (number - 1) % kChannels + 1;
    if (channel >= kDrums) ++channel;
    const std::string id = "P" + std::to_string(number);
    out += "    <score-part id=\"" + id + "\">\n      ";
    append_element(out, "part-name", instrument.name);
    out += "\n      ";
    append_element(out, "part-abbreviation", instrument.short_name);
    out += "\n      <score-instrument id=\"" + id + "-I1\">";
    append_element(out, "instrument-name", instrument.name);
    append_element(out, "instrument-sound", instrument.sound);
    out += "</score-instrument>\n      <midi-instrument id=\"" + id + "-I1\"><midi-channel>";
    append_number(out, channel);
    out += "</midi-channel><midi-program>";
    append_number(out, instrument.program);
    out += "</midi-program></midi-instrument>\n    </score-part>\n";
}

}  // namespace

void append_file_head(std::string& out, const DocumentHead& head, int staff_height) {
    const std::vector<Instrument>& parts = head.parts;
    out +=
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 3.1 Partwise//EN\" "
        "\"http://www.musicxml.org/dtds/partwise.dtd\">\n"
        "<score-partwise version=\"3.1\">\n  <work>";
    append_element(out, "work-title", head.title.empty() ? "Untitled" : head.title);
    out += "</work>\n  <identification>\n";
    if (!head.composer.empty()) {
        out += "    <creator type=\"composer\">";
        append_escaped(out, head.composer);
        out += "</creator>\n";
    }
    out +=
        "    <encoding>\n      <software>shedbook</software>\n"
        "      <supports element=\"accidental\" type=\"yes\"/>\n"
        "      <supports element=\"beam\" type=\"yes\"/>\n"
        "      <supports element=\"stem\" type=\"no\"/>\n"
        "      <supports element=\"print\" attribute=\"new-system\" type=\"yes\" value=\"yes\"/>\n"
        "      <supports element=\"print\" attribute=\"new-page\" type=\"yes\" value=\"yes\"/>\n"
        "    </encoding>\n  </identification>\n";
    append_layout(out, staff_height, parts.size() > 1);
    out += "  <part-list>\n";
    if (parts.size() > 1) {
        out +=
            "    <part-group type=\"start\" number=\"1\"><group-symbol>bracket</group-symbol>"
            "<group-barline>yes</group-barline></part-group>\n";
    }
    int number = 0;
    for (const Instrument& instrument : parts) append_score_part(out, instrument, ++number);
    if (parts.size() > 1) out += "    <part-group type=\"stop\" number=\"1\"/>\n";
    out += "  </part-list>\n";
}

}  // namespace shedbook
