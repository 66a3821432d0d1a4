#include "cli/sitting/screens.hpp"

#include <algorithm>

namespace tickover::cli {
namespace {

/// Each with its end.
std::vector<std::string> lines_of(const std::string& text) {
  std::vector<std::string> lines;
  for (std::size_t begin = 0; begin < text.size();) {
    const std::size_t end = std::min(text.find('\n', begin), text.size() - 1) + 1;
    lines.push_back(text.substr(begin, end - begin));
    begin = end;
  }
  return lines;
}

}  // namespace

std::vector<std::string> screens(const std::string& text, std::size_t rows) {
  const std::vector<std::string> lines = lines_of(text);
  std::vector<std::string> parts;
  for (std::size_t begin = 0; begin < lines.size();) {
    std::size_t end = std::min(begin + rows, lines.size());
    if (end < lines.size()) {
      for (std::size_t cut = end; cut > begin + rows / 2; --cut) {
        if (lines[cut - 1] != "\n") continue;
        end = cut;
        break;
      }
    }
    std::string part;
    for (; begin < end; ++begin) part += lines[begin];
    parts.push_back(std::move(part));
  }
  return parts;
}

}  // namespace tickover::cli
