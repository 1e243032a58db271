#include <algorithm>
#include <string>
#include <string_view>
#include <vector>

#include "help_text.h"
#include "manual.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// Words that need no quotation marks in any shell; others are typed by hand.
Words plain_words(const SyntaxRow& row) {
    Words out;
    if (!row.words) return out;
    for (const std::string& word : row.words()) {
        const bool is_plain = std::ranges::all_of(word, [](char c) {
            return is_letter(c) || is_digit(c) || c == '-' || c == '_' || c == '.' || c == '/';
        });
        if (is_plain && !word.empty()) out.push_back(word);
    }
    return out;
}

Words names_of(const SyntaxRow& row) {
    return row.short_name.empty() ? Words{row.name} : Words{row.short_name, row.name};
}

Words option_names(const CommandRows& command) {
    Words out;
    for (const SyntaxRow& row : command.rows) {
        if (row.is_argument()) continue;
        for (const std::string& name : names_of(row)) out.push_back(name);
    }
    return out;
}

Words command_names(std::span<const CommandRows> commands) {
    Words out;
    for (const CommandRows& command : commands) out.push_back(command.name);
    out.emplace_back("help");
    return out;
}

// Of an explanation the part before the first stop, which says what it is.
std::string in_short(const std::string& about) {
    constexpr std::size_t kMost = 60;
    std::string out = about.substr(0, about.find_first_of("(;:"));
    if (out.size() > kMost) out = out.substr(0, out.rfind(' ', kMost));
    return std::string{trimmed(out)};
}

std::string escaped(std::string_view text, std::string_view characters) {
    std::string out;
    for (const char c : text) {
        if (characters.find(c) != std::string_view::npos) out += '\\';
        out += c;
    }
    return out;
}

// Within marks ' of a shell: the apostrophe ends them, stands for itself, and opens them again.
std::string in_marks(std::string_view text) {
    std::string out = "'";
    for (const char c : text) out += c == '\'' ? std::string{"'\\''"} : std::string(1, c);
    return out + "'";
}

// Sources of words for what stands behind an option of a command, and for the arguments themselves.
std::string bash_values(const CommandRows& command, const SyntaxRow& row) {
    Words patterns;
    for (const std::string& name : names_of(row)) patterns.push_back("'" + command.name + " " + name + "'");
    const Words words = plain_words(row);
    const std::string what = words.empty()
                                 ? (row.file == SyntaxRow::File::None ? "return" : "_shedbook_files")
                                 : "_shedbook_words " + join(words, " ");
    return "        " + join(patterns, "|") + ") " + what + "; return ;;\n";
}

std::string zsh_words(const SyntaxRow& row) {
    const Words words = plain_words(row);
    if (words.empty()) return row.file == SyntaxRow::File::None ? " " : "_files";
    if (row.with_commas) return "_values -s , " + row.value + " " + join(words, " ");
    return "(" + join(words, " ") + ")";
}

std::string zsh_spec(const SyntaxRow& row) {
    if (row.is_argument()) {
        const std::string source = plain_words(row).empty() ? "_files" : zsh_words(row);
        return in_marks((row.is_list ? "*:" : ":") + row.name + ":" + source);
    }
    const std::string about = "[" + escaped(in_short(row.about), "[]:\\") + "]";
    const std::string value = row.is_flag() ? "" : ":" + row.value + ":" + zsh_words(row);
    const std::string again = row.is_list ? "*" : "";
    std::string out;
    for (const std::string& name : names_of(row))
        out += (out.empty() ? "" : " \\\n                ") + in_marks(again + name + about + value);
    return out;
}

// "log add" is asked for where both words stand in the line.
std::string fish_seen(const CommandRows& command) {
    Words seen;
    for (const std::string_view word : split(command.name, ' '))
        seen.push_back("__fish_seen_subcommand_from " + std::string{word});
    return join(seen, "; and ");
}

std::string fish_option(const CommandRows& command, const SyntaxRow& row) {
    std::string out = "complete -c shedbook -n '" + fish_seen(command) + "'";
    if (!row.is_argument()) {
        if (!row.short_name.empty()) out += " -s " + row.short_name.substr(1);
        out += " -l " + row.name.substr(2);
    }
    const Words words = plain_words(row);
    if (!words.empty()) {
        const std::string list = join(words, " ");
        out += (row.is_argument() ? " -f -a " : " -x -a ") +
               in_marks(row.with_commas ? "(__fish_append , " + list + ")" : list);
    } else if (!row.is_argument() && !row.is_flag()) {
        out += row.file == SyntaxRow::File::None ? " -x" : " -r -F";
    } else if (row.is_flag()) {
        out += " -f";
    }
    return out + " -d " + in_marks(in_short(row.about)) + "\n";
}

constexpr std::string_view kBashHead =
    R"(# Completions of shedbook for bash; made of the rows that its help is made of.
_shedbook_words() {
    local before=
    [[ $current == *,* ]] && before=${current%,*},
    mapfile -t COMPREPLY < <(compgen -P "$before" -W "$*" -- "${current##*,}")
}
_shedbook_files() {
    compopt -o filenames 2> /dev/null
    mapfile -t COMPREPLY < <(compgen -f -- "$current")
}
_shedbook() {
    local current=${COMP_WORDS[COMP_CWORD]} before=${COMP_WORDS[COMP_CWORD - 1]} command=${COMP_WORDS[1]}
    COMPREPLY=()
)";

