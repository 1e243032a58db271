// The distance between two spelled notes: so many letters and so many semitones, so that an augmented fourth
// and a diminished fifth stay two things.
//
//     kMajorThird + kMinorThird == kPerfectFifth;          // true
//     Interval{3, 6} == Interval{4, 6};                    // false: #4 is not b5
//     degree_name(Interval{4, 6});                         // "b5"
#pragma once

#include <array>
#include <compare>
#include <cstddef>
#include <optional>
#include <span>
#include <string>
#include <string_view>

namespace shedbook {

class Interval {
  public:
    constexpr Interval() = default;
    // steps: letters up (a second is 1, an octave 7); semitones: how far that sounds. Both may be negative.
    constexpr Interval(int steps, int semitones) : steps_{steps}, semitones_{semitones} {}

    [[nodiscard]] constexpr int steps() const { return steps_; }
    [[nodiscard]] constexpr int semitones() const { return semitones_; }
    // Places on the line of fifths, octaves apart counting as the same: a fifth is 1, a flat seventh -2.
    [[nodiscard]] constexpr int fifths() const { return 7 * semitones_ - 12 * steps_; }
    // Semitones more (sharp) or fewer (flat) than the major or perfect interval of as many steps.
    [[nodiscard]] constexpr int alter() const {
        constexpr int kMajor[7] = {0, 2, 4, 5, 7, 9, 11};
        const int octave = steps_ >= 0 ? steps_ / 7 : -((-steps_ + 6) / 7);
        return semitones_ - 12 * octave - kMajor[steps_ - 7 * octave];
    }

    friend constexpr Interval operator+(Interval a, Interval b) {
        return {a.steps_ + b.steps_, a.semitones_ + b.semitones_};
    }
    friend constexpr Interval operator-(Interval a) { return {-a.steps_, -a.semitones_}; }
    friend constexpr Interval operator-(Interval a, Interval b) { return a + -b; }
    friend constexpr Interval operator*(int times, Interval a) {
        return {times * a.steps_, times * a.semitones_};
    }
    friend constexpr bool operator==(Interval, Interval) = default;

  private:
    int steps_ = 0;
    int semitones_ = 0;
};

inline constexpr Interval kUnison{0, 0};
inline constexpr Interval kMinorSecond{1, 1};
inline constexpr Interval kMajorSecond{1, 2};
inline constexpr Interval kMinorThird{2, 3};
inline constexpr Interval kMajorThird{2, 4};
inline constexpr Interval kPerfectFifth{4, 7};
inline constexpr Interval kMinorSeventh{6, 10};
inline constexpr Interval kOctave{7, 12};
// From a note to its enharmonic neighbour one letter up (C# to Db).
inline constexpr Interval kDiminishedSecond{1, 0};

// The interval from a tonic to its n-th degree (1 is the tonic itself, 9 the second an octave up), altered by
// semitones: make_degree(7, -1) is the flat seventh.
[[nodiscard]] constexpr Interval make_degree(int number, int alter = 0) {
    constexpr int kMajor[7] = {0, 2, 4, 5, 7, 9, 11};
    const int steps = number - 1;
    return {steps, 12 * (steps / 7) + kMajor[steps % 7] + alter};
}

// "1", "b3", "#11", "bb7": the degree of a scale or chord as musicians write it. Rising intervals only.
[[nodiscard]] std::string degree_name(Interval interval);
[[nodiscard]] std::optional<Interval> parse_degree(std::string_view text);

// Degrees of a table's row, with one blank between them: "1 b3 5 b7". The value holds text and intervals, so
// it may be copied about. At most twelve; anything but accidentals and numbers does not compile.
class DegreeList {
  public:
    constexpr DegreeList(const char* text) : text_{text} {
        int number = 0;
        int alter = 0;
        for (const char c : text_) {
            if (c == ' ') {
                intervals_.at(count_++) = make_degree(number, alter);
                number = alter = 0;
            } else if (c == '#' || c == 'b') {
                alter += c == '#' ? 1 : -1;
            } else {
                number = 10 * number + (c >= '0' && c <= '9' ? c - '0' : throw "no degree");
            }
        }
        intervals_.at(count_++) = make_degree(number, alter);
    }

    [[nodiscard]] constexpr std::string_view text() const { return text_; }
    [[nodiscard]] constexpr std::span<const Interval> intervals() const {
        return {intervals_.data(), count_};
    }

  private:
    std::string_view text_;
    std::array<Interval, 12> intervals_{};
    std::size_t count_ = 0;
};

// "m3", "P4", "A5": quality and number, as in theory books; descending intervals get a minus sign.
[[nodiscard]] std::string interval_name(Interval interval);
// Reads "m3", "M2", "P5", "A4", "d5", also "minor third" and "whole step"; direction is the caller's
// business.
[[nodiscard]] std::optional<Interval> parse_interval(std::string_view text);

}  // namespace shedbook
