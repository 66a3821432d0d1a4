#include "cli/rider_words.hpp"

#include <algorithm>

#include "engine/foundation/text.hpp"

namespace tickover::cli {

std::vector<std::string> symptoms_in(const pack::Pack& pack, const std::string& said) {
  std::vector<std::string> found;
  for (const pack::Words& words : pack.words) {
    if (!says(said, words.say)) continue;
    for (const std::size_t finding : words.means) {
      const std::string& id = pack.findings[finding].id;
      if (std::find(found.begin(), found.end(), id) == found.end()) found.push_back(id);
    }
  }
  return found;
}

}  // namespace tickover::cli
