#include "command_line.h"

#include <CLI/CLI.hpp>
#include <algorithm>
#include <filesystem>
#include <map>
#include <optional>
#include <system_error>

#include "shedbook/base/text.h"
#include "shedbook/job/caller.h"
#include "shedbook/write/writers.h"

namespace shedbook {
namespace {

namespace fs = std::filesystem;

bool is_there(const std::string& path) {
    std::error_code error;
    return path == "-" || fs::exists(path, error);
}

// What comes along when a command line is pasted from a page: quotation marks around a word, and one long
// dash for the two of an option.
std::string as_typed(std::string word) {
    for (const std::string_view dash : {"—", "–"}) {
        if (word.starts_with(dash)) return "--" + word.substr(dash.size());
    }
    static constexpr std::string_view kMarks[][2] = {{"“", "”"}, {"„", "“"}, {"”", "”"}, {"‘", "’"}};
    for (const auto& [open, close] : kMarks) {
        if (word.size() > open.size() + close.size() && word.starts_with(open) && word.ends_with(close))
            return word.substr(open.size(), word.size() - open.size() - close.size());
    }
    return word;
}

std::string did_you_mean(const std::string& near) {
    return near.empty() ? "" : "; did you mean '" + near + "'?";
}

// What CLI11 gives as the value where an option stands without one; no value begins with two hyphens.
constexpr const char* kNoValue = "--";

// CLI11 tells options from values and words; what the rows say of them is looked at here, so that one run
// finds all faults. Nothing is required of it that a line could break: it throws nothing.
class CommandLine {
  public:
    CommandLine(const CommandRows& command, const std::vector<std::string>& words,
                const CommandsWith& commands_with)
        : command_{command}, commands_with_{commands_with} {
        Words typed;
        for (const std::string& word : words) typed.push_back(as_typed(word));
        // CLI11 loses this mark behind an option with its value.
        const auto mark = std::ranges::find(typed, "--");
        std::for_each(typed.begin(), mark, [&](const std::string& word) { add(word); });
        if (mark != typed.end()) behind_mark_.assign(mark + 1, typed.end());
        for (const SyntaxRow& row : command.rows) {
            if (row.is_argument()) argument_rows_.push_back(&row);
        }
    }

    LineRead read() {
        for (const std::string& word : Words{words_}) {
            if (lacks_a_dash(word)) put_aside(word);
        }
        for (const std::string& word : parse()) put_aside(word);
        (void)parse();
        take_all();
        if (!out_.is_answered) tell_missing();
        out_.is_only_missing_files = missing_files_ == out_.faults.size() && missing_files_ > 0;
        return std::move(out_);
    }

  private:
    void fault(std::string text) { out_.faults.push_back(std::move(text)); }

    // What CLI11 would read in another way: "--key=" as an option without a value, "-o=a.mxl" as -o with
    // "=a.mxl", and "--transpose -m3" as two options.
    void add(const std::string& word) {
        const bool is_short = word.starts_with('-') && !word.starts_with("--");
        const std::size_t equals = word.find('=');
        const SyntaxRow* row = value_option(word.substr(0, equals));
        const SyntaxRow* before = words_.empty() ? nullptr : value_option(words_.back());
        if (before != nullptr && is_short && word.size() > 1 && find(word) == nullptr) {
            words_.back() = before->name + "=" + word;
        } else if (row != nullptr && equals == word.size() - 1) {
            words_.insert(words_.end(), {row->name, ""});
        } else if (row != nullptr && is_short && equals != std::string::npos) {
            words_.push_back(row->name + word.substr(equals));
        } else {
            words_.push_back(word);
        }
    }

    const SyntaxRow* value_option(const std::string& name) const {
        const SyntaxRow* row = name.starts_with('-') ? find(name) : nullptr;
        return row == nullptr || row->is_flag() ? nullptr : row;
    }

