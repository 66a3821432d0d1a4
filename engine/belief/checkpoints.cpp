#include "engine/belief/checkpoints.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tickover::belief {

std::vector<std::size_t> segments(const std::vector<std::size_t>& kept, std::size_t plenty) {
  std::vector<std::size_t> first = {0};
  const std::size_t all = std::accumulate(kept.begin(), kept.end(), std::size_t{0});
  if (all <= plenty) return first;
  const auto largest = static_cast<double>(*std::max_element(kept.begin(), kept.end()));
  const double most = std::sqrt(static_cast<double>(all) * largest);
  double of_segment = 0;
  for (std::size_t s = 0; s < kept.size(); ++s) {
    const auto more = static_cast<double>(kept[s]);
    if (of_segment > 0 && of_segment + more > most) {
      first.push_back(s);
      of_segment = 0;
    }
    of_segment += more;
  }
  return first;
}

}  // namespace tickover::belief
