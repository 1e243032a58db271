// Commands that have commands of their own, as they are declared, explained and completed.
#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "command_line.h"
#include "help_text.h"
#include "manual.h"
#include "syntax.h"

namespace shedbook {
namespace {

struct Kept {
    CommandRows shelf{"shelf", "Put things on a shelf", "Example:\n  shedbook shelf add reed", "Begin"};
    std::string thing;
    std::string kind;
    Kept() {
        Syntax syntax{shelf};
        Syntax add = syntax.add_command(
            "add", "Put a thing there",
            "Examples:\n  shedbook shelf add reed\n  shedbook shelf add cork\nNo more than ten.");
        add.add_option("thing", thing, "what").required();
        add.add_option("--kind", kind, "its kind").offers([] { return Words{"soft", "hard"}; });
        syntax.add_command("clear", "Take all away", "Example:\n  shedbook shelf clear");
    }
};

}  // namespace

TEST_CASE("a command of a command has its help, usage and example", "[cli][line]") {
    const Kept kept;
    CHECK(usage_of(kept.shelf) == "shedbook shelf COMMAND ...");
    CHECK_THAT(help_of(kept.shelf),
               Catch::Contains("\n  add ") && Catch::Contains("'shedbook help shelf COMMAND'"));
    const CommandRows& add = kept.shelf.commands.front();
    CHECK(add.name == "shelf add");
    CHECK(own_name(add) == "add");
    CHECK(example_of(add) == "shedbook shelf add reed");
    CHECK_THAT(help_of(add),
               Catch::Contains("shedbook shelf add THING [options]") && Catch::Contains("No more than ten."));
}

TEST_CASE("the line of a command of a command is read as any other", "[cli][line]") {
    Kept kept;
    const LineRead read = read_command_line(kept.shelf.commands.front(), {"--kind", "soft", "reed"},
                                            [](const std::string&) { return Words{}; });
    CHECK(read.faults.empty());
    CHECK(kept.thing == "reed");
    CHECK(kept.kind == "soft");
}

TEST_CASE("man pages and completions know the commands of commands", "[cli][line]") {
    const Kept kept;
    const std::vector<CommandRows> all{kept.shelf};
    CHECK(man_page_name(kept.shelf.commands.front()) == "shedbook-shelf-add");
    CHECK_THAT(man_page_of(kept.shelf, "1"), Catch::Contains("shedbook\\-shelf\\-add (1)"));
    CHECK_THAT(man_page_of(kept.shelf.commands.front(), "1"), Catch::Contains("shedbook shelf add cork"));
    CHECK_THAT(bash_completion(all), Catch::Contains("'shelf add --kind') _shedbook_words soft hard"));
    CHECK_THAT(zsh_completion(all), Catch::Contains("'--kind[its kind]:WORD:(soft hard)'"));
    CHECK_THAT(
        fish_completion(all),
        Catch::Contains("'__fish_seen_subcommand_from shelf; and __fish_seen_subcommand_from add' -l kind"));
}

}  // namespace shedbook