    // Gives the options that there are not.
    Words parse() {
        CLI::App& parser = parser_.emplace();  // a second line would be added to the order of the first
        parser.allow_extras();
        parser.set_help_flag();
        rows_.clear();
        for (const SyntaxRow& row : command_.rows) {
            if (!row.is_argument()) rows_[declare(row)] = &row;
        }
        // All in one, for which of them are values of an option that goes on is not known yet.
        arguments_ = parser.add_option("arguments");
        arguments_->expected(static_cast<int>(words_.size()) + 1);
        arguments_->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
        parser.parse(Words{words_.rbegin(), words_.rend()});
        return parser.remaining();
    }

    CLI::Option* declare(const SyntaxRow& row) {
        const std::string names = row.short_name.empty() ? row.name : row.short_name + "," + row.name;
        CLI::Option* option = parser_->add_option(names);
        option->expected(0, row.is_flag() ? 0 : 1)->default_str(kNoValue);
        return option->multi_option_policy(CLI::MultiOptionPolicy::TakeAll);
    }

    const SyntaxRow* find(const std::string& name) const {
        const auto found = std::ranges::find_if(command_.rows, [&](const SyntaxRow& row) {
            return !row.is_argument() && (row.name == name || row.short_name == name);
        });
        return found == command_.rows.end() ? nullptr : &*found;
    }

    // "-only" is "--only" with a dash missing, not -o with "nly".
    bool lacks_a_dash(const std::string& word) const {
        return word.size() > 2 && word.starts_with('-') && !word.starts_with("--") &&
               find("-" + word.substr(0, word.find('='))) != nullptr;
    }

    // Tells of an option that there is not and takes it out of the line. What stands behind it is its value,
    // and no fault of its own.
    void put_aside(const std::string& word) {
        const bool takes_value = tell_unknown(word.substr(0, word.find('=')));
        const auto at = std::ranges::find(words_, word);
        if (at == words_.end()) return;
        const auto value = at + 1;
        const bool has_value = takes_value && word.find('=') == std::string::npos && value != words_.end() &&
                               !value->starts_with('-') && !is_there(*value);
        words_.erase(at, has_value ? value + 1 : value);
    }

    // In the order of the line.
    void take_all() {
        std::map<const CLI::Option*, std::size_t> taken;
        const SyntaxRow* before = nullptr;
        for (const CLI::Option* option : parser_->parse_order()) {
            const std::string& word = option->results()[taken[option]++];
            if (option != arguments_) {
                before = rows_.at(option);
                take_option(*before, word);
                if (out_.is_answered) return;
            } else if (before != nullptr && before->goes_on && !is_there(word) && before->goes_on(word)) {
                take(*before, word);
            } else {
                before = nullptr;
                take_argument(word);
            }
        }
        for (const std::string& word : behind_mark_) take_argument(word);
    }

    void take_option(const SyntaxRow& row, const std::string& value) {
        if (!row.is_flag()) return take_values(row, value);
        if (value != kNoValue) return fault(row.name + " takes no value");
        take(row, "");
    }

    void tell_needs_value(const SyntaxRow& row) {
        ++times_[&row];
        fault(row.name + " needs a value, " + row.value + ": " + row.about);
    }

    void take_values(const SyntaxRow& row, const std::string& text) {
        if (text == kNoValue) return tell_needs_value(row);
        if (!row.with_commas) return take(row, text);
        bool has_any = false;
        for (const std::string_view part : split(text, ',')) {
            const std::string_view value = trimmed(part);
            if (value.empty()) continue;
            has_any = true;
            take(row, std::string{value});
        }
        if (!has_any) tell_needs_value(row);
    }

    void take(const SyntaxRow& row, const std::string& value) {
        const int times = ++times_[&row];
        if (times == 2 && !row.is_list && !row.is_flag())
            return fault(row.name + " stands twice, and takes one " + row.value);
        if (row.file == SyntaxRow::File::Read && !is_there(value)) {
            ++missing_files_;
            return fault(missing_file(value));
        }
        try {
            for (const auto& check : row.checks) check(value);
            row.set(value);
            if (row.is_answer) out_.is_answered = true;
        } catch (const UsageError& error) {
            const std::string what = error.what();
            fault((what.starts_with("takes ") ? row.name + " " : "") + what);
        }
    }

