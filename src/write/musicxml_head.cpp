// What stands before the music: title, page layout, the list of parts.
#include <string>
#include <string_view>
#include <utility>
#include <vector>

#include "musicxml_elements.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// A4.
constexpr int kPageHeight = 297;
constexpr int kPageWidth = 210;
constexpr int kMargin = 15;

// MusicXML measures the page in tenths of the distance of two lines; a staff has forty.
int in_tenths(int millimetres, int staff_height) {
    constexpr int kStaffTenths = 40;
    return (millimetres * 10 * kStaffTenths + staff_height / 2) / staff_height;
}

// Room over a system for a heading, and over a staff of several for chord symbols.
void append_layout(std::string& out, int staff_height, bool has_several_parts) {
    const auto measure = [&](std::string_view name, int millimetres) {
        out += "<";
        out += name;
        out += ">";
        append_number(out, in_tenths(millimetres, staff_height));
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
    measure("page-height", kPageHeight);
    measure("page-width", kPageWidth);
    out += "<page-margins type=\"both\">";
    for (const std::string_view side : {"left-margin", "right-margin", "top-margin", "bottom-margin"})
        measure(side, kMargin);
    out +=
        "</page-margins></page-layout>\n"
        "    <system-layout><system-distance>100</system-distance></system-layout>\n";
    if (has_several_parts) out += "    <staff-layout><staff-distance>65</staff-distance></staff-layout>\n";
    out += "  </defaults>\n";
}

std::string title_of(const DocumentHead& head) {
    return head.title.empty() ? "Untitled" : head.title;
}

// Words on the first page: their place in millimetres from its left and its foot, and to which side they go.
struct Credit {
    std::string_view type;  // empty: none that MusicXML has a word for
    std::string text;
    int x = 0;
    int y = 0;
    std::string_view justify;
    int size = 11;
};

void append_credit(std::string& out, const Credit& credit, int staff_height) {
    if (credit.text.empty()) return;
    out += "  <credit page=\"1\">";
    if (!credit.type.empty()) append_element(out, "credit-type", credit.type);
    out += "<credit-words default-x=\"";
    append_number(out, in_tenths(credit.x, staff_height));
    out += "\" default-y=\"";
    append_number(out, in_tenths(credit.y, staff_height));
    out += "\" font-size=\"";
    append_number(out, credit.size);
    out += "\" justify=\"";
    out += credit.justify;
    out += "\" valign=\"top\">";
    for (const std::string_view line : split(credit.text, '\n')) {
        if (line.data() != credit.text.data()) out += "\n";
        append_escaped(out, line);
    }
    out += "</credit-words></credit>\n";
}

// The title, who wrote it, and at the left who plays and how to play without harm. Editors that we tried
// leave out words at the foot of the page, and print a second line in its middle over the first.
void append_credits(std::string& out, const DocumentHead& head, const std::string& caution,
                    int staff_height) {
    constexpr int kTop = kPageHeight - kMargin;
    constexpr int kBelowTitle = 14;
    constexpr std::size_t kHalfAPage = 66;  // characters of its size
    std::string left = head.parts.size() == 1 ? head.parts.front().name : "Score";
    for (const std::string& line : wrapped(caution, kHalfAPage)) left += "\n" + line;
    for (const Credit& credit :
         {Credit{"title", title_of(head), kPageWidth / 2, kTop, "center", 22},
          Credit{"composer", head.composer, kPageWidth - kMargin, kTop - kBelowTitle, "right"},
          Credit{"", left, kMargin, kTop - kBelowTitle, "left", 9}})
        append_credit(out, credit, staff_height);
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

std::vector<std::string> wrapped(const std::string& text, std::size_t most) {
    std::vector<std::string> lines;
    std::string line;
    for (const std::string_view word : split(text, ' ')) {
        if (word.empty()) continue;
        if (!line.empty() && count_characters(line) + 1 + count_characters(word) > most) {
            lines.push_back(std::exchange(line, {}));
        }
        if (!line.empty()) line += ' ';
        line += word;
    }
    if (!line.empty()) lines.push_back(line);
    return lines;
}

void append_file_head(std::string& out, const DocumentHead& head, const std::string& caution,
                      int staff_height) {
    const std::vector<Instrument>& parts = head.parts;
    out +=
        "<?xml version=\"1.0\" encoding=\"UTF-8\"?>\n"
        "<!DOCTYPE score-partwise PUBLIC \"-//Recordare//DTD MusicXML 3.1 Partwise//EN\" "
        "\"http://www.musicxml.org/dtds/partwise.dtd\">\n"
        "<score-partwise version=\"3.1\">\n  <work>";
    append_element(out, "work-title", title_of(head));
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
    append_credits(out, head, caution, staff_height);
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
