#include "cli/standing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/print.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
std::string standing_in_words(const Diagnosis& job, const belief::Belief& belief, std::size_t count,
                              double least) {
  std::string out;
  std::size_t shown = 0;
  for (const std::size_t cause : belief::largest_first(belief.present_now)) {
    const double p = belief.present_now[cause];
    if (shown++ == count || p < least) break;
    std::string name = job.model().describe_cause(cause);
    if (!belief.exact) {
      name += fmt::format(" (between {} and {})", percent(belief.low[cause]),
                          percent(belief.high[cause]));
    }
    out += labelled("  " + percent(p) + "  " + padded(bar(p, 12), 14), name, 23);
  }
  return out;
}

Json standing_json(const Diagnosis& job, const belief::Belief& belief) {
  Json list = Json::array();
  for (const std::size_t cause : belief::largest_first(belief.present_now)) {
    Json one = {{"cause", job.model().causes[cause].id},
                {"name", job.model().describe_cause(cause)},
                {"present-now", steady(belief.present_now[cause])},
                {"present-as-found", steady(belief.present_at_start[cause])}};
    if (!belief.exact) {
      one["at-least"] = steady(belief.low[cause]);
      one["at-most"] = steady(belief.high[cause]);
    }
    list.push_back(one);
  }
  return list;
}

std::string access_in_words(const Diagnosis& job) {
  std::vector<std::string> open;
  for (const std::size_t layer : job.evidence().open_layers) {
    open.push_back(job.model().pack.layers[layer].name);
  }
  return open.empty() ? "everything is closed" : "open: " + join_words(open, "; ", "; ");
}

}  // namespace tickover::cli