    // Whether it takes a value, as far as is known.
    bool tell_unknown(const std::string& name) {
        std::vector<std::string> names;
        for (const SyntaxRow& row : command_.rows) {
            if (!row.is_argument()) names.push_back(row.name);
        }
        // "-for" is "--for" with a dash missing.
        const std::string full = name.starts_with("--") ? name : "-" + name;
        const std::string near = nearest(full, names);
        std::string said = "'" + command_.name + "' has no option " + name;
        const std::vector<std::string> others = near == full ? Words{} : commands_with_(name);
        if (const auto where = command_.elsewhere.find(name); where != command_.elsewhere.end()) {
            said += "; " + where->second;
        } else if (!others.empty()) {
            said += "; it goes with " + join(others, ", ");
        } else {
            said += near.empty() ? "; 'shedbook help " + command_.name + "' shows what it has"
                                 : did_you_mean(near);
        }
        fault(said);
        const SyntaxRow* meant = near.empty() ? nullptr : find(near);
        if (meant == nullptr) return !others.empty();
        ++times_[meant];
        return !meant->is_flag();
    }

    void take_argument(const std::string& word) {
        while (next_argument_ < argument_rows_.size()) {
            const SyntaxRow& row = *argument_rows_[next_argument_];
            if (!row.is_list) ++next_argument_;
            return take(row, word);
        }
        std::string said = "'" + word + "' is one word too many";
        const SyntaxRow* output = find("--output");
        if (output != nullptr && times_[output] == 0 && find_writer(word) != nullptr) {
            said = "to write '" + word + "', put -o before it";
            ++times_[output];
        }
        fault(said);
    }

    void tell_missing() {
        for (const SyntaxRow& row : command_.rows) {
            if (row.is_required && times_[&row] == 0) fault(usage_of(row) + " is missing: " + row.about);
        }
    }

    const CommandRows& command_;
    const CommandsWith& commands_with_;
    Words words_;
    Words behind_mark_;  // "--": none of them is an option
    std::optional<CLI::App> parser_;
    CLI::Option* arguments_ = nullptr;
    std::map<const CLI::Option*, const SyntaxRow*> rows_;
    std::vector<const SyntaxRow*> argument_rows_;
    std::size_t next_argument_ = 0;
    std::size_t missing_files_ = 0;
    std::map<const SyntaxRow*, int> times_;
    LineRead out_;
};

}  // namespace

std::string usage_of(const SyntaxRow& row) {
    if (row.is_argument()) {
        std::string out;
        for (const char c : row.name) out += c >= 'a' && c <= 'z' ? static_cast<char>(c - 'a' + 'A') : c;
        return out + (row.is_list ? "..." : "");
    }
    const std::string name = row.short_name.empty() ? row.name : row.short_name;
    return name + (row.is_flag() ? "" : " " + row.value);
}

std::string missing_file(const std::string& path) {
    const fs::path wanted{path};
    const fs::path folder = wanted.has_parent_path() ? wanted.parent_path() : fs::path{"."};
    std::error_code error;
    if (!fs::is_directory(folder, error))
        return path + ": there is no such file, and no folder '" + folder.string() + "'";
    Words there;
    for (const auto& entry : fs::directory_iterator{folder, error})
        there.push_back(entry.path().filename().string());
    std::ranges::sort(there);
    std::string near = nearest(wanted.filename().string(), there);
    // "goat-path" is "goat-path.tune" without its ending.
    const auto longer = std::ranges::find_if(there, [&](const std::string& name) {
        return fs::path{name}.stem() == wanted.stem() && !wanted.stem().empty();
    });
    if (near.empty() && longer != there.end()) near = *longer;
    if (!near.empty() && wanted.has_parent_path()) near = (folder / near).string();
    return path + ": there is no such file" + did_you_mean(near);
}

LineRead read_command_line(const CommandRows& command, const std::vector<std::string>& words,
                           const CommandsWith& commands_with) {
    return CommandLine{command, words, commands_with}.read();
}

}  // namespace shedbook
