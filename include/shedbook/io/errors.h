// What can go wrong beside the user's text, by what a person can do about it.
#pragma once

#include <stdexcept>

namespace shedbook {

// The machine's fault, not the user's text. Caught once, in the program (exit code 3).
class MachineError : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

// A file cannot be opened, read or written; the disk is full.
class FileError : public MachineError {
  public:
    using MachineError::MachineError;
};

// Another program that this one needs (the engraver, a synthesizer) or its data is not installed.
class MissingProgram : public MachineError {
  public:
    using MachineError::MachineError;
};

// Another program is there, and did not do what it was started for: it failed, was ended, or took too long.
class FailedProgram : public MachineError {
  public:
    using MachineError::MachineError;
};

// Somebody asked to stop (interrupt.h); nothing half-done is left.
class Stopped : public MachineError {
  public:
    using MachineError::MachineError;
};

// What was asked for is well said, and cannot be had: a page that a book does not have, a sound longer than
// its file can hold (exit code 2).
class UnusableRequest : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

}  // namespace shedbook
