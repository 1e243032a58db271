#include "shedbook/io/embedded.h"

#include <catch2/catch.hpp>

namespace shedbook {

TEST_CASE("every template of the program is found by its name, others are empty", "[io]") {
    CHECK(embedded_templates().size() >= 6);
    for (const EmbeddedTemplate& file : embedded_templates()) {
        INFO(file.name);
        CHECK((file.name.ends_with(".toml") || file.name == "words.md"));
        CHECK_FALSE(file.text.empty());
        CHECK(embedded_template(file.name) == file.text);
    }
    CHECK(embedded_template("none.toml").empty());
}

TEST_CASE("a shipped file is read whole", "[io]") {
    const auto size =
        read_shipped("plans.toml", [](const SourceText& source, Diagnostics&) { return source.text.size(); });
    CHECK(size == embedded_template("plans.toml").size());
}

}  // namespace shedbook
