#include "key_finder.h"
#include "blues_form.h"

#include "analysed.h"
#include "form.h"
#include "role.h"

namespace shedbook {
namespace {

constexpr unsigned set(std::initializer_list<int> tones) {
    unsigned out = 0;
    for (const int tone : tones) out |= 1U << static_cast<unsigned>(tone);
    return out;
}

std::vector<ChordView> views(const std::string& bars) {
    const Analysed tune = analysed(bars);
    return view_of(tune.chart, tune.timeline).chords;
}

}  // namespace

TEST_CASE("the sound of a chord follows from its notes", "[harmony]") {
    CHECK(sound_of(set({0, 4, 7})) == Sound::Major);
    CHECK(sound_of(set({0, 4, 7, 9})) == Sound::Major);
    CHECK(sound_of(set({0, 4, 7, 11})) == Sound::MajorSeventh);
    CHECK(sound_of(set({0, 4, 7, 10})) == Sound::Dominant);
    CHECK(sound_of(set({0, 3, 4, 7, 10})) == Sound::Dominant);  // 7#9
    CHECK(sound_of(set({0, 4, 8, 10})) == Sound::Dominant);     // 7#5
    CHECK(sound_of(set({0, 4, 8})) == Sound::Augmented);
    CHECK(sound_of(set({0, 3, 7})) == Sound::Minor);
    CHECK(sound_of(set({0, 3, 7, 10})) == Sound::MinorSeventh);
    CHECK(sound_of(set({0, 2, 3, 5, 7, 9, 10})) == Sound::MinorSeventh);  // m13
    CHECK(sound_of(set({0, 3, 7, 9})) == Sound::MinorTonic);
    CHECK(sound_of(set({0, 3, 7, 11})) == Sound::MinorTonic);
    CHECK(sound_of(set({0, 3, 6, 10})) == Sound::HalfDiminished);
    CHECK(sound_of(set({0, 3, 6, 9})) == Sound::Diminished);
    CHECK(sound_of(set({0, 3, 6})) == Sound::Diminished);
    CHECK(sound_of(set({0, 5, 7, 10})) == Sound::Suspended);
    CHECK(sound_of(set({0, 7})) == Sound::Open);
}

TEST_CASE("neighbours are the next and last chords of another sound, the next one round the form",
          "[harmony]") {
    const std::vector<ChordView> chords = views("| C | C/E | G7 | G9 |");
    REQUIRE(chords.size() == 4);
    CHECK(chords[0].next == 2);
    CHECK(chords[0].prev == -1);
    CHECK(chords[3].next == 0);
    CHECK(chords[3].prev == 1);
    CHECK(chords[1].stretch == 8);
}

TEST_CASE("the first chord of a section knows how long the section is", "[harmony]") {
    const std::vector<ChordView> chords = views("[A]\n| C | F |\n[B]\n| 2:G | C | F | G | C |\n");
    std::vector<int> bars;
    for (const ChordView& chord : chords) bars.push_back(chord.section_bars);
    CHECK(bars == std::vector<int>{2, 0, 0, 0, 0, 0, 0});
    CHECK(views("[A]\n| C | F |\n[B]\n| G | C | % |\n")[2].section_bars == 3);
}

// Common practice, no source: harmony comes to rest on its tonic.
TEST_CASE("of chords that sway the longest is heard as the tonic", "[harmony]") {
    KeyModel deaf_to_rest;
    deaf_to_rest.scores.rests = 0;
    const auto home = [&](const std::string& bars, const KeyModel& model) {
        return find_keys(views(bars), std::nullopt, Said::Hint, model).home;
    };
    for (const std::string bars : {"| F 2:C | Bb 2:C | F 2:C | Bb 2:C |", "| F 2:C | F 2:C | F 2:C |"}) {
        CHECK(home(bars, key_model()) == Tonality{0, Ground::Major});
        CHECK(home(bars, deaf_to_rest) == Tonality{5, Ground::Major});
    }
    CHECK(home("| C | Dm | % | % | C | Dm | % | % |", key_model()) == Tonality{2, Ground::Minor});
}

// Common practice, no source: the ii belongs to the key of its V.
TEST_CASE("no change of key falls between a ii and its V", "[harmony]") {
    for (const Chart& chart : sample_charts()) {
        INFO(chart.id);
        Diagnostics diagnostics;
        const auto timeline = unfold(chart, diagnostics);
        REQUIRE(timeline);
        const std::vector<ChordView> chords = view_of(chart, *timeline).chords;
        const std::vector<Tonality> keys = find_keys(chords, std::nullopt).keys;
        for (std::size_t i = 1; i < chords.size(); ++i) {
            if (is_two_five(chords[i - 1], chords[i])) CHECK(keys[i - 1] == keys[i]);
        }
    }
}

// Hutchinson, "Harmonic function": a V7 and its I make a key; the same goes for every key.
TEST_CASE("a cadence V7 I names its key, in every key", "[harmony]") {
    for (int tonic = 0; tonic < 12; ++tonic) {
        for (const bool minor : {false, true}) {
            ChordView five;
            five.root = (tonic + 7) % 12;
            five.tones = set({0, 4, 7, 10});
            five.sound = Sound::Dominant;
            five.beats = 4;
            ChordView one;
            one.root = tonic;
            one.tones = minor ? set({0, 3, 7}) : set({0, 4, 7});
            one.sound = minor ? Sound::Minor : Sound::Major;
            one.beats = 4;
            one.bar = 1;
            std::vector<ChordView> chords{five, one};
            link(chords);
            const KeyReading reading = find_keys(chords, std::nullopt);
            CHECK(reading.home.tonic == tonic);
            CHECK((reading.home.ground == Ground::Minor) == minor);
        }
    }
}

// Hutchinson 31.3, "The Blues Progression".
TEST_CASE("the form of a blues is measured bar by bar", "[harmony]") {
    const std::vector<ChordView> blues =
        views("| F7 | Bb7 | F7 | % | Bb7 | % | F7 | % | Gm7 | C7 | F7 | C7 |");
    CHECK(blues_form(blues, 5) == 1);
    CHECK(blues_form(blues, 0) < 0.75);
    CHECK_FALSE(has_blues_form(views("| F7 | Bb7 | F7 | % |"), 5));
    CHECK_FALSE(has_blues_form(views("| F7 | % | % | % | Gm7 | % | % | % | C7 | % | F7 | % |"), 5));
}

TEST_CASE("the tables of nearness know the chords of a key", "[harmony]") {
    // Diatonic sevenths of a major key (H31.10 and any harmony book).
    constexpr std::pair<int, Sound> kDiatonic[]{{0, Sound::MajorSeventh},   {2, Sound::MinorSeventh},
                                                {4, Sound::MinorSeventh},   {5, Sound::MajorSeventh},
                                                {7, Sound::Dominant},       {9, Sound::MinorSeventh},
                                                {11, Sound::HalfDiminished}};
    for (const auto& [degree, sound] : kDiatonic) CHECK(nearness(Ground::Major, sound, degree) <= 2);
    for (int degree = 0; degree < 12; ++degree) {
        for (int sound = 0; sound < kSounds; ++sound) {
            for (const Ground ground : {Ground::Major, Ground::Minor, Ground::Blues}) {
                const int level = nearness(ground, static_cast<Sound>(sound), degree);
                CHECK((level >= 0 && level <= 9));
            }
        }
    }
    CHECK(nearness(Ground::Blues, Sound::Dominant, 0) == 0);
    CHECK(nearness(Ground::Blues, Sound::Dominant, 5) <= 2);
}

TEST_CASE("a long chain of chords keeps its precision", "[harmony]") {
    // The same eight bars five thousand times are read like the first eight.
    std::vector<ChordView> once = views("| Dm7 | G7 | Cmaj7 | % | Dm7 | G7 | C6 | % |");
    std::vector<ChordView> many;
    for (int i = 0; i < 5000; ++i) {
        for (ChordView chord : once) {
            chord.bar += 8 * i;
            many.push_back(chord);
        }
    }
    link(many);
    const KeyReading reading = find_keys(many, std::nullopt);
    CHECK(reading.home == Tonality{0, Ground::Major});
    CHECK(std::ranges::all_of(reading.keys, [](Tonality key) { return key.tonic == 0; }));
}

// Phrases of four bars: common practice, no source.
TEST_CASE("a phrase begins with every fourth bar of its section, on the first beat", "[harmony]") {
    std::vector<int> bars;
    for (const ChordView& chord :
         views("[A]\n| C6 | F6 | C6 | G7 | Am7 D7 | G7 |\n[B]\n| F6 | C6 | F6 | C6 | 2:Dm7 | G7 |\n")) {
        if (chord.opens_phrase) bars.push_back(chord.bar);
    }
    CHECK(bars == std::vector<int>{0, 4, 6});
}

// Where a blues of another length begins is the project's own rule; its three chords are Hutchinson 31.3.
TEST_CASE("a tune of another length is a blues where I7, IV7 and V7 fill two thirds of it", "[harmony]") {
    const auto form = [](const std::string& bars) {
        KeyReading keys;
        keys.home = {5, Ground::Blues};
        return form_of(views(bars), keys, {}, false).form;
    };
    CHECK(form("| F7 | % | Bb7 | % | F7 | D7 | Gm7 | C7 |") == Form::Blues);
    CHECK(form("| F7 | Bb7 | F7 | C7 | Gm7 | Dm7 |") == Form::Blues);
    CHECK(form("| F7 | % | Bb7 | Gm7 | Am7 | D7 | Gm7 | C7 |") != Form::Blues);
    CHECK(form("| F7 | % | C7 | % | F7 | D7 | C7 | F7 |") != Form::Blues);  // it has no IV7
}

}  // namespace shedbook
