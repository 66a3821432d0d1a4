/// @file
/// One entry of the error catalogue: a small departure from valid input, and what must come of it.
#pragma once

#include <string>
#include <vector>

#include "tests/support/scratch.hpp"

namespace tickover::test {

/// A file of tests/errors/pack, machine or job. Its lines are "key value" up to a line "---", then
/// the exact message; an indented line goes on with the value before it.
///   what    the rule that is broken, in words
///   file    the file that is changed: of pack/, sheet.json, or bike.job
///   patch   a JSON Patch (RFC 6902) for it; for a job, on the array of its entries
///   text    OLD => NEW, one replacement in its text; for a job, after the checksums were made;
///           \n in it is a line feed
///   drop    a line of the job to leave out;  twice  one to repeat
///   run     the command, when another than the usual one of its folder
///   status  the exit status
struct ErrorCase {
  std::string name;  ///< "pack/cause-unknown"
  std::string what, file, patch, text, drop, twice, run, status;
  std::string message;
};

std::vector<ErrorCase> error_cases(const std::string& area);

/// Lays out the bench of knowledge.hpp with the case's file changed.
void lay_out(const Scratch& scratch, const ErrorCase& error_case);

}  // namespace tickover::test
