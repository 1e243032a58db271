#include "shedbook/write/musicxml.h"

#include <optional>
#include <ostream>
#include <string>
#include <vector>

#include "musicxml_elements.h"
#include "musicxml_part.h"
#include "shedbook/base/text.h"
#include "shedbook/notation/document_words.h"
#include "shedbook/notation/music_text.h"
#include "shedbook/notation/score_layout.h"

namespace shedbook {
namespace {

constexpr int kStaffOfOnePart = 60;  // tenths of a millimetre

std::string boxes_row(const TempoBoxes& boxes) {
    std::string out;
    for (const std::string& label : labels_of(boxes))
        out += (out.empty() ? "\u25A1 " : "      \u25A1 ") + label;
    return out;
}

std::string head_line(const TopicHead& head) {
    const TopicInPart& read = head.parts.front();
    std::string out = read.symbol ? with_signs(to_string(*read.symbol)) + ": " : "";
    out += with_signs(to_string(read.scale));
    if (!head.bars.empty()) out += " (" + bars_in_words(head.bars) + ")";
    return out;
}

}  // namespace

class MusicXmlWriter::Impl {
  public:
    explicit Impl(std::ostream& out) : out_{out} {}

    void begin(const DocumentHead& head) {
        head_ = head;
        for (std::size_t i = 0; i < head.parts.size(); ++i)
            parts_.emplace_back(i == 0 ? &out_ : nullptr, static_cast<int>(i) + 1);
    }

    void operator()(const Cover& /*a page of its own*/) {}
    void operator()(const Caution& caution) { caution_ = caution.text; }
    void operator()(const PlanTable& /*of a printed book*/) {}
    void operator()(const LogPage& /*of a printed book*/) {}
    void operator()(const ChapterStart& chapter) {
        if (chapter.chapters == 1) return;
        first().say(chapter.tune.title);
        begin_page();
    }
    void operator()(const ChapterEnd& /*nothing to say*/) {}
    void operator()(const SittingStart& sitting) {
        first().say(title_of(sitting));
        first().say(sitting.advice);
    }
    void operator()(const SittingEnd& /*nothing to say*/) {}
    void operator()(const AnswersStart& /*of the memory pages*/) { first().say("Answers"); }
    void operator()(const AnswersEnd& /*nothing to say*/) {}
    void operator()(const SectionStart& section) {
        boxes_ = {};
        // Behind a section of most of a page or more, where its last page is not left half empty; short ones
        // follow each other.
        constexpr int kMostOfAPage = 6;
        if (systems_ >= kMostOfAPage && on_page_ >= kMostOfAPage) begin_page();
        systems_ = 0;
        std::visit([&](const auto& head) { say(head); }, section.head);
    }
    void operator()(const SectionEnd& /*nothing to say*/) {}
    void operator()(const Drill& drill) {
        if (drill.boxes != boxes_) say(drill.boxes);
        write(drill.music, heading_of(drill), in_words(drill.number));
    }
    void operator()(const Etude& etude) {
        if (etude.number.piece == 0) begin_page();
        if (etude.number.piece == 0 || etude.boxes != boxes_) say(etude.boxes);
        write(etude.music, heading_of(etude), in_words(etude.number));
    }
    void operator()(const Changes& /*a file of its own*/) {}
    void operator()(const UnitBars& /*of a printed book*/) {}
    void operator()(const LeadSheet& sheet) { write(sheet.music, {}, ""); }
    void operator()(const TuneOverview& /*of a printed book*/) {}
    void operator()(const ScaleTable& /*of a printed book*/) {}

    void finish() {
        for (MusicXmlPart& part : parts_) {
            part.finish();
            out_ << part.text();
        }
        out_ << kFileEnd;
    }

  private:
    [[nodiscard]] MusicXmlPart& first() { return parts_.front(); }
    void begin_page() {
        on_page_ = 0;
        for (MusicXmlPart& part : parts_) part.begin_page();
    }
    // Of a score each part has its scale over its own staff, and the first says what it all sounds like.
    void say(const TopicHead& head) {
        if (parts_.size() == 1) {
            first().say(head_line(head));
            if (!head.is_from_memory) first().say(with_signs(head.reason));
            first().say(with_signs(shared_notes(head)));
            return;
        }
        first().say(with_signs(as_it_sounds(head)));
        for (std::size_t i = 0; i < parts_.size(); ++i)
            parts_[i].say(with_signs(to_string(head.parts[i].scale)));
    }
    template <class Head>  // of a round or a unit
    void say(const Head& head) {
        first().say(with_signs(title_of(head)));
        first().say(with_signs(reason_of(head)));
    }
    void say(const TempoBoxes& boxes) {
        boxes_ = boxes;
        first().say_boxes(boxes_row(boxes));
    }
    // Number and title stand over the first part.
    void write(const std::vector<WrittenMusic>& music, const PieceHeading& heading,
               const std::string& number) {
        write_head();
        count_systems_of(music.front());
        for (std::size_t i = 0; i < parts_.size(); ++i)
            parts_[i].write(music[i],
                            i == 0 ? PieceWords{number, heading.title, heading.remark} : PieceWords{});
    }

    // Where the music stands on its page, as far as that can be told: editors have about so many systems on
    // one.
    void count_systems_of(const WrittenMusic& music) {
        constexpr int kSystemsAPage = 11;
        for (const Measure& measure : music.measures) {
            if (!measure.new_system && &measure != &music.measures.front()) continue;
            ++systems_;
            on_page_ = on_page_ % kSystemsAPage + 1;
        }
    }
    // Before the first music: what stands on its page is known by then.
    void write_head() {
        if (!head_) return;
        const std::size_t parts = head_->parts.size();
        std::string text;
        append_file_head(text, *head_, caution_, parts > 1 ? staff_height(parts) : kStaffOfOnePart);
        out_ << text;
        head_.reset();
    }

    std::ostream& out_;
    std::optional<DocumentHead> head_;  // until it is written
    std::string caution_;
    int systems_ = 0;  // of the section at hand,
    int on_page_ = 0;  // and of all on this page
    std::vector<MusicXmlPart> parts_;
    TempoBoxes boxes_;  // that were said last in this section
};

MusicXmlWriter::MusicXmlWriter(std::ostream& out) : impl_{std::make_unique<Impl>(out)} {}
MusicXmlWriter::~MusicXmlWriter() = default;

void MusicXmlWriter::begin(const DocumentHead& head) {
    impl_->begin(head);
}
void MusicXmlWriter::take(const Block& block) {
    std::visit(*impl_, block);
}
void MusicXmlWriter::finish() {
    impl_->finish();
}

}  // namespace shedbook
