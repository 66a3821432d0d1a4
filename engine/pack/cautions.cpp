#include <algorithm>

#include "engine/pack/pack.hpp"

namespace tickover::pack {

Cautions by_grade(const Pack& pack, const Cautions& cautions) {
  Cautions sorted;
  for (const std::size_t caution : cautions) {
    if (std::find(sorted.begin(), sorted.end(), caution) == sorted.end()) sorted.push_back(caution);
  }
  std::stable_sort(sorted.begin(), sorted.end(), [&](std::size_t a, std::size_t b) {
    return pack.cautions[a].grade < pack.cautions[b].grade;
  });
  return sorted;
}

}  // namespace tickover::pack
