#include <iostream>
#include <memory>

#include "command.h"
#include "options.h"
#include "shedbook/base/text.h"
#include "shedbook/job/jobs.h"
#include "terminal.h"

namespace shedbook {
namespace {

// For whoever does not know yet what to do with it.
void say_next(const std::string& file) {
    const std::string stem = file.substr(0, file.rfind('.'));
    std::cout << "wrote " << file << ": open it in any text editor and write your changes into it. Then:\n"
              << "  shedbook changes " << file << " --why\n"
              << "  shedbook book " << file << " --for alto-sax -o " << stem << ".mxl\n";
}

}  // namespace

Action new_command(Syntax& syntax) {
    auto request = std::make_shared<StarterRequest>();
    syntax.add_option("title", request->title, "the title of the tune, in quotation marks").required();
    syntax.begin_group("What it begins with");
    add_form_option(syntax, request->form);
    syntax.add_option("--bars", request->bars, "instead of a form: so many bars").positive();
    syntax.add_option("--key", request->key, "its key: Bb, \"G minor\" (default: C)").takes("KEY");
    syntax.add_option("--meter", request->meter, "its meter: 3/4, 6/8 ... (default: 4/4)").takes("METER");
    syntax
        .add_option("-o,--output", request->file,
                    "the chart to write, a .tune (default: named by the title); one that is there is kept")
        .writes_file();
    return [request] {
        Terminal terminal;
        say_next(start_chart(*request, terminal).front());
        return kDone;
    };
}

Action try_command(Syntax& syntax) {
    auto request = std::make_shared<TrialRequest>();
    request->output.file = "first-book.mxl";
    syntax.begin_group("Options");
    add_instruments(syntax, request->part,
                    "instruments that play it, e.g. --for trumpet (default: alto-sax)");
    add_form_option(syntax, request->form);
    add_output_option(syntax, request->output, "(default: first-book.mxl)");
    return [request] {
        Terminal terminal;
        if (request->part.instruments.empty()) request->part.instruments = {"alto-sax"};
        const Files files = make_trial_book(*request, terminal);
        std::cout << "wrote " << join(files, ", ")
                  << ": a book of a tune of plain changes, to look at. To begin one of your own:\n"
                     "  shedbook new \"My Tune\"\n";
        return kDone;
    };
}

}  // namespace shedbook
