#include "help_text.h"

#include <algorithm>
#include <string_view>

#include "command_line.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Where the explanations begin.
constexpr std::size_t kNameColumns = 26;
constexpr std::size_t kCommandColumns = 12;

// A name, and what is said of it beside it, or under it where it is long.
std::string entry(const std::string& name, const std::string& about, std::size_t columns) {
    const std::string head = "  " + name;
    const std::string body = wrapped_lines(about, columns);
    if (head.size() + 1 >= columns) return head + "\n" + body;
    return head + body.substr(std::min(head.size(), body.size()));
}

template <class Rows, class GroupOf>
Words groups_in(const Rows& rows, GroupOf group_of) {
    Words out;
    for (const auto& row : rows) {
        const std::string group = group_of(row);
        if (!group.empty() && std::ranges::find(out, group) == out.end()) out.push_back(group);
    }
    return out;
}

}  // namespace

std::string wrapped_lines(const std::string& text, std::size_t indent, std::size_t columns) {
    std::string out;
    std::string line(indent, ' ');
    for (const std::string_view word : split(text, ' ')) {
        const bool is_fresh = line.size() == indent;
        if (!is_fresh && count_characters(line) + 1 + count_characters(word) > columns) {
            out += line + "\n";
            line.assign(indent, ' ');
        }
        if (line.size() > indent) line += ' ';
        line += word;
    }
    return out + line + "\n";
}

std::string exit_codes() {
    return "0    done\n"
           "1    a chart, a list or another file has faults; they are shown with their places\n"
           "2    the command line asks for something that there is not\n"
           "3    the machine: a file that cannot be opened or written, a program that is not installed\n"
           "130  stopped with Ctrl-C\n";
}

Words groups_of(const CommandRows& command) {
    return groups_in(command.rows,
                     [](const SyntaxRow& row) { return row.is_argument() ? std::string{} : row.group; });
}

std::string name_in_help(const SyntaxRow& row) {
    if (row.is_argument()) return usage_of(row);
    return (row.short_name.empty() ? "" : row.short_name + ", ") + row.name +
           (row.is_flag() ? "" : " " + row.value);
}

std::string usage_of(const CommandRows& command) {
    std::string out = "shedbook " + command.name;
    if (!command.commands.empty()) return out + " COMMAND ...";
    for (const SyntaxRow& row : command.rows) {
        if (row.is_argument()) out += " " + (row.is_required ? usage_of(row) : "[" + usage_of(row) + "]");
    }
    for (const SyntaxRow& row : command.rows) {
        if (!row.is_argument() && row.is_required) out += " " + usage_of(row);
    }
    return out + " [options]";
}

std::string own_name(const CommandRows& command) {
    return command.name.substr(command.name.rfind(' ') + 1);
}

std::string example_of(const CommandRows& command) {
    for (const std::string_view line : split(command.footer, '\n')) {
        if (line.starts_with("  ")) return std::string{trimmed(line)};
    }
    return {};
}

std::string help_of(const CommandRows& command) {
    std::string out = wrapped_lines(command.about + ".", 0) + "\n  " + usage_of(command) + "\n\n";
    for (const CommandRows& own : command.commands) out += entry(own_name(own), own.about, kCommandColumns);
    if (!command.commands.empty())
        out += "\n'shedbook help " + command.name + " COMMAND' explains one of them.\n";
    for (const SyntaxRow& row : command.rows) {
        if (row.is_argument()) out += entry(usage_of(row), row.about, kNameColumns);
    }
    for (const std::string& group : groups_of(command)) {
        out += "\n" + group + ":\n";
        for (const SyntaxRow& row : command.rows) {
            if (!row.is_argument() && row.group == group)
                out += entry(name_in_help(row), row.about, kNameColumns);
        }
    }
    out += "\n";
    for (const std::string_view line : split(command.footer, '\n')) {
        // An example is one line, however long.
        out += line.starts_with("  ") ? std::string{line} + "\n" : wrapped_lines(std::string{line}, 0);
    }
    return out;
}

std::string help_of_program(std::span<const CommandRows> commands) {
    std::string out =
        "shedbook: from the changes of a tune to a practice book for your instrument.\n\n"
        "  shedbook COMMAND ...\n";
    const Words groups = groups_in(commands, [](const CommandRows& row) { return row.group; });
    for (const std::string& group : groups) {
        out += "\n" + group + ":\n";
        for (const CommandRows& command : commands) {
            if (command.group == group) out += entry(command.name, command.about, kCommandColumns);
        }
    }
    out +=
        "\n'shedbook help COMMAND' explains a command, with an example; 'shedbook -V' says which this is.\n";
    out += "Exit codes:\n";
    const std::string codes = exit_codes();
    for (const std::string_view line : split(codes, '\n')) {
        if (!line.empty()) out += "  " + std::string{line} + "\n";
    }
    return out;
}

}  // namespace shedbook
