// Who asks for a job: hears what there is to say, sees how far it is, and may stop it. A command line and a
// page are two of them.
//
//     class Terminal : public Caller { void say(const Diagnostics& d) override { ... } };
//     make_book(request, terminal);
#pragma once

#include <cstddef>
#include <exception>
#include <stdexcept>
#include <string>

#include "shedbook/base/diagnostics.h"

namespace shedbook {

// What was asked makes no sense: a name that nothing has, options that exclude each other. The message says
// what would.
class UsageError : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

// The input had errors, which the caller has heard of.
class InputError : public std::exception {
  public:
    [[nodiscard]] const char* what() const noexcept override { return "the input has errors"; }
};

class Caller {
  public:
    virtual ~Caller() = default;
    // Faults, warnings and notes, in order.
    virtual void say(const Diagnostics& diagnostics) = 0;
    // Something that is no diagnostic of any place: "nothing is left to play for Flute".
    virtual void remark(const std::string& line) = 0;
    // The next of so many steps begins: a student's book, a file.
    virtual void step(std::size_t /*done*/, std::size_t /*of*/, const std::string& /*what*/) {}
};

}  // namespace shedbook
