// Blocks to MusicXML text, as they come: of a document of one part nothing but the block at hand is in
// memory; of a score, the text of all parts but the first. Only elements and attributes that versions 3.1
// and 4.0 share, so that editors of the last ten years read it.
//
//     MusicXmlWriter writer{stream};
//     writer.begin(head); writer.take(drill);  writer.finish();
//
// What stands around the music stands as words over the piece that follows; the changes of a book are a file
// of their own and are passed over.
#pragma once

#include <iosfwd>
#include <memory>

#include "shedbook/notation/document.h"

namespace shedbook {

class MusicXmlWriter : public BlockSink {
  public:
    explicit MusicXmlWriter(std::ostream& out);
    ~MusicXmlWriter() override;
    void begin(const DocumentHead& head) override;
    void take(const Block& block) override;
    // A document without music is a mistake of the caller's (assert): MusicXML cannot be without a bar.
    void finish() override;

  private:
    class Impl;
    std::unique_ptr<Impl> impl_;
};

}  // namespace shedbook
