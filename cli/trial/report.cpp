#include "cli/trial/report.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>

#include "cli/print.hpp"
#include "engine/foundation/text.hpp"
#include "engine/trial/policy.hpp"

namespace tickover::cli {
namespace {

using trial::Estimate;
using trial::PolicySummary;

constexpr std::size_t kNameColumns = 15;

std::string interval(const Estimate& estimate) {
  return fmt::format("{:.0f} to {:.0f}", estimate.low, estimate.high);
}

std::string minutes_table(const trial::Summary& summary) {
  std::string out = padded("policy", kNameColumns) +
                    "    mean       95 %          median   90th %   mean if cured\n";
  for (const PolicySummary& one : summary.policies) {
    out += padded(one.name, kNameColumns) +
           fmt::format("{:>8.0f}   {:<14}{:>8.0f} {:>8.0f} {:>13.0f}\n", one.minutes.mean,
                       interval(one.minutes), one.median, one.ninetieth, one.cured_minutes);
  }
  return out;
}

std::string work_table(const trial::Summary& summary) {
  std::string out = padded("policy", kNameColumns) +
                    " 1st refit  handed on  needless  checks  asked  repairs  refits\n";
  for (const PolicySummary& one : summary.policies) {
    out += padded(one.name, kNameColumns) +
           fmt::format("{:>10}{:>11}{:>10.2f}{:>8.1f}{:>7.1f}{:>9.2f}{:>8.2f}\n",
                       percent(one.cured_first), percent(one.handed_on), one.needless, one.checks,
                       one.questions, one.repairs, one.verifications);
  }
  return out;
}

std::string meanings(const trial::Summary& summary) {
  std::string out;
  for (const PolicySummary& one : summary.policies) {
    out += labelled("  " + padded(one.name, kNameColumns), trial::policy_named(one.name).meaning,
                    kNameColumns + 2);
  }
  return out;
}

std::string against(const trial::Summary& summary) {
  std::string out;
  const PolicySummary& first = summary.policies.front();
  for (std::size_t i = 1; i < summary.policies.size(); ++i) {
    const PolicySummary& other = summary.policies[i];
    const bool ahead = other.ahead.mean >= 0;
    const Estimate way =
        ahead ? other.ahead : Estimate{-other.ahead.mean, -other.ahead.high, -other.ahead.low};
    out += wrapped(
        fmt::format("  {} is {:.0f} min {} than {} (95 %: {}), {:.2f} of its mean", first.name,
                    way.mean, ahead ? "quicker" : "slower", other.name, interval(way), other.ratio),
        4);
  }
  return out;
}

Json estimate_json(const Estimate& estimate) {
  return {{"mean", steady(estimate.mean)},
          {"low", steady(estimate.low)},
          {"high", steady(estimate.high)}};
}

Json policy_json(const PolicySummary& one) {
  return {{"policy", one.name},
          {"minutes", estimate_json(one.minutes)},
          {"median", steady(one.median)},
          {"ninetieth", steady(one.ninetieth)},
          {"cured-minutes", steady(one.cured_minutes)},
          {"curable-minutes", steady(one.curable_minutes)},
          {"cured-first", steady(one.cured_first)},
          {"handed-on", steady(one.handed_on)},
          {"contradicted", steady(one.contradicted)},
          {"left", steady(one.left)},
          {"needless", steady(one.needless)},
          {"repairs", steady(one.repairs)},
          {"checks", steady(one.checks)},
          {"questions", steady(one.questions)},
          {"verifications", steady(one.verifications)},
          {"first-ahead", estimate_json(one.ahead)},
          {"first-ratio", steady(one.ratio)}};
}

/// The jobs that no policy can cure cost them all the same: told apart from the others.
std::string curable_note(const trial::Summary& summary) {
  const PolicySummary& first = summary.policies.front();
  std::vector<std::string> means;
  for (const PolicySummary& one : summary.policies) {
    std::string its = fmt::format("{} {:.0f}", one.name, one.curable_minutes);
    if (&one != &first && one.curable_minutes > 0) {
      its += fmt::format(" ({} takes {:.2f} of it)", first.name,
                         first.curable_minutes / one.curable_minutes);
    }
    means.push_back(its);
  }
  return fmt::format(
      "{:.0f} % of these jobs can be cured by what the knowledge lists; behind the others is "
      "something else, and whatever is done they are handed on. Mean minutes of those that can: "
      "{}.",
      100 * summary.curable, fmt::join(means, ", "));
}

}  // namespace

std::string trial_title(const TrialReport& report) {
  const TrialHead& head = report.head;
  const std::string shard =
      head.shard == Shard{} ? "" : fmt::format(" (shard {}/{})", head.shard.i, head.shard.n);
  return fmt::format(
      "{} simulated jobs{} on {}, seed {}; truths from the pack {}; {}", report.summary.jobs, shard,
      head.machine, head.seed, head.perturbed ? "with its numbers moved" : "as it is",
      head.slips > 0 ? fmt::format("one result in {:.3g} misread", 1 / head.slips) : "no slips");
}

std::vector<std::string> trial_notes(const TrialReport& report) {
  const std::vector<double>& faults = report.summary.faults;
  std::vector<std::string> notes = {
      fmt::format("Of the machines drawn, {:.0f} % have something to complain of. Faults "
                  "present then: none that is listed {:.0f} %, one {:.0f} %, two {:.0f} %, "
                  "three {:.0f} %, more {:.0f} %.",
                  100 * report.summary.complain, 100 * faults[0], 100 * faults[1], 100 * faults[2],
                  100 * faults[3], 100 * faults[4]),
      "Minutes run until the cure is verified, or until the job is handed on, its price "
      "and what parts count as included. 1st refit: cured by the first verification. Needless: "
      "repairs a job, by place, of causes that were not there. The truth line knows the faults "
      "beforehand.",
      "Not simulated: exhaust samples (no policy is offered them), and faults that repairs "
      "newly bring in. The rider tells some of the symptoms present by chance; belief takes "
      "them as they come."};
  if (report.summary.curable > 0) notes.push_back(curable_note(report.summary));
  return notes;
}

std::string trial_text(const TrialReport& report) {
  std::string out = wrapped(trial_title(report), 0) + "\n" + minutes_table(report.summary) + "\n" +
                    work_table(report.summary) + "\nWays of working\n" + meanings(report.summary);
  if (report.summary.policies.size() > 1) out += "\nJob by job\n" + against(report.summary);
  for (const std::string& note : trial_notes(report)) out += "\n" + wrapped(note, 0);
  return out;
}

Json trial_json(const TrialReport& report) {
  const TrialHead& head = report.head;
  Json out = {{"report", "trial"},
              {"format", 1},
              {"pack", head.pack},
              {"pack-hash", head.pack_hash},
              {"machine", head.machine},
              {"jobs", report.summary.jobs},
              {"seed", head.seed},
              {"perturbed", head.perturbed},
              {"slips", head.slips},
              {"complain", steady(report.summary.complain)},
              {"curable", steady(report.summary.curable)},
              {"faults", Json::array()},
              {"policies", Json::array()},
              {"notes", trial_notes(report)}};
  for (const double share : report.summary.faults) out["faults"].push_back(steady(share));
  for (const PolicySummary& one : report.summary.policies) {
    out["policies"].push_back(policy_json(one));
  }
  return out;
}

}  // namespace tickover::cli
