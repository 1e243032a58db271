#include "log_lines.h"

#include <ctime>
#include <vector>

#include "shedbook/base/text.h"

namespace shedbook {

std::string played_in_words(const Entry& entry) {
    std::vector<std::string> out;
    const std::string goal = entry.goal ? " of " + std::to_string(*entry.goal) : "";
    if (entry.tempo) out.push_back("at " + std::to_string(*entry.tempo) + goal);
    if (entry.right) out.push_back(std::to_string(*entry.right) + " right");
    if (entry.wrong) out.push_back(std::to_string(*entry.wrong) + " wrong");
    if (entry.from_memory) out.emplace_back("from memory");
    if (entry.seconds > 0) out.push_back(time_in_words(entry.seconds));
    return join(out, ", ");
}

std::string padded(const std::string& text, std::size_t width) {
    const std::size_t used = count_characters(text);
    return text + std::string(used < width ? width - used : 1, ' ');
}

void add_log_options(Syntax& syntax, LogPlace& place) {
    syntax.add_option("--player", place.player,
                      "whose practice, where several share a machine (default: me)");
    syntax.add_option("--data", place.data,
                      "the file of the log (default: $SHEDBOOK_DATA, or practice.db in your data folder)");
}

void set_now(LogPlace& place) {
    const std::time_t now = std::time(nullptr);
    std::tm here{};
    localtime_r(&now, &here);
    place.now = now;
    place.today = std::chrono::year{here.tm_year + 1900} /
                  std::chrono::month{static_cast<unsigned>(here.tm_mon + 1)} /
                  std::chrono::day{static_cast<unsigned>(here.tm_mday)};
}

}  // namespace shedbook
