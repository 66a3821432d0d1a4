#include "cli/standing.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>

#include "cli/alike.hpp"
#include "cli/instructions.hpp"
#include "cli/print.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"
#include "engine/trail/trail.hpp"

namespace tickover::cli {

std::string reading_in_words(const Model& model, const Observation& seen) {
  const std::string& unit = model.pack.findings[model.findings[seen.finding].finding].unit;
  return fmt::format("{}: {}, {} (entry {})", model.describe_finding(seen.finding),
                     format_quantity({*seen.reading, dimension_of(unit)}, unit, 4),
                     verdict(model, seen).text, seen.entry);
}

std::string left_beyond_in_words(const Diagnosis& job) {
  std::vector<std::string> texts;
  for (const BenchValue& value : left_beyond(job)) {
    texts.push_back(reading_in_words(job.model(), value.seen));
  }
  if (texts.empty()) return {};
  return "\nOut of limits as it stands: put it right before it goes back, whatever the "
         "complaint\n" +
         bullets(texts);
}

std::string narrowed_in_words(const Diagnosis& job) {
  if (!(job.judged().doubt > 0)) return {};
  return wrapped(
      "Too many findings tie too many causes together for exact figures: what measurements leave "
      "hardly a doubt of counts as not there. 'tickover causes' proves how far that may be off.",
      0);
}

std::string standing_in_words(const Diagnosis& job, const belief::Belief& belief, std::size_t count,
                              double least) {
  const auto range = [&](std::size_t cause) -> std::string {
    if (belief.exact) return {};
    const std::string low = percent(belief.low[cause]), high = percent(belief.high[cause]);
    return low == high ? "" : fmt::format(" (between {} and {})", low, high);
  };
  const auto said = [&](std::size_t cause) {
    return percent(belief.present_now[cause]) + range(cause);
  };
  std::vector<std::size_t> causes = belief::largest_first(belief.present_now);
  std::erase_if(causes, [&](std::size_t cause) { return belief.present_now[cause] < least; });
  std::string out;
  std::size_t shown = 0;
  each_alike(job.model(), causes, said, [&](const std::vector<std::size_t>& alike) {
    if (shown++ >= count) return;
    const double p = belief.present_now[alike.front()];
    out += labelled("  " + percent(p) + "  " + padded(bar(p, 12), 14),
                    causes_in_words(job.model(), alike) + range(alike.front()), 23);
  });
  return belief.exact ? out + narrowed_in_words(job) : out;
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
  const std::string open = layers_in_words(job.model().pack, job.evidence().open_layers);
  return open.empty() ? "everything is closed" : "open: " + open;
}

}  // namespace tickover::cli
