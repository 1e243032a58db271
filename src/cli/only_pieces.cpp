#include "only_pieces.h"

#include <optional>
#include <set>
#include <variant>

#include "command.h"
#include "shedbook/base/text.h"

namespace shedbook {
namespace {

// "2.3" is a piece, "2" all of that section.
bool is_meant(const std::string& wanted, const std::string& number) {
    return number == wanted || number.substr(0, number.find('.')) == wanted;
}

// The numbers there are, a long list with its middle left out.
std::string in_short(std::vector<std::string> numbers) {
    constexpr std::size_t kMost = 12;
    if (numbers.size() <= kMost) return join(numbers, ", ");
    const std::string last = numbers.back();
    numbers.resize(kMost - 2);
    return join(numbers, ", ") + " and so on to " + last;
}

class OnlyPieces : public BlockSink {
  public:
    OnlyPieces(const std::vector<std::string>& numbers, BlockSink& to) : wanted_{numbers}, to_{to} {}

    void begin(const DocumentHead& head) override {
        DocumentHead sheet = head;
        sheet.is_book = false;  // no title page for a page of drills
        to_.begin(sheet);
    }

    void take(const Block& block) override {
        if (const auto* head = std::get_if<ChordHead>(&block)) {
            head_ = *head;
            boxes_.reset();
        } else if (const auto* boxes = std::get_if<TickBoxes>(&block)) {
            boxes_ = *boxes;
        } else if (const auto* music = std::get_if<WrittenMusic>(&block)) {
            take_music(*music);
        }
    }

    void finish() override {
        for (const std::string& number : wanted_) {
            if (found_.contains(number)) continue;
            throw UsageError("there is no piece " + number + "; there are: " + in_short(there_));
        }
        to_.finish();
    }

  private:
    void take_music(const WrittenMusic& music) {
        if (!music.number.empty()) there_.push_back(music.number);
        bool is_wanted = false;
        for (const std::string& wanted : wanted_) {
            if (!is_meant(wanted, music.number)) continue;
            is_wanted = true;
            found_.insert(wanted);
        }
        if (!is_wanted) return;
        if (head_ && music.open_key) to_.take(*head_);
        if (boxes_) to_.take(*boxes_);
        head_.reset();
        boxes_.reset();
        to_.take(music);
    }

    const std::vector<std::string>& wanted_;
    BlockSink& to_;
    std::optional<ChordHead> head_;  // of the section at hand, until it is shown
    std::optional<TickBoxes> boxes_;
    std::vector<std::string> there_;
    std::set<std::string> found_;
};

}  // namespace

void take_only(const std::vector<std::string>& numbers, BlockSink& sink,
               const std::function<void(BlockSink&)>& assemble) {
    if (numbers.empty()) {
        assemble(sink);
        return;
    }
    OnlyPieces only{numbers, sink};
    assemble(only);
}

}  // namespace shedbook
