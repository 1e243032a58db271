#include "fuzz.h"
#include "shedbook/theory/chord_symbol.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    using shedbook::promise;
    const std::string text = shedbook::text_of(data, size);
    shedbook::Diagnostics diagnostics;
    const auto symbol = shedbook::read_chord_symbol({"x", text}, diagnostics);
    promise(symbol.has_value() != diagnostics.has_errors());
    promise(symbol == shedbook::parse_chord_symbol(text));
    // Our own spelling is read back as the same chord.
    if (symbol) promise(shedbook::parse_chord_symbol(to_string(*symbol)) == symbol);
    return 0;
}
