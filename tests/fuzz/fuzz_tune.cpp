#include "fuzz.h"

extern "C" int LLVMFuzzerTestOneInput(const std::uint8_t* data, std::size_t size) {
    shedbook::Diagnostics diagnostics;
    shedbook::check_chart(shedbook::read_tune({"x.tune", shedbook::text_of(data, size)}, diagnostics),
                          diagnostics);
    return 0;
}
