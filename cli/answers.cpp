#include "cli/answers.hpp"

#include <istream>
#include <ostream>

#include "engine/foundation/error.hpp"

namespace tickover::cli {

std::optional<std::string> StreamAnswers::line(const std::string& prompt) {
  out_ << prompt << std::flush;
  std::string line;
  // a line without its end is no Enter
  if (!std::getline(in_, line) || in_.eof()) {
    out_ << "\n";
    return std::nullopt;
  }
  if (echo_) out_ << printable(line) << "\n";
  return line;
}

}  // namespace tickover::cli
