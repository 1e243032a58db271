#include "shedbook/write/quickest_font.h"

#include <catch2/catch.hpp>
#include <string>

#include "scratch_folder.h"

namespace shedbook {
namespace {

// The head of a RIFF file of the form sfbk (SoundFont Technical Specification 2.04, chapter 4), and so much
// behind it.
std::string font_of(std::size_t bytes) {
    return "RIFF\1\1\1\1sfbk" + std::string(bytes, 'x');
}

}  // namespace

TEST_CASE("the smallest sound font that is not packed is ready soonest", "[write]") {
    const ScratchFolder folder;
    const ScratchFolder other;
    CHECK(quickest_sound_font({folder.file("")}).empty());
    save(folder.file("packed.sf3"), font_of(10));
    CHECK(quickest_sound_font({folder.file("")}).ends_with("packed.sf3"));
    save(folder.file("large.sf2"), font_of(900));
    CHECK(quickest_sound_font({folder.file(""), other.file("")}).ends_with("large.sf2"));
    save(other.file("small.sf2"), font_of(200));
    save(other.file("none.sf2"), "no sound font");
    CHECK(quickest_sound_font({folder.file(""), other.file("")}).ends_with("small.sf2"));
}

}  // namespace shedbook
