/// @file
/// Answers typed at a terminal or fed through a pipe.
#pragma once

#include <iosfwd>
#include <memory>

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

/// At a terminal: the line can be edited, and earlier lines of the sitting called back. Ctrl-C ends
/// the program as anywhere, Ctrl-D on an empty line is the end of input.
class TerminalAnswers : public Answers {
 public:
  explicit TerminalAnswers(std::ostream& out);
  ~TerminalAnswers() override;
  std::optional<std::string> line(const std::string& prompt) override;
  std::optional<std::size_t> rows() const override;

 private:
  struct Editor;
  std::ostream& out_;
  const std::unique_ptr<Editor> editor_;
};

/// The answers that fit what the program was started with: a terminal that can place its cursor, or
/// anything else.
std::unique_ptr<Answers> answers_here(std::istream& in, std::ostream& out);

}  // namespace tickover::cli
