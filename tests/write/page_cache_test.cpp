#include "../../src/write/page_cache.h"

#include <catch2/catch.hpp>
#include <filesystem>

#include "scratch_folder.h"
#include "shedbook/io/files.h"

namespace shedbook {
namespace {

void keep(const PageCache& cache, const std::string& file, const std::string& key, int first = 1) {
    cache.keep({{key, {{file, first, 2}, 1.0325, "too full"}}});
}

}  // namespace

TEST_CASE("pages are found by the whole of their key, and are the finder's own", "[write]") {
    const ScratchFolder folder;
    const ScratchFolder into;
    save(folder.file("set.pdf"), "pages");
    const PageCache cache{folder.file("cache")};
    keep(cache, folder.file("set.pdf"), "one", 3);
    const auto found = cache.find("one", into.file("."));
    REQUIRE(found);
    CHECK(found->pages.first == 3);
    CHECK(found->pages.count == 2);
    CHECK(found->wide == 1.0325);
    CHECK(found->warning == "too full");
    std::filesystem::remove_all(folder.file("cache"));
    CHECK(read_file(found->pages.path) == "pages");
    CHECK_FALSE(cache.find("one", into.file(".")));
    CHECK_FALSE(cache.find("on", into.file(".")));
}

TEST_CASE("a cache that is damaged, not there or not writable finds and keeps nothing", "[write]") {
    const ScratchFolder folder;
    const ScratchFolder into;
    save(folder.file("set.pdf"), "pages");
    const PageCache cache{folder.file("cache")};
    keep(cache, folder.file("set.pdf"), "one");
    for (const auto& file : std::filesystem::directory_iterator{folder.file("cache")}) {
        if (file.path().extension() == ".pdf") save(file.path().string(), "cut");
    }
    CHECK_FALSE(cache.find("one", into.file(".")));
    for (const auto& file : std::filesystem::directory_iterator{folder.file("cache")})
        save(file.path().string(), "nonsense");
    CHECK_FALSE(cache.find("one", into.file(".")));
    save(folder.file("file"), "no folder");
    const PageCache none{folder.file("file") + "/below"};
    keep(none, folder.file("set.pdf"), "one");
    CHECK_FALSE(none.find("one", into.file(".")));
    CHECK_FALSE(PageCache{""}.find("one", into.file(".")));
}

TEST_CASE("what was used longest ago makes room", "[write]") {
    const ScratchFolder folder;
    const ScratchFolder into;
    constexpr std::uintmax_t kRoom = 2500;
    const PageCache cache{folder.file("cache"), kRoom};
    for (const char* name : {"one", "two", "three"}) {
        save(folder.file("set.pdf"), std::string(1000, name[1]));
        keep(cache, folder.file("set.pdf"), name);
        if (std::string{name} == "two") {
            // Long ago, for a clock that may not tell two files apart.
            for (const auto& file : std::filesystem::directory_iterator{folder.file("cache")})
                std::filesystem::last_write_time(file.path(), file.last_write_time() - std::chrono::hours{1});
            CHECK(cache.find("one", into.file(".")));
        }
    }
    CHECK(cache.find("one", into.file(".")));
    CHECK_FALSE(cache.find("two", into.file(".")));
    CHECK(cache.find("three", into.file(".")));
    std::uintmax_t all = 0;
    for (const auto& file : std::filesystem::directory_iterator{folder.file("cache")})
        all += file.file_size();
    CHECK(all <= kRoom);
}

}  // namespace shedbook
