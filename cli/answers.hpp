/// @file
/// Answers typed at a terminal or fed through a pipe.
#pragma once

#include <iosfwd>

#include "cli/command.hpp"

namespace tickover::cli {

/// Reads `in` line by line after printing the prompt on `out`. With `echo`, for a pipe, what was
/// read is printed too, so that a log reads like a screen.
class StreamAnswers : public Answers {
 public:
  StreamAnswers(std::istream& in, std::ostream& out, bool echo) : in_(in), out_(out), echo_(echo) {}
  std::optional<std::string> line(const std::string& prompt) override;

 private:
  std::istream& in_;
  std::ostream& out_;
  const bool echo_;
};

}  // namespace tickover::cli
