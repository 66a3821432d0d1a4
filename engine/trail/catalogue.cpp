#include "engine/foundation/error.hpp"
#include "engine/trail/sheet.hpp"

namespace tickover {

std::string Catalogue::text(const std::string& key) const {
  const auto found = texts_.find(key);
  return found == texts_.end() ? "[" + key + "]" : found->second;
}

std::string Catalogue::text(const std::string& key, const std::vector<std::string>& parts) const {
  const std::string pattern = text(key);
  std::string out;
  for (std::size_t at = 0; at < pattern.size(); ++at) {
    const bool slot = pattern[at] == '{' && at + 2 < pattern.size() && pattern[at + 2] == '}';
    const std::size_t index = slot ? static_cast<std::size_t>(pattern[at + 1] - '0') : parts.size();
    if (index < parts.size()) {
      out += parts[index];
      at += 2;
    } else {
      out += pattern[at];
    }
  }
  return out;
}

std::string Catalogue::answer(const std::string& id) const {
  const auto found = answers_.find(id);
  return found == answers_.end() ? id : found->second;
}

std::string html_text(const std::string& text) {
  std::string out;
  for (const char c : printable(text)) {
    switch (c) {
      case '&':
        out += "&amp;";
        break;
      case '<':
        out += "&lt;";
        break;
      case '>':
        out += "&gt;";
        break;
      case '"':
        out += "&quot;";
        break;
      case '\'':
        out += "&#39;";
        break;
      default:
        out += c;
    }
  }
  return out;
}

}  // namespace tickover
