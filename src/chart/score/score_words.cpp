#include "score_words.h"

#include <algorithm>
#include <array>
#include <cstdlib>
#include <span>
#include <vector>

#include "../form_words.h"
#include "../sign_words.h"
#include "shedbook/base/text.h"
#include "shedbook/chart/limits.h"

namespace shedbook {
namespace {

// Whether the first word, a number or a colon behind it aside, is one of the list.
template <std::size_t kCount>
bool begins_with_one_of(const std::string& words, const std::array<std::string_view, kCount>& list) {
    std::string first = lower_case(words.substr(0, words.find(' ')));
    while (!first.empty() && (first.back() == ':' || first.back() == '.' || first.back() == ')'))
        first.pop_back();
    return std::ranges::find(list, first) != list.end();
}

constexpr std::array<std::string_view, 21> kSectionNames{
    "verse",     "verses", "chorus", "refrain", "bridge",  "intro",      "introduction",
    "interlude", "trio",   "vamp",   "tag",     "outro",   "ending",     "solo",
    "solos",     "head",   "shout",  "release", "channel", "pre-chorus", "strain"};

constexpr std::array<std::string_view, 33> kFeelWords{
    "swing",    "bossa",    "ballad",     "waltz",   "shuffle",    "latin",   "samba",  "straight", "even",
    "moderato", "moderate", "moderately", "slow",    "slowly",     "fast",    "medium", "up",       "uptempo",
    "bright",   "brightly", "lively",     "allegro", "allegretto", "andante", "adagio", "lento",    "largo",
    "presto",   "vivace",   "rubato",     "funk",    "march",      "tempo"};

std::vector<int> ending_numbers(std::string_view text) {
    std::vector<int> out;
    int range_from = 0;
    for (std::size_t at = 0; at < text.size();) {
        if (text[at] < '0' || text[at] > '9') {
            if (text[at] == '-' && !out.empty()) range_from = out.back();
            ++at;
            continue;
        }
        int number = 0;
        for (; at < text.size() && text[at] >= '0' && text[at] <= '9'; ++at) {
            number = std::min(10 * number + (text[at] - '0'), kHighestEnding + 1);
        }
        if (number < 1 || number > kHighestEnding) continue;
        for (int i = range_from > 0 ? range_from + 1 : number; i < number; ++i) out.push_back(i);
        out.push_back(number);
        range_from = 0;
    }
    return out;
}

bool is_yes(pugi::xml_attribute attribute) {
    return !attribute.empty() && lower_case(attribute.value()) != "no";
}

}  // namespace

bool is_section_name(const std::string& words) {
    return begins_with_one_of(words, kSectionNames);
}

bool is_feel(const std::string& text) {
    constexpr std::size_t kLongest = 60;
    if (text.size() > kLongest) return false;
    const std::string lower = lower_case(text);
    const std::vector<std::string_view> words = words_in(lower);
    return std::ranges::any_of(
        words, [](std::string_view word) { return std::ranges::find(kFeelWords, word) != kFeelWords.end(); });
}

void take_sound_marks(pugi::xml_node sound, SignSet& signs) {
    for (const FormSignRow& row : form_signs()) {
        if (row.xml_sound.empty() || !is_yes(sound.attribute(row.xml_sound.data()))) continue;
        // The attribute of a jump does not say how far: what was said in words is kept.
        if (row.jump && (row.jump->al_fine || row.jump->al_coda || signs.jump())) continue;
        signs.put(row.sign);
    }
}

void take_barline(pugi::xml_node barline, ScoreBar& out) {
    const std::string_view location = barline.attribute("location").as_string("right");
    if (location == "middle") return;
    const bool at_right = location != "left";
    BarMarks& marks = out.bar.marks;
    const std::string_view style = barline.child("bar-style").text().get();
    if (!at_right && style == "light-light") out.has_double_bar_before = true;
    if (at_right && (style == "light-light" || style == "light-heavy" || style == "heavy-heavy")) {
        marks.double_bar = true;
    }
    if (const pugi::xml_node repeat = barline.child("repeat")) {
        const bool forward = std::string_view{repeat.attribute("direction").value()} == "forward";
        const int times = std::clamp(repeat.attribute("times").as_int(2), 2, kMostTimes);
        if (forward) {
            (at_right ? out.opens_repeat_after : marks.repeat_start) = true;
        } else if (at_right) {
            marks.repeat_end = times;
        } else {
            out.closes_repeat_before = true;
        }
    }
    if (const pugi::xml_node ending = barline.child("ending")) {
        EndingSign sign;
        sign.type = std::string_view{ending.attribute("type").value()} == "start" ? EndingType::Start
                                                                                  : EndingType::Stop;
        sign.at_right = at_right;
        sign.numbers = ending_numbers(ending.attribute("number").value());
        if (sign.numbers.empty()) sign.numbers = ending_numbers(ending.text().get());
        out.endings.push_back(std::move(sign));
    }
    for (const FormSignRow& row : form_signs()) {
        if (row.xml_element.empty()) continue;
        const char* name = row.xml_element.data();
        if (barline.child(name) || !barline.attribute(name).empty()) out.take_drawn(row.sign);
    }
}

}  // namespace shedbook
