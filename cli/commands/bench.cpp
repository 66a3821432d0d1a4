#include "engine/trail/bench.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/session.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"

namespace tickover::cli {
namespace {

// the sheet's columns: place, as found, as left, verdict
constexpr std::size_t kFoundAt = 7, kLeftAt = 19, kVerdictAt = 31;

std::string value_text(const Model& model, const BenchReading& taken) {
  const std::string& unit = model.pack.findings[model.findings[taken.seen.finding].finding].unit;
  return format_quantity({*taken.seen.reading, dimension_of(unit)}, unit, 4);
}

/// "3" for a cylinder, "1,2" for what a shared carburettor feeds, "all" for the engine.
std::string place_text(const Model& model, Place place) {
  if (place.scope == pack::Scope::engine) return "all";
  std::string cylinders;
  for (const std::size_t cylinder : model.cylinders_of(place)) {
    cylinders += (cylinders.empty() ? "" : ",") + std::to_string(cylinder);
  }
  return cylinders;
}

/// What it speaks for most, and what it speaks against most.
std::string speaks_text(const Model& model, const BenchReading& taken) {
  std::vector<Speaks> told;
  for (const bool against : {false, true}) {
    const auto first =
        std::find_if(taken.speaks.begin(), taken.speaks.end(),
                     [&](const Speaks& one) { return (one.decibans < 0) == against; });
    if (first != taken.speaks.end()) told.push_back(*first);
  }
  std::string out;
  for (const Speaks& one : told) {
    out += labelled(std::string(kVerdictAt, ' ') + padded(decibans_text(one.decibans), 9) + " ",
                    model.describe_cause(one.cause), kVerdictAt + 10);
  }
  return out;
}

/// One reading on its line: in the column of as found or of as left.
std::string reading_text(const Model& model, const std::string& place, const BenchReading& taken) {
  const std::string value = value_text(model, taken);
  const std::string head = taken.as_left
                               ? padded(padded("  " + place, kFoundAt), kLeftAt) +
                                     padded(value + " ", kVerdictAt - kLeftAt)
                               : padded(padded("  " + place, kFoundAt) + value + " ", kVerdictAt);
  std::string verdict = taken.verdict.text;
  if (taken.seen.sample) verdict = fmt::format("+-{:.3f}, ", taken.seen.sample->error) + verdict;
  return labelled(head, (taken.verdict.beyond ? "! " : "") + verdict, kVerdictAt) +
         speaks_text(model, taken);
}

std::string place_lines(const Model& model, const BenchPlace& place) {
  const std::string name = place_text(model, place.place);
  if (place.taken.empty()) {
    return padded("  " + name, kFoundAt) +
           (place.told ? "told by a fuller reading\n" : "to be measured\n");
  }
  std::string out;
  for (const BenchReading& taken : place.taken) {
    out += reading_text(model, out.empty() ? name : "", taken);
  }
  return out;
}

bool gaps(const BenchLine& line) {
  return std::any_of(line.places.begin(), line.places.end(),
                     [](const BenchPlace& place) { return place.taken.empty() && !place.told; });
}

std::vector<std::string> check_ids(const Model& model, const BenchLine& line) {
  std::vector<std::string> ids;
  for (const std::size_t check : line.checks) ids.push_back(model.pack.checks[check].id);
  if (ids.empty()) ids.push_back(model.pack.findings[line.finding].id);
  return ids;
}

std::string line_text(const Model& model, const BenchLine& line) {
  const pack::Finding& finding = model.pack.findings[line.finding];
  std::string out =
      wrapped(finding.name, 0) +
      wrapped("  wanted " + wanted_text(model, finding) + ", limits " + limit_text(model, finding) +
                  "; check: " + join_words(check_ids(model, line), " or "),
              2) +
      padded(padded(padded("  cyl", kFoundAt) + "as found", kLeftAt) + "as left", kVerdictAt) +
      "verdict, and what it speaks for\n";
  for (const BenchPlace& place : line.places) out += place_lines(model, place);
  return out;
}

std::string sheet_text(const Model& model, const std::vector<BenchLine>& lines) {
  std::string out, left;
  for (const BenchLine& line : lines) {
    const pack::Finding& finding = model.pack.findings[line.finding];
    if (line.touched()) {
      out += (out.empty() ? "" : "\n") + line_text(model, line);
    } else if (gaps(line)) {
      left += labelled("  " + padded(join_words(check_ids(model, line), " or "), 20) + " ",
                       finding.name + "; wanted " + wanted_text(model, finding), 23);
    }
  }
  if (out.empty()) out = "No reading is taken yet.\n";
  if (!left.empty()) out += "\nStill to be measured, with the check\n" + left;
  return out;
}

Json reading_json(const Model& model, const BenchReading& taken) {
  const std::string& unit = model.pack.findings[model.findings[taken.seen.finding].finding].unit;
  Json out = {{"entry", taken.seen.entry},
              {"value", steady(in_unit({*taken.seen.reading, dimension_of(unit)}, unit))},
              {"unit", unit},
              {"as-left", taken.as_left},
              {"beyond", taken.verdict.beyond},
              {"verdict", taken.verdict.text}};
  if (taken.seen.sample) {
    out["error"] = steady(taken.seen.sample->error);
    out["undiluted-lambda"] = steady(taken.seen.sample->undiluted);
    out["doubtful"] = taken.seen.sample->doubtful;
  }
  out["speaks-for"] = Json::array();
  for (const Speaks& one : taken.speaks) {
    out["speaks-for"].push_back(
        {{"cause", model.causes[one.cause].id}, {"decibans", steady(one.decibans)}});
  }
  return out;
}

Json line_json(const Model& model, const BenchLine& line) {
  const pack::Finding& finding = model.pack.findings[line.finding];
  Json out = {{"finding", finding.id},
              {"name", finding.name},
              {"wanted", wanted_text(model, finding)},
              {"limits", limit_text(model, finding)},
              {"checks", check_ids(model, line)},
              {"places", Json::array()}};
  for (const BenchPlace& place : line.places) {
    Json one = {{"place", place_text(model, place.place)}, {"taken", Json::array()}};
    for (const BenchReading& taken : place.taken)
      one["taken"].push_back(reading_json(model, taken));
    one["told"] = place.told;
    out["places"].push_back(one);
  }
  return out;
}

int run_bench(World& world, const Words& words) {
  const Session session = read_job(world, words.required("job"));
  const Model& model = session.diagnosis->model();
  const std::vector<BenchLine> lines = make_bench(*session.diagnosis);
  if (!words.has("json")) {
    world.out << sheet_text(model, lines);
    return kDone;
  }
  Json out = {{"report", "bench"}, {"format", 1}, {"readings", Json::array()}};
  for (const BenchLine& line : lines) out["readings"].push_back(line_json(model, line));
  print_json(world.out, out);
  return kDone;
}

}  // namespace

Command bench_command() {
  return {"bench",
          "The bench sheet: readings wanted and taken at each cylinder, as found and as left, with "
          "limits, verdict, and what each speaks for; and what is still to be measured.",
          {job_argument()},
          "tickover bench grey-four.job",
          {},
          run_bench};
}

}  // namespace tickover::cli
