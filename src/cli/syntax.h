// The arguments and options of a command, declared as rows. Whatever walks the rows sees the same: what reads
// a command line (command_line.h), the help (help_text.h), man pages and completions of shells (manual.h).
//
//     syntax.add_option("--seed", request->seed, "another number, another etude").takes("NUMBER");
//     syntax.add_option("tune", request->tunes, "tunes").required().reads_file();
//     syntax.add_flag("--json", request->json, "for programs");
#pragma once

#include <cstddef>
#include <cstdint>
#include <functional>
#include <list>
#include <map>
#include <string>
#include <vector>

namespace shedbook {

using Words = std::vector<std::string>;

// One option, or one argument in its place.
struct SyntaxRow {
    std::string name = {};        // "--output"; of an argument "tune"
    std::string short_name = {};  // "-o"; may be empty
    std::string value = {};       // what stands for the value in a help text, "FILE"; empty for a flag
    std::string about = {};
    std::string group = {};  // heading of the help
    bool is_required = false;
    bool is_list = false;      // may be given more than once
    bool with_commas = false;  // "a,b" are two values
    enum class File { None, Read, Written } file = File::None;
    // Takes a value in; UsageError where it cannot be. Of a flag: without any, ends the program's work if
    // `is_answer`.
    std::function<void(const std::string&)> set = {};
    std::vector<std::function<void(const std::string&)>> checks = {};
    bool is_answer = false;
    std::function<Words()> words = {};                     // that a shell can complete
    std::function<bool(const std::string&)> goes_on = {};  // whether the next word is one more value

    [[nodiscard]] bool is_argument() const { return !name.starts_with('-'); }
    [[nodiscard]] bool is_flag() const { return value.empty(); }
};

// A command with all that can be said to it. One that has commands of its own, as `log` has `log add`, takes
// one of them and nothing else.
struct CommandRows {
    std::string name;  // "book", "log add"
    std::string about;
    std::string footer;  // of its help: "Example:\n  shedbook book ..."
    std::string group;
    std::vector<SyntaxRow> rows = {};
    std::list<CommandRows> commands = {};
    bool is_asked = false;  // it is the one that is to run
    std::map<std::string, std::string> elsewhere =
        {};  // an option it has not -> who does what is meant by it
};

// A row that was declared, to say more of it.
class SyntaxOption {
  public:
    SyntaxOption(std::vector<SyntaxRow>* rows, std::size_t at) : rows_{rows}, at_{at} {}
    SyntaxOption required() const;
    SyntaxOption with_commas() const;
    SyntaxOption positive() const;
    SyntaxOption between(int low, int high) const;
    // Under this heading of the help.
    SyntaxOption in_group(const std::string& heading) const;
    // What stands for the value in the help: "INSTRUMENTS".
    SyntaxOption takes(const std::string& placeholder) const;
    // The name of a file that must be there ("-" always is), or of one that will be written.
    SyntaxOption reads_file() const;
    SyntaxOption writes_file() const;
    // Looks at each value before anything is done; throws UsageError.
    SyntaxOption checked(std::function<void(const std::string&)> check) const;
    // What a shell can complete here.
    SyntaxOption offers(std::function<Words()> words) const;
    // As long as this is true of the next word, it is one more value: "--for flute trumpet".
    SyntaxOption goes_on_with(std::function<bool(const std::string&)> is_more) const;

  private:
    [[nodiscard]] SyntaxRow& row() const { return (*rows_)[at_]; }
    std::vector<SyntaxRow>* rows_;
    std::size_t at_;
};

// Of one command. What is declared is filled when the command line is read, so it must live until then.
class Syntax {
  public:
    explicit Syntax(CommandRows& command) : command_{&command} {}
    // A name with hyphens is an option ("-o,--output" two names of one), one without an argument.
    SyntaxOption add_option(const std::string& name, std::string& value, const std::string& about);
    SyntaxOption add_option(const std::string& name, Words& values, const std::string& about);
    SyntaxOption add_option(const std::string& name, int& value, const std::string& about);
    SyntaxOption add_option(const std::string& name, std::uint64_t& value, const std::string& about);
    // A command of this one: "add" of `log`. One of them must be asked for.
    Syntax add_command(const std::string& name, const std::string& about, const std::string& footer);
    [[nodiscard]] bool is_asked() const { return command_->is_asked; }
    void add_flag(const std::string& name, bool& value, const std::string& about);
    // A flag that is answered at once, in place of the command.
    void add_answer(const std::string& name, std::function<void()> answer, const std::string& about);
    // An option that people look for here. `where`: who does what they mean, as the end of a sentence.
    void say_elsewhere(const std::string& name, const std::string& where) {
        command_->elsewhere.emplace(name, where);
    }
    // The heading for what is declared from here on.
    void begin_group(const std::string& heading) { group_ = heading; }

  private:
    SyntaxOption add(SyntaxRow row, const std::string& names);
    CommandRows* command_;
    std::string group_ = "Options";
};

// A whole number in decimal digits that fits, or UsageError.
[[nodiscard]] std::int64_t whole_number(const std::string& text);

}  // namespace shedbook
