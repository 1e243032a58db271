#include <algorithm>
#include <string>
#include <string_view>

#include "command_line.h"
#include "help_text.h"
#include "manual.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// As text: a hyphen that can be searched for and copied, and nothing at the start of a line that is an order.
std::string roff(std::string_view text) {
    std::string out;
    for (const char c : text) {
        if (c == '\\') {
            out += "\\e";
        } else if (c == '-') {
            out += "\\-";
        } else {
            out += c;
        }
    }
    return (out.starts_with('.') || out.starts_with('\'') ? "\\&" : "") + out;
}

std::string sentence(const std::string& text) {
    return roff(text) + (text.ends_with('.') ? "\n" : ".\n");
}

std::string title(const std::string& name, const std::string& version) {
    std::string capitals;
    for (const char c : name) capitals += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
    return ".TH " + roff(capitals) + " 1 \"\" \"shedbook " + version + "\" \"shedbook\"\n";
}

std::string item(const std::string& name, const std::string& about) {
    return ".TP\n.B " + roff(name) + "\n" + roff(about) + "\n";
}

std::string exit_status() {
    std::string out = ".SH EXIT STATUS\n";
    const std::string codes = exit_codes();
    for (const std::string_view line : split(codes, '\n')) {
        const std::size_t blank = line.find(' ');
        if (blank != std::string_view::npos)
            out += item(std::string{line.substr(0, blank)}, std::string{trimmed(line.substr(blank))});
    }
    return out;
}

std::string example(const std::string& text) {
    std::string out = ".SH EXAMPLE\n.nf\n";
    for (const std::string_view line : split(text, '\n')) {
        if (!line.starts_with("Example")) out += roff(trimmed(line)) + "\n";
    }
    return out + ".fi\n";
}

// The page of the program, and those of its own commands.
std::string see_also(const CommandRows& command) {
    std::string out = ".SH SEE ALSO\n.BR shedbook (1)";
    for (const CommandRows& own : command.commands) out += ",\n.BR " + roff(man_page_name(own)) + " (1)";
    return out + "\n";
}

}  // namespace

std::string man_page_name(const CommandRows& command) {
    std::string out = "shedbook-" + command.name;
    std::ranges::replace(out, ' ', '-');
    return out;
}

std::string man_page_of(const CommandRows& command, const std::string& version) {
    std::string out = title(man_page_name(command), version);
    out += ".SH NAME\n" + roff(man_page_name(command)) + " \\- " + roff(command.about) + "\n";
    out += ".SH SYNOPSIS\n" + roff(usage_of(command)) + "\n";
    out += ".SH DESCRIPTION\n" + sentence(command.about);
    for (const CommandRows& own : command.commands) out += item(own_name(own), own.about);
    for (const SyntaxRow& row : command.rows) {
        if (row.is_argument()) out += item(usage_of(row), row.about);
    }
    if (!command.commands.empty()) return out + exit_status() + see_also(command);
    out +=
        ".SH OPTIONS\nOptions and arguments stand in any order; a list is written with commas, or its option "
        "again.\n";
    for (const std::string& group : groups_of(command)) {
        out += ".SS \"" + roff(group) + "\"\n";
        for (const SyntaxRow& row : command.rows) {
            if (!row.is_argument() && row.group == group) out += item(name_in_help(row), row.about);
        }
    }
    return out + example(command.footer) + exit_status() + see_also(command);
}

std::string man_page_of_program(std::span<const CommandRows> commands, const std::string& version) {
    std::string out = title("shedbook", version);
    out +=
        ".SH NAME\nshedbook \\- from the changes of a tune to a practice book for your instrument\n"
        ".SH SYNOPSIS\n.B shedbook\nCOMMAND ...\n"
        ".SH DESCRIPTION\n"
        "Reads the changes of a tune, works out key, function and scale for every chord with the reason,\n"
        "and writes practice books, drill sheets, etudes and play\\-alongs, transposed for the instrument.\n"
        ".SH COMMANDS\n";
    for (const CommandRows& command : commands) out += item(command.name, command.about);
    out += ".SH ENVIRONMENT\n" +
           item("NO_COLOR", "if it is set, messages have no colours on a terminal either") +
           item("XDG_STATE_HOME", "where it is remembered that a caution was read (default: ~/.local/state)");
    out += exit_status() + ".SH SEE ALSO\n";
    for (std::size_t i = 0; i < commands.size(); ++i)
        out += ".BR " + roff(man_page_name(commands[i])) + (i + 1 < commands.size() ? " (1),\n" : " (1)\n");
    return out;
}

}  // namespace shedbook
