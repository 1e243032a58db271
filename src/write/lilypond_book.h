// A whole book in the engraver's language, page by page as planned.
#pragma once

#include <iosfwd>
#include <string>
#include <string_view>
#include <vector>

#include "page_plan.h"
#include "shedbook/write/writers.h"

namespace shedbook {

// What the engraver says when it is through with a part: this and the part's key.
inline constexpr std::string_view kPartDone = "shedbook-part ";

class LilypondWriter : public BlockSink {
  public:
    LilypondWriter(std::ostream& out, PagePlan plan, const PageRoom& room);
    void begin(const DocumentHead& head) override;
    void take(const Block& block) override;
    void finish() override;

  private:
    void title_page(const DocumentHead& head);
    void contents();
    void tables();
    void changes(const WrittenMusic& music);
    void scores_of_sections(const WrittenMusic& music);
    void scale_table();
    void open_section(const ChordHead& head);
    void close_section();
    [[nodiscard]] std::string footer_of(std::size_t first) const;
    // Whether the section behind this one stands on the same page.
    [[nodiscard]] bool shares_next(std::size_t section) const;
    void drill(const WrittenMusic& music);
    void etude(const WrittenMusic& music);
    // The next section of the plan, the pages before it filled.
    const PlannedSection& next_section();
    void lead_sheet(const WrittenMusic& music);
    void log_page();
    void note_pages_until(int page);
    // `pages`: 0 for as many as it takes. `paper`: settings of this part beside its page numbers.
    void open_part(int first_page, int pages, const std::string& footer, const std::string& paper = {},
                   int key = kNoKey);
    // Staves to write on, under a heading; nothing for none.
    void empty_staves(int staves, const std::string& name);

    std::ostream& out_;
    PagePlan plan_;
    const PageRoom& room_;
    DocumentHead head_;
    std::vector<std::string> boxes_;  // labels of the tick boxes
    std::string caution_;
    std::size_t tune_ = 0;
    std::size_t section_ = 0;  // of its tune
    int number_ = 0;           // among all sections
    bool tune_started_ = false;
    bool section_open_ = false;
    int next_page_ = 1;
};

}  // namespace shedbook
