// What the commands share. Each command is a file of its own with one function in the table of run.cpp.
#pragma once

#include <functional>

#include "syntax.h"

namespace shedbook {

// help_text.h says them in words.
enum ExitCode { kDone = 0, kBadInput = 1, kUsage = 2, kMachine = 3, kStopped = 130 };

// A command declares its arguments and leaves behind what to do when it is chosen.
using Action = std::function<int()>;
Action chord_command(Syntax& syntax);
Action drills_command(Syntax& syntax);
Action changes_command(Syntax& syntax);
Action book_command(Syntax& syntax);
Action class_command(Syntax& syntax);
Action etude_command(Syntax& syntax);
Action play_command(Syntax& syntax);
Action convert_command(Syntax& syntax);
Action list_command(Syntax& syntax);
Action explain_command(Syntax& syntax);
Action measure_command(Syntax& syntax);
Action log_command(Syntax& syntax);
Action progress_command(Syntax& syntax);
Action today_command(Syntax& syntax);
Action new_command(Syntax& syntax);
Action try_command(Syntax& syntax);
Action serve_command(Syntax& syntax);

}  // namespace shedbook
