#include "syntax.h"

#include <CLI/CLI.hpp>
#include <utility>

namespace shedbook {

SyntaxOption SyntaxOption::required() const {
    option_->required();
    return *this;
}

SyntaxOption SyntaxOption::with_commas() const {
    option_->delimiter(',');
    return *this;
}

SyntaxOption SyntaxOption::positive() const {
    option_->check(CLI::PositiveNumber);
    return *this;
}

SyntaxOption SyntaxOption::between(int low, int high) const {
    option_->check(CLI::Range(low, high));
    return *this;
}

SyntaxOption SyntaxOption::in_group(const std::string& heading) const {
    option_->group(heading);
    return *this;
}

SyntaxOption SyntaxOption::one_value() const {
    option_->allow_extra_args(false);
    return *this;
}

SyntaxOption Syntax::add_option(const std::string& name, std::string& value, const std::string& about) {
    return SyntaxOption{command_->add_option(name, value, about)};
}

SyntaxOption Syntax::add_option(const std::string& name, std::vector<std::string>& values,
                                const std::string& about) {
    return SyntaxOption{command_->add_option(name, values, about)};
}

SyntaxOption Syntax::add_option(const std::string& name, int& value, const std::string& about) {
    return SyntaxOption{command_->add_option(name, value, about)};
}

SyntaxOption Syntax::add_option(const std::string& name, std::uint64_t& value, const std::string& about) {
    return SyntaxOption{command_->add_option(name, value, about)};
}

void Syntax::add_flag(const std::string& name, bool& value, const std::string& about) {
    command_->add_flag(name, value, about);
}

Syntax Syntax::add_command(const std::string& name, const std::string& about, const std::string& footer) {
    command_->require_subcommand(1);
    CLI::App* command = command_->add_subcommand(name, about);
    command->footer(footer);
    return Syntax{command};
}

bool Syntax::is_asked() const {
    return command_->parsed();
}

void Syntax::add_answer(const std::string& name, std::function<void()> answer, const std::string& about) {
    command_->add_flag_callback(
        name,
        [answer = std::move(answer)] {
            answer();
            throw CLI::Success{};
        },
        about);
}

ProgramSyntax::ProgramSyntax(const std::string& name, const std::string& about, const std::string& version,
                             const std::string& footer)
    : program_{std::make_unique<CLI::App>(about, name)} {
    program_->set_version_flag("--version", version);
    program_->require_subcommand(1);
    program_->footer(footer);
}

ProgramSyntax::~ProgramSyntax() = default;

Syntax ProgramSyntax::add_command(const std::string& name, const std::string& about,
                                  const std::string& footer) {
    CLI::App* command = program_->add_subcommand(name, about);
    command->footer(footer);
    commands_.push_back(command);
    return Syntax{command};
}

ProgramSyntax::Asked ProgramSyntax::read(int argc, char** argv) {
    try {
        program_->parse(argc, argv);
    } catch (const CLI::ParseError& error) {
        return {std::nullopt, program_->exit(error) != 0};
    }
    for (std::size_t i = 0; i < commands_.size(); ++i) {
        if (commands_[i]->parsed()) return {i, false};
    }
    return {std::nullopt, true};
}

}  // namespace shedbook
