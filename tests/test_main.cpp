#define CATCH_CONFIG_RUNNER
#include <unistd.h>

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>

// What is kept between runs is kept apart from what the user has.
int main(int argc, char** argv) {
    const std::filesystem::path cache =
        std::filesystem::temp_directory_path() / ("shedbook-test-cache-" + std::to_string(getpid()));
    setenv("XDG_CACHE_HOME", cache.c_str(), 1);
    const int result = Catch::Session().run(argc, argv);
    std::error_code ignored;
    std::filesystem::remove_all(cache, ignored);
    return result;
}
