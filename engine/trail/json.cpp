#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "engine/evidence/reading.hpp"
#include "engine/trail/describe.hpp"
#include "engine/trail/trail.hpp"

namespace tickover {
namespace {

using Json = nlohmann::ordered_json;

double steady(double number) { return std::stod(fmt::format("{:.12g}", number)); }

Json standings(const Model& model, const std::vector<Standing>& list) {
  Json out = Json::array();
  for (const Standing& one : list) {
    out.push_back(
        {{"cause", model.causes[one.cause].id}, {"probability", steady(one.probability)}});
  }
  return out;
}

Json bench(const Model& model, const Trail& trail) {
  Json out = Json::array();
  for (const BenchValue& value : trail.bench) {
    const FindingInstance& instance = model.findings[value.seen.finding];
    const std::string& unit = model.pack.findings[instance.finding].unit;
    out.push_back({{"finding", instance.id},
                   {"value", steady(in_unit({*value.seen.reading, dimension_of(unit)}, unit))},
                   {"unit", unit},
                   {"verdict", verdict(model, value.seen).text},
                   {"as-left", value.as_left},
                   {"entry", value.seen.entry}});
  }
  return out;
}

Json steps(const Model& model, const Journal& journal, const Trail& trail) {
  Json out = Json::array();
  for (const TrailStep& step : trail.steps) {
    const Entry& entry = journal.entries[step.entry - 1];
    Json one = {{"entry", step.entry},
                {"time", entry.time},
                {"what", describe(model, entry)},
                {"struck", step.struck},
                {"leading", standings(model, step.leading)}};
    if (!step.replaced_by.empty()) {
      one["replaced-by"] = step.replaced_by;
      one["replaced-in-part"] = step.replaced_in_part;
    }
    if (step.cured_if_all_repaired) one["cured"] = steady(*step.cured_if_all_repaired);
    out.push_back(one);
  }
  return out;
}

}  // namespace

std::string trail_json(const Diagnosis& job, const Journal& journal, const Trail& trail) {
  const Model& model = job.model();
  Json out = {{"report", "sheet"},
              {"format", 1},
              {"machine", model.machine.id},
              {"pack", journal.opening().pack},
              {"pack-hash", journal.opening().pack_hash},
              {"said", journal.opening().complaint}};
  if (journal.opening().earlier) {
    out["earlier"] = {{"job", journal.opening().earlier->job},
                      {"sum", journal.opening().earlier->sum}};
  }
  out["complaint"] = Json::array();
  for (const std::size_t finding : job.evidence().complaint)
    out["complaint"].push_back(model.findings[finding].id);
  out["named"] = Json::array();
  for (const std::size_t cause : trail.named) out["named"].push_back(model.causes[cause].id);
  out["confirmed"] = standings(model, trail.confirmed);
  out["remaining"] = standings(model, trail.remaining);
  out["unlisted"] = steady(trail.unlisted);
  out["ruled-out"] = Json::array();
  for (const RuledOut& one : trail.ruled_out) {
    out["ruled-out"].push_back({{"cause", model.causes[one.cause].id},
                                {"highest", steady(one.highest)},
                                {"now", steady(one.now)},
                                {"by-entry", one.by},
                                {"decibans", steady(one.decibans)}});
  }
  out["bench"] = bench(model, trail);
  out["steps"] = steps(model, journal, trail);
  return out.dump(2, ' ', true, nlohmann::json::error_handler_t::replace) + "\n";
}

}  // namespace tickover
