/// @file
/// A program at a pseudo-terminal, with a hand at its keyboard.
#pragma once

#include <sys/types.h>

#include <string>
#include <vector>

namespace tickover::test {

struct TerminalRun {
  std::vector<std::string> words;  ///< the program by its path, and its arguments
  std::string folder;
  std::vector<std::string> environment = {};  ///< "NAME=value", beside PATH and TERM
  unsigned short columns = 80;
};

class Terminal {
 public:
  explicit Terminal(const TerminalRun& run);
  ~Terminal();
  Terminal(const Terminal&) = delete;
  Terminal& operator=(const Terminal&) = delete;

  void type(const std::string& keys);
  /// Reads on until `text` has come, and gives all that came since the last call. Without it within
  /// twenty seconds, or when the program ends before: throws std::runtime_error with what came.
  std::string until(const std::string& text);
  /// All that comes until the program ends, then its exit status; 128 and the signal when one ended
  /// it.
  int wait();

 private:
  /// False at the end.
  bool read_more();

  pid_t child_ = -1;
  int handle_ = -1;
  std::string unread_;
};

}  // namespace tickover::test