Words own_names(const CommandRows& command) {
    Words out;
    for (const CommandRows& own : command.commands) out.push_back(own_name(own));
    return out;
}

// Commands and the commands of commands, in one list.
std::vector<const CommandRows*> with_own(std::span<const CommandRows> commands) {
    std::vector<const CommandRows*> out;
    for (const CommandRows& command : commands) {
        out.push_back(&command);
        for (const CommandRows& own : command.commands) out.push_back(&own);
    }
    return out;
}

std::string bash_own_commands(const CommandRows& command) {
    return "    if [[ $command == " + command.name +
           " ]]; then\n        if ((COMP_CWORD == 2)); then _shedbook_words " +
           join(own_names(command), " ") + "; return; fi\n        command+=\" ${COMP_WORDS[2]}\"\n    fi\n";
}

// What stands in the line of a command without an option before it: options, words or files.
std::string bash_words(const CommandRows& command) {
    Words arguments;
    for (const SyntaxRow& row : command.rows) {
        if (!row.is_argument()) continue;
        for (const std::string& word : plain_words(row)) arguments.push_back(word);
    }
    return "        '" + command.name + "')\n            if [[ $current == -* ]]; then _shedbook_words " +
           join(option_names(command), " ") + "; else " +
           (arguments.empty() ? "_shedbook_files" : "_shedbook_words " + join(arguments, " ")) + "; fi ;;\n";
}

std::string zsh_descriptions(const auto& commands) {
    std::string out;
    for (const CommandRows& command : commands)
        out += "        " + in_marks(own_name(command) + ":" + escaped(command.about, ":\\")) + "\n";
    return out;
}

std::string zsh_case(const CommandRows& command) {
    std::string out = "        " + own_name(command) + ")\n";
    if (command.commands.empty()) {
        out += "            _arguments";
        for (const SyntaxRow& row : command.rows) out += " \\\n                " + zsh_spec(row);
        return out + " ;;\n";
    }
    out += "            commands=(\n" + zsh_descriptions(command.commands) +
           "            )\n            if (( CURRENT == 2 )); then _describe command commands; return; fi\n"
           "            shift words\n            (( CURRENT-- ))\n            case $words[1] in\n";
    for (const CommandRows& own : command.commands) out += zsh_case(own);
    return out + "            esac ;;\n";
}

}  // namespace

std::string bash_completion(std::span<const CommandRows> commands) {
    const std::string names = join(command_names(commands), " ");
    std::string out{kBashHead};
    out += "    if ((COMP_CWORD == 1)) || [[ $command == help ]]; then _shedbook_words " + names +
           "; return; fi\n";
    for (const CommandRows& command : commands) {
        if (!command.commands.empty()) out += bash_own_commands(command);
    }
    out += "    case \"$command $before\" in\n";
    for (const CommandRows* command : with_own(commands)) {
        for (const SyntaxRow& row : command->rows) {
            if (!row.is_argument() && !row.is_flag()) out += bash_values(*command, row);
        }
    }
    out += "    esac\n    case $command in\n";
    for (const CommandRows* command : with_own(commands)) {
        if (command->commands.empty()) out += bash_words(*command);
    }
    return out + "    esac\n}\ncomplete -F _shedbook shedbook\n";
}

std::string zsh_completion(std::span<const CommandRows> commands) {
    std::string out =
        "#compdef shedbook\n"
        "# Completions of shedbook for zsh; made of the rows that its help is made of.\n"
        "_shedbook() {\n    local -a commands\n    commands=(\n" +
        zsh_descriptions(commands) +
        "    )\n"
        "    if (( CURRENT == 2 )); then _describe command commands; return; fi\n"
        "    local command=$words[2]\n"
        "    shift words\n    (( CURRENT-- ))\n    case $command in\n";
    for (const CommandRows& command : commands) out += zsh_case(command);
    return out +
           "        help) _describe command commands ;;\n    esac\n}\n"
           "_shedbook \"$@\"\n";
}

std::string fish_completion(std::span<const CommandRows> commands) {
    std::string out = "# Completions of shedbook for fish; made of the rows that its help is made of.\n";
    for (const CommandRows& command : commands) {
        out += "complete -c shedbook -f -n __fish_use_subcommand -a " + command.name + " -d " +
               in_marks(in_short(command.about)) + "\n";
        for (const CommandRows& own : command.commands)
            out += "complete -c shedbook -f -n '" + fish_seen(command) +
                   "; and not __fish_seen_subcommand_from " + join(own_names(command), " ") + "' -a " +
                   own_name(own) + " -d " + in_marks(in_short(own.about)) + "\n";
    }
    out += "complete -c shedbook -f -n __fish_use_subcommand -a help -d 'Explain a command'\n";
    out += "complete -c shedbook -f -n '__fish_seen_subcommand_from help' -a '" +
           join(command_names(commands), " ") + "'\n";
    for (const CommandRows* command : with_own(commands)) {
        for (const SyntaxRow& row : command->rows) {
            if (!row.is_argument() || !plain_words(row).empty()) out += fish_option(*command, row);
        }
    }
    return out;
}

}  // namespace shedbook
