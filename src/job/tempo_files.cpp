#include "tempo_files.h"

#include <algorithm>
#include <variant>

#include "arguments.h"

namespace shedbook {
namespace {

// The tempos over a piece: those of the boxes before it, as far as the next heading.
class BoxesInForce {
  public:
    void pass(const Block& block) {
        if (const auto* boxes = std::get_if<TickBoxes>(&block)) tempos_ = boxes->tempos;
        if (std::holds_alternative<ChordHead>(block) || std::holds_alternative<Heading>(block))
            tempos_.clear();
    }
    [[nodiscard]] const std::vector<int>& tempos() const { return tempos_; }
    [[nodiscard]] bool allow(int tempo) const {
        return tempos_.empty() || std::ranges::find(tempos_, tempo) != tempos_.end();
    }

  private:
    std::vector<int> tempos_;
};

bool is_music(const Block& block) {
    return std::holds_alternative<WrittenMusic>(block) || std::holds_alternative<RhythmPart>(block);
}

// All tempos that a box over some music says, from the slowest.
class BoxReader : public BlockSink {
  public:
    void begin(const DocumentHead& /*head*/) override {}
    void finish() override {}
    void take(const Block& block) override {
        boxes_.pass(block);
        if (is_music(block)) found_.insert(found_.end(), boxes_.tempos().begin(), boxes_.tempos().end());
    }
    std::vector<int> tempos() {
        std::ranges::sort(found_);
        found_.erase(std::unique(found_.begin(), found_.end()), found_.end());
        return found_;
    }

  private:
    BoxesInForce boxes_;
    std::vector<int> found_;
};

// Leaves out the music whose boxes do not have this tempo.
class OnlyAtTempo : public BlockSink {
  public:
    OnlyAtTempo(int tempo, BlockSink& to) : tempo_{tempo}, to_{to} {}
    void begin(const DocumentHead& head) override { to_.begin(head); }
    void finish() override { to_.finish(); }
    void take(const Block& block) override {
        boxes_.pass(block);
        if (!is_music(block) || boxes_.allow(tempo_)) to_.take(block);
    }

  private:
    int tempo_;
    BlockSink& to_;
    BoxesInForce boxes_;
};

std::vector<int> tempos_of_boxes(const Assemble& assemble) {
    BoxReader reader;
    assemble(reader);
    std::vector<int> out = reader.tempos();
    if (out.empty()) {
        throw UsageError(
            "there are no boxes with tempos to tick here, as drills have; say which tempos: --tempo "
            "60,80,100");
    }
    return out;
}

}  // namespace

std::string AtTempo::file_name(const std::string& output) const {
    return per_minute ? name_with(output, "at-" + std::to_string(*per_minute)) : output;
}

std::vector<AtTempo> at_tempos(const Writer& writer, const WriteOptions& options, const Assemble& assemble) {
    const bool of_boxes = options.sound.tempos_of_boxes;
    if (!writer.is_sound || (!of_boxes && options.sound.tempos.empty()))
        return {{std::nullopt, options, assemble}};
    std::vector<AtTempo> out;
    for (const int tempo : of_boxes ? tempos_of_boxes(assemble) : options.sound.tempos) {
        AtTempo each{tempo, options, assemble};
        each.options.sound.tempo = TempoPlan{tempo, tempo};
        if (of_boxes) {
            each.assemble = [assemble, tempo](BlockSink& sink) {
                OnlyAtTempo only{tempo, sink};
                assemble(only);
            };
        }
        out.push_back(std::move(each));
    }
    return out;
}

}  // namespace shedbook
