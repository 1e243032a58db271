// The arguments and options of the commands. The library that reads command lines is seen by syntax.cpp
// alone: its header costs more to compile than all commands together.
//
//     syntax.add_option("--seed", request->seed, "another number, another etude");
//     syntax.add_option("tune", request->tunes, "tunes").required();
//     syntax.add_flag("--json", request->json, "for programs");
#pragma once

#include <cstdint>
#include <functional>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace CLI {
class App;
class Option;
}  // namespace CLI

namespace shedbook {

// An option that was declared, to say more of it.
class SyntaxOption {
  public:
    explicit SyntaxOption(CLI::Option* option) : option_{option} {}
    SyntaxOption required() const;
    // "a,b" are two values.
    SyntaxOption with_commas() const;
    SyntaxOption positive() const;
    SyntaxOption between(int low, int high) const;
    // Under this heading of the help.
    SyntaxOption in_group(const std::string& heading) const;
    // One value each time it is written.
    SyntaxOption one_value() const;

  private:
    CLI::Option* option_;
};

// Of one command. What is declared is filled when the command line is read, so it must live until then.
class Syntax {
  public:
    explicit Syntax(CLI::App* command) : command_{command} {}
    // A name with hyphens is an option, one without an argument in its place.
    SyntaxOption add_option(const std::string& name, std::string& value, const std::string& about);
    SyntaxOption add_option(const std::string& name, std::vector<std::string>& values,
                            const std::string& about);
    SyntaxOption add_option(const std::string& name, int& value, const std::string& about);
    SyntaxOption add_option(const std::string& name, std::uint64_t& value, const std::string& about);
    void add_flag(const std::string& name, bool& value, const std::string& about);
    // A command of this one: `log add`. One of them must be asked for.
    Syntax add_command(const std::string& name, const std::string& about, const std::string& footer);
    [[nodiscard]] bool is_asked() const;
    // A flag that is answered at once, in place of the command.
    void add_answer(const std::string& name, std::function<void()> answer, const std::string& about);

  private:
    CLI::App* command_;
};

// Of the whole program.
class ProgramSyntax {
  public:
    ProgramSyntax(const std::string& name, const std::string& about, const std::string& version,
                  const std::string& footer);
    ~ProgramSyntax();
    ProgramSyntax(const ProgramSyntax&) = delete;
    ProgramSyntax& operator=(const ProgramSyntax&) = delete;

    Syntax add_command(const std::string& name, const std::string& about, const std::string& footer);

    // The place of the command that is to run. Nothing: help was asked for, or the line is at fault; it is
    // said already.
    struct Asked {
        std::optional<std::size_t> command;
        bool is_fault = false;
    };
    Asked read(int argc, char** argv);

  private:
    std::unique_ptr<CLI::App> program_;
    std::vector<CLI::App*> commands_;
};

}  // namespace shedbook
