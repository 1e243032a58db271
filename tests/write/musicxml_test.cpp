#include "shedbook/write/musicxml.h"
#include "../../src/write/musicxml_elements.h"
#include "count_text.h"

#include <catch2/catch.hpp>
#include <sstream>

#include "blocks.h"
#include "shedbook/notation/fingering.h"
#include "shedbook/notation/notate.h"
#include "shedbook/write/writers.h"

namespace shedbook {
namespace {

ConcertLine scale_line() {
    ConcertLine line;
    Position at;
    for (const char* name : {"C4", "D4", "E4", "F#4", "G4", "A4", "Bb4", "C5"}) {
        line.notes.push_back({*parse_pitch(name), at, kEighth});
        at += kEighth;
    }
    line.length = at - Position{};
    return line;
}

Drill piece(const char* instrument, int number, bool open_key = true) {
    NotateOptions options;
    options.instrument = find_instrument(instrument);
    options.key = Key{};
    options.open_key = open_key;
    options.chords = {{Position{}, parse_chord_symbol("C7(#11)")}};
    return drill_block(notate(scale_line(), options), {number, 0});
}

std::string written(const char* instrument, const std::vector<Block>& blocks) {
    std::ostringstream out;
    MusicXmlWriter writer{out};
    DocumentHead head;
    head.title = "Try & <see>";
    head.parts = {*find_instrument(instrument)};
    writer.begin(head);
    for (const Block& block : blocks) writer.take(block);
    writer.finish();
    return out.str();
}

}  // namespace

TEST_CASE("pieces follow each other with double bars and rising numbers, the last ends the file", "[write]") {
    const std::string xml = written("flute", {piece("flute", 1), piece("flute", 2), piece("flute", 3)});
    CHECK(count(xml, "<bar-style>light-light</bar-style>") == 2);
    CHECK(count(xml, "<bar-style>light-heavy</bar-style>") == 1);
    CHECK(xml.find("<measure number=\"3\">") != std::string::npos);
    CHECK(count(xml, "<divisions>") == 1);
    CHECK(count(xml, "new-system=\"yes\"/>") == 0);
    CHECK(count(xml, "<print new-system=\"yes\">") == 2);
    CHECK(xml.find("Try &amp; &lt;see&gt;") != std::string::npos);
}

// W3C MusicXML 4.0 reference, "transpose": what to add to the written pitch; a major sixth down for the alto
// saxophone.
TEST_CASE("a transposed part says how it sounds, and its chord symbols are in written pitch", "[write]") {
    const std::string xml = written("alto-sax", {piece("alto-sax", 1)});
    CHECK(xml.find("<transpose><diatonic>-5</diatonic><chromatic>-9</chromatic></transpose>") !=
          std::string::npos);
    CHECK(xml.find("<root><root-step>A</root-step></root>") != std::string::npos);
    CHECK(xml.find("<instrument-sound>wind.reed.saxophone.alto</instrument-sound>") != std::string::npos);
    CHECK(written("flute", {piece("flute", 1)}).find("<transpose>") == std::string::npos);
    CHECK(written("tenor-voice", {piece("tenor-voice", 1)})
              .find("<clef-octave-change>-1</clef-octave-change>") != std::string::npos);
}

TEST_CASE("an open key hides the meter, a real key shows it", "[write]") {
    const std::string open = written("flute", {piece("flute", 1)});
    CHECK(open.find("<time print-object=\"no\">") != std::string::npos);
    const std::string both = written("flute", {piece("flute", 1), piece("flute", 2, false)});
    CHECK(both.find("<time><beats>4</beats>") != std::string::npos);
}

TEST_CASE("no chord is written as words, for no kind of harmony says it everywhere", "[write]") {
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.key = Key{};
    options.chords = {{Position{}, std::nullopt}};
    const std::string xml = written("flute", {drill_block(notate(scale_line(), options))});
    CHECK(xml.find("<harmony") == std::string::npos);
    CHECK(xml.find(">N.C.</words>") != std::string::npos);
}

TEST_CASE("texts before a piece stand over its first bar, long ones in several rows", "[write]") {
    const std::string xml = written(
        "flute",
        {SittingStart{"Week 1", "",
                      "An advice that is longer than a row over the staff may be, so that it has to be cut "
                      "into two rows at a blank."},
         piece("flute", 1)});
    CHECK(count(xml, "font-size=\"11\"") == 3);
    const std::size_t title = xml.find("A scale");
    CHECK(xml.find("into two rows") > title);
    CHECK(xml.find("An advice") > xml.find("into two rows"));
    CHECK(xml.find("Week 1") > xml.find("An advice"));
}

TEST_CASE("title, player and caution stand on the first page, and no caution over its first bar", "[write]") {
    const std::string xml = written("flute", {Caution{"Take short breaks."}, piece("flute", 1)});
    const std::size_t music = xml.find("<part id=");
    for (const char* words : {">title</credit-type>", ">Flute\nTake short breaks.</credit-words>"}) {
        CAPTURE(words);
        CHECK(xml.find(words) < music);
        CHECK(xml.find(words) == xml.rfind(words));
    }
}

TEST_CASE("a section behind one that fills most of a page begins a page, short ones follow each other",
          "[write]") {
    const auto pages = [](int drills) {
        std::vector<Block> blocks;
        for (int section = 1; section <= 2; ++section) {
            blocks.emplace_back(SectionStart{section, RoundHead{section}});
            for (int drill = 1; drill <= drills; ++drill) blocks.emplace_back(piece("flute", section));
        }
        return count(written("flute", blocks), "new-page=\"yes\"");
    };
    CHECK(pages(2) == 0);
    CHECK(pages(6) == 1);
    // Two lines on a second page, and then a new one, would leave that empty.
    CHECK(pages(13) == 0);
}

TEST_CASE("a heading has feel and tempo beside it, or over them where both are too long for a line",
          "[write]") {
    const auto heading = [](const std::string& remark) {
        WrittenMusic music = piece("flute", 1).music.front();
        music.feel = "jazz waltz";
        music.tempo = TempoMark{138, NoteValue{}};
        std::string out;
        append_heading(out, music, {"4.5", "Comping shapes", remark});
        return out;
    };
    const std::string one_line = heading("in F minor");
    CHECK(count(one_line, "<direction placement") == 2);  // the number, then all of it
    CHECK(one_line.find("Comping shapes (in F minor)   ") < one_line.find("jazz waltz"));
    const std::string two = heading("frets from the lowest string up, in F minor, bars 22 and 23");
    CHECK(count(two, "<direction placement") == 3);
    // Of several texts over one place the later stands further from the staff.
    CHECK(two.find("jazz waltz") < two.find("Comping shapes (frets"));
}

TEST_CASE("the same blocks give the same bytes", "[write]") {
    CHECK(written("guitar", {piece("guitar", 1)}) == written("guitar", {piece("guitar", 1)}));
}

// Element names: MusicXML 3.1 schema, type technical.
TEST_CASE("fingers, strings and frets are written as the standard names them", "[write]") {
    const auto xml_of = [](const char* instrument) {
        NotateOptions options;
        options.instrument = find_instrument(instrument);
        options.open_key = true;
        WrittenMusic music = notate(scale_line(), options);
        add_fingerings(music, *options.instrument);
        return written(instrument, {drill_block(music)});
    };
    const std::string trumpet = xml_of("trumpet");
    const std::string valves = "<technical><fingering placement=\"below\">13</fingering></technical>";
    CHECK(trumpet.find(valves) != std::string::npos);
    CHECK(trumpet.find("<string>") == std::string::npos);
    const std::string violin = xml_of("violin");
    CHECK(violin.find("<fingering placement=\"below\">0</fingering><string>") != std::string::npos);
    const std::string guitar = xml_of("guitar");
    CHECK(guitar.find("</string></technical></notations><lyric number=") != std::string::npos);
    CHECK(guitar.find("<fret>") == std::string::npos);
    CHECK(xml_of("flute").find("<technical>") == std::string::npos);
}

TEST_CASE("the line of boxes says what their tempos count, where it is no quarter", "[write]") {
    const auto words_in = [](const char* meter) {
        NotateOptions options;
        options.instrument = find_instrument("flute");
        options.open_key = true;
        options.meter = *parse_meter(meter);
        std::ostringstream out;
        MusicXmlWriter writer{out};
        DocumentHead head;
        head.parts = {*options.instrument};
        writer.begin(head);
        Drill drill = drill_block(notate(scale_line(), options));
        drill.boxes = {{60}, true};
        writer.take(drill);
        writer.finish();
        return out.str();
    };
    CHECK(words_in("6/8").find("from memory      (beats of a dotted quarter)") != std::string::npos);
    CHECK(words_in("2/2").find("(beats of a half)") != std::string::npos);
    CHECK(words_in("4/4").find("beats of a") == std::string::npos);
}

// XML 1.0 (W3C), production 2: U+FFFE and U+FFFF are no characters, nor are control characters.
TEST_CASE("what XML has no character for is left out of titles", "[write]") {
    std::string escaped;
    append_escaped(escaped,
                   "a\xEF\xBF\xBE"
                   "b\xEF\xBF\xBF"
                   "c\x01\xEF\xBF\xBDz\xEF");
    CHECK(escaped == "abc\xEF\xBF\xBDz\xEF");
}

TEST_CASE("a score has a part for each instrument, its words over the first alone", "[write]") {
    const auto part_of = [](const char* instrument) { return piece(instrument, 1).music.front(); };
    Drill both = piece("flute", 1);
    both.music.push_back(part_of("alto-sax"));
    std::ostringstream out;
    MusicXmlWriter writer{out};
    writer.begin({"Both", "", {*find_instrument("flute"), *find_instrument("alto-sax")}, ""});
    TopicHead head;
    head.topic = topic_of("C7", "C Mixolydian");
    head.parts = {{parse_chord_symbol("C7"), *parse_scale("C Mixolydian"), {}},
                  {parse_chord_symbol("A7"), *parse_scale("A Mixolydian"), {}}};
    head.bars = {1, 5};
    writer.take(SectionStart{1, head});
    writer.take(both);
    writer.take(SectionEnd{});
    writer.finish();
    const std::string xml = out.str();
    CHECK(count(xml, "<part id=") == 2);
    CHECK(count(xml, "<score-part id=") == 2);
    const std::size_t second = xml.find("<part id=\"P2\">");
    CHECK(count(xml.substr(0, second), "Sounds: C7, C Mixolydian (bars 1, 5)") == 1);
    CHECK(count(xml.substr(second), "Sounds") == 0);
    CHECK(count(xml.substr(second), ">A Mixolydian<") == 1);
    CHECK(count(xml, "<rehearsal") == 1);
    CHECK(xml.ends_with("</score-partwise>\n"));
}

TEST_CASE("the left hand begins where the bar does, whatever its rhythm", "[write]") {
    WrittenMusic music = piece("flute", 1).music.front();
    ConcertLine left;
    left.notes.push_back({*parse_pitch("C3"), Position{}, kHalf});
    left.notes.push_back({*parse_pitch("G3"), Position{} + kHalf, kQuarter});
    left.length = kWhole;
    NotateOptions options;
    options.instrument = find_instrument("flute");
    options.open_key = true;
    music.lower.push_back(notate(left, options));
    const std::string xml = written("piano-both-hands", {LeadSheet{{music}}});
    const int quarter = music.lower.front().ticks_per_quarter;
    // The right hand fills a bar: so far back, and the left hand follows with its own lengths.
    CHECK(count(xml, "<backup><duration>" + std::to_string(4 * quarter) + "</duration></backup>") == 1);
    const std::size_t back = xml.find("<backup>");
    CHECK(count(xml.substr(0, back), "<staff>2</staff>") == 0);
    CHECK(count(xml.substr(back), "<staff>1</staff>") == 0);
    CHECK(count(xml.substr(back), "<voice>2</voice>") == 3);
    CHECK(xml.find("<duration>" + std::to_string(2 * quarter) + "</duration>", back) != std::string::npos);
}

TEST_CASE("signs stand before and behind their bar, a fermata and a caesura on its last note", "[write]") {
    WrittenMusic music = piece("flute", 1).music.front();
    music.measures[0].signs_before = {{std::nullopt, "A"}, {FormSign::Segno, {}}};
    music.measures[0].signs_after = {
        {FormSign::Fermata, {}}, {FormSign::Caesura, {}}, {FormSign::DalSegnoAlFine, {}}};
    const std::string xml = written("flute", {LeadSheet{{music}}});
    CHECK(count(xml, "<rehearsal font-weight=\"bold\">A</rehearsal>") == 1);
    const std::size_t segno = xml.find("<segno/></direction-type><sound segno=\"segno\"/>");
    const std::size_t first = xml.find("<note>");
    const std::size_t last = xml.rfind("<note>");
    const std::size_t fermata =
        xml.find("<notations><fermata/><articulations><caesura/></articulations></notations>");
    const std::size_t jump = xml.find(">D.S. al Fine</words></direction-type><sound dalsegno=\"segno\"/>");
    REQUIRE(jump != std::string::npos);
    CHECK(segno < first);
    CHECK(last < fermata);
    CHECK(fermata < jump);
    CHECK(count(xml, "<fermata/>") == 1);
}

TEST_CASE("articulation, slurs, breaths, words and octave lines are written as the standard names them",
          "[write]") {
    // Element names: MusicXML 3.1 schema, types articulations, slur, octave-shift.
    ConcertLine line = transposed(scale_line(), kOctave + kOctave);
    line.notes[0].slur_starts = true;
    line.notes[1].slur_stops = true;
    line.notes[2].articulation = Articulation::Staccato;
    line.breaths = {Position{} + line.length};
    line.texts = {{Position{}, "target"}};
    NotateOptions options;
    options.instrument = find_instrument("piano");
    options.open_key = true;
    const std::string xml = written("piano", {drill_block(notate(line, options))});
    CHECK(count(xml, "<slur type=\"start\" number=\"1\"/>") == 1);
    CHECK(count(xml, "<slur type=\"stop\" number=\"1\"/>") == 1);
    CHECK(count(xml, "<articulations><staccato/></articulations>") == 1);
    CHECK(count(xml, "<articulations><breath-mark/></articulations>") == 1);
    CHECK(count(xml, "<direction placement=\"below\"><direction-type><words") == 1);
    CHECK(count(xml, "<octave-shift type=\"down\" size=\"8\"/>") == 1);
    CHECK(count(xml, "<octave-shift type=\"stop\" size=\"8\"/>") == 1);
    CHECK(xml.find("<step>C</step><octave>7</octave>") != std::string::npos);
}

}  // namespace shedbook
