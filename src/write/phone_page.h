// A book as one file for a browser: its pieces are drawn, heard and ticked there, without any server.
#pragma once

#include <string>

#include "shedbook/write/writers.h"

namespace shedbook {

// MissingProgram where the program was built without the page.
void write_phone_page(const std::string& path, const std::function<void(BlockSink&)>& assemble,
                      const WriteOptions& options);

}  // namespace shedbook
