#include "cli/trial/results.hpp"

#include <algorithm>
#include <charconv>
#include <map>
#include <nlohmann/json.hpp>

#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

using nlohmann::json;
using trial::JobResult;
using trial::Outcome;

std::string end_of(const Outcome& outcome) {
  if (outcome.cured) return "cured";
  return outcome.contradiction ? "contradiction" : "handed-on";
}

json outcome_json(const Outcome& outcome) {
  return {{"minutes", outcome.minutes},        {"end", end_of(outcome)},
          {"verified", outcome.verifications}, {"checks", outcome.checks},
          {"questions", outcome.questions},    {"repairs", outcome.repairs},
          {"needless", outcome.needless},      {"left", outcome.left}};
}

Outcome outcome_in(const json& line) {
  Outcome outcome;
  outcome.minutes = line["minutes"].get<double>();
  outcome.cured = line["end"] == "cured";
  outcome.handed_on = !outcome.cured;
  outcome.contradiction = line["end"] == "contradiction";
  outcome.verifications = line["verified"].get<std::size_t>();
  outcome.cured_first = outcome.cured && outcome.verifications == 1;
  outcome.checks = line["checks"].get<std::size_t>();
  outcome.questions = line["questions"].get<std::size_t>();
  outcome.repairs = line["repairs"].get<std::size_t>();
  outcome.needless = line["needless"].get<std::size_t>();
  outcome.left = line["left"].get<bool>();
  return outcome;
}

JobResult played_in(const json& line) {
  JobResult result{line["job"].get<std::size_t>(),
                   line["drawn"].get<std::size_t>(),
                   line["faults"].get<std::size_t>(),
                   line["told"].get<std::size_t>(),
                   {}};
  for (const json& outcome : line["outcomes"]) result.outcomes.push_back(outcome_in(outcome));
  return result;
}

json head_json(const TrialHead& head) {
  return {{"trial", 1},
          {"pack", head.pack},
          {"pack-hash", head.pack_hash},
          {"machine", head.machine},
          {"machine-hash", head.machine_hash},
          {"settings-hash", head.settings_hash},
          {"jobs", head.jobs},
          {"seed", head.seed},
          {"perturbed", head.perturbed},
          {"slips", head.slips},
          {"policies", head.policies},
          {"shard", std::to_string(head.shard.i) + "/" + std::to_string(head.shard.n)}};
}

TrialHead head_in(const json& line) {
  TrialHead head;
  head.pack = line["pack"].get<std::string>();
  head.pack_hash = line["pack-hash"].get<std::string>();
  head.machine = line["machine"].get<std::string>();
  head.machine_hash = line["machine-hash"].get<std::string>();
  head.settings_hash = line["settings-hash"].get<std::string>();
  head.jobs = line["jobs"].get<std::size_t>();
  head.seed = line["seed"].get<std::uint64_t>();
  head.perturbed = line["perturbed"].get<bool>();
  head.slips = line["slips"].get<double>();
  head.policies = line["policies"].get<std::vector<std::string>>();
  const std::string shard = line["shard"].get<std::string>();
  const std::size_t slash = shard.find('/');
  head.shard = {std::stoul(shard.substr(0, slash)), std::stoul(shard.substr(slash + 1))};
  return head;
}

/// Takes one line of results into what was read before it.
void take(TrialResults& results, std::size_t number, const json& line, const JsonSchema& schema,
          const std::string& place) {
  if (number == 1) {
    schema.validate(line, "trial", place);
    results.head = head_in(line);
    const Shard& shard = results.head.shard;
    if (shard.i >= 1 && shard.i <= shard.n) return;
    throw InputError(InputFault::data, json_place(place, "/shard"), "there is no such shard",
                     "the first of four is 1/4, the last 4/4");
  }
  schema.validate(line, "played", place);
  results.played.push_back(played_in(line));
  const JobResult& last = results.played.back();
  if (last.outcomes.size() != results.head.policies.size()) {
    throw InputError(InputFault::data, json_place(place, "/outcomes"),
                     "there should be one for each policy");
  }
  const std::size_t expected =
      results.head.shard.i - 1 + (results.played.size() - 1) * results.head.shard.n;
  if (last.job == expected && last.job < results.head.jobs) return;
  throw InputError(InputFault::data, json_place(place, "/job"),
                   "job " + std::to_string(last.job) + " does not belong here",
                   expected < results.head.jobs ? "the next is " + std::to_string(expected)
                                                : "all jobs were there already");
}

}  // namespace

std::vector<std::size_t> TrialHead::numbers() const {
  std::vector<std::size_t> all;
  for (std::size_t job = shard.i - 1; job < jobs; job += shard.n) all.push_back(job);
  return all;
}

std::string head_line(const TrialHead& head) { return json_text(head_json(head)) + "\n"; }

std::string played_line(const JobResult& result) {
  json line = {{"job", result.job},
               {"drawn", result.drawn},
               {"faults", result.faults},
               {"told", result.told},
               {"outcomes", json::array()}};
  for (const Outcome& one : result.outcomes) line["outcomes"].push_back(outcome_json(one));
  return json_text(line) + "\n";
}

TrialResults parse_results(const std::string& text, const JsonSchema& schema,
                           const std::string& file) {
  TrialResults results;
  std::size_t begin = 0, number = 0;
  for (std::size_t end = text.find('\n'); end != std::string::npos; end = text.find('\n', begin)) {
    const std::string place = file + ":" + std::to_string(++number);
    const std::string line = text.substr(begin, end - begin);
    take(results, number, parse_json(line, place), schema, place);
    begin = end + 1;
  }
  results.torn = text.size() - begin;
  if (number > 0) return results;
  throw InputError(InputFault::data, file, "there are no results of a trial in it",
                   "'tickover trial --out FILE' writes them");
}

std::string difference(const TrialHead& a, const TrialHead& b) {
  const json left = head_json(a), right = head_json(b);
  for (const auto& [name, value] : left.items()) {
    if (name != "shard" && value != right[name]) return name;
  }
  return "";
}

TrialResults merged(const std::vector<TrialResults>& shards,
                    const std::vector<std::string>& files) {
  TrialResults all{shards.front().head, {}, 0};
  all.head.shard = {};
  std::map<std::size_t, std::size_t> from;  // job -> which file
  for (std::size_t s = 0; s < shards.size(); ++s) {
    const std::string differs = difference(shards.front().head, shards[s].head);
    if (!differs.empty()) {
      throw InputError(InputFault::data, files[s] + ":1",
                       "it is of another trial than " + files.front(), "'" + differs + "' differs");
    }
    for (const JobResult& one : shards[s].played) {
      const auto [before, first] = from.emplace(one.job, s);
      all.played.push_back(one);
      if (first) continue;
      throw InputError(
          InputFault::data, files[s],
          "job " + std::to_string(one.job) + " is in " + files[before->second] + " too",
          "give each shard once");
    }
  }
  std::sort(all.played.begin(), all.played.end(),
            [](const JobResult& a, const JobResult& b) { return a.job < b.job; });
  if (all.played.size() == all.head.jobs) return all;
  std::size_t missing = 0;
  while (from.count(missing) > 0) ++missing;
  throw InputError(InputFault::data, "",
                   std::to_string(all.head.jobs - all.played.size()) + " of " +
                       std::to_string(all.head.jobs) + " jobs are missing, the first is job " +
                       std::to_string(missing),
                   "give all shards, and finish those cut short with --resume");
}

}  // namespace tickover::cli
