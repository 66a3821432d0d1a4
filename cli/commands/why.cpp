#include <fmt/format.h>

#include <algorithm>
#include <future>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/session.hpp"
#include "cli/standing.hpp"
#include "engine/belief/sensitivity.hpp"
#include "engine/belief/weigh.hpp"
#include "engine/foundation/error.hpp"
#include "engine/plan/next_step.hpp"
#include "engine/trail/describe.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kWeightsShown = 3;
constexpr std::size_t kLeveragesShown = 3;
/// Less than a tenth of a deciban is nobody's reason.
constexpr double kLeastWeight = 0.1;
/// Causes so near in probability are told with the same figure.
constexpr double kLevel = 0.005;

/// "pilot-blocked" with --cyl 3, or "pilot-blocked@3".
std::size_t cause_named(const Model& model, const Words& words) {
  std::string word = words.required("cause");
  std::vector<std::string> known;
  for (const CauseInstance& cause : model.causes) known.push_back(cause.id);
  const auto cause = pack::find(model.pack.causes, word);
  if (cause && model.pack.causes[*cause].scope != pack::Scope::engine) {
    const std::vector<Place> places = model.places(model.pack.causes[*cause].scope);
    if (!words.has("cyl") && places.size() > 1) {
      throw InputError(InputFault::usage, "", "'" + word + "' has several places",
                       "say which: --cyl 1, or " + word + "@1");
    }
    const std::vector<std::size_t> cylinders =
        parse_cylinders(words.has("cyl") ? words.text("cyl") : "1", model.machine);
    if (cylinders.size() != 1 || cylinders.front() > model.machine.cylinders.size()) {
      throw InputError(InputFault::usage, "", "--cyl wants one cylinder of this machine here");
    }
    word += "@" + std::to_string(
                      model.place_at(model.pack.causes[*cause].scope, cylinders.front()).number);
  }
  const auto found = std::find(known.begin(), known.end(), word);
  if (found == known.end()) {
    throw unknown_name(InputFault::usage, "", "cause", word, known, "'tickover list causes'");
  }
  return static_cast<std::size_t>(found - known.begin());
}

std::string weights_in_words(const Diagnosis& job, const Journal& journal,
                             std::vector<belief::Weight> weights, bool in_favour) {
  std::stable_sort(weights.begin(), weights.end(), [&](const auto& a, const auto& b) {
    return in_favour ? a.decibans > b.decibans : a.decibans < b.decibans;
  });
  std::string out;
  for (std::size_t i = 0; i < std::min(kWeightsShown, weights.size()); ++i) {
    const double weight = weights[i].decibans;
    if (in_favour ? weight < kLeastWeight : weight > -kLeastWeight) break;
    const Entry& entry = journal.entries[weights[i].source - 1];
    out += labelled(fmt::format("  {:>9}  ", decibans_text(weight)),
                    fmt::format("entry {}: {}", entry.number, describe(job.model(), entry)), 13);
  }
  return out.empty() ? "  nothing so far\n" : out;
}

/// A cause that leads already, alone or level with others, is not said to lead then.
std::string leverage_in_words(const Model& model, const std::vector<belief::Leverage>& leverages,
                              const std::vector<double>& present) {
  const double most = *std::max_element(present.begin(), present.end());
  std::string out;
  for (const belief::Leverage& one : leverages) {
    std::string text =
        fmt::format("{} ({} in the pack, credible from {} to {}): from {} to {}", one.what,
                    one.value, one.low, one.high, percent(one.at_low), percent(one.at_high));
    for (const std::size_t other : {one.leader_at_low, one.leader_at_high}) {
      if (most - present[other] < kLevel) continue;
      text += "; " + model.describe_cause(other) + " would then lead";
      break;
    }
    out += labelled("  - ", text, 4);
  }
  return out;
}

constexpr const char* kNotAllTried =
    "Where so many findings tie so many causes together only its own numbers were tried, and the "
    "priors of the others: each try takes long.";

/// What would be done next, as things are and with the number that moves the cause most at either
/// end of its range.
struct NextSteps {
  plan::Proposal now, at_low, at_high;
};

/// None without a complaint, or once it is gone: then nothing is advised. The three are worked out
/// side by side.
std::optional<NextSteps> next_steps(const Diagnosis& job,
                                    const std::vector<belief::Leverage>& leverages) {
  const bool nothing_to_do = job.evidence().complaint.empty() || job.evidence().verdict == "gone";
  if (nothing_to_do || leverages.empty()) return std::nullopt;
  const belief::Leverage& most = leverages.front();
  const auto with = [&](double value) {
    return plan::next_step(belief::with_number(job.model(), job.evidence(), most.place, value),
                           job.evidence());
  };
  auto low = std::async(std::launch::async, with, most.low);
  auto high = std::async(std::launch::async, with, most.high);
  plan::Proposal now = plan::next_step(job.model(), job.evidence());
  return NextSteps{std::move(now), low.get(), high.get()};
}

/// Of a course the look or repair that it begins with.
std::string step_in_words(const Model& model, plan::Proposal step) {
  std::erase_if(step.batch.steps,
                [first = step.batch.steps.empty() ? plan::CourseStep() : step.batch.steps.front()](
                    const auto& one) { return !plan::alike(one, first); });
  return headline(model, step);
}

std::string next_in_words(const Model& model, const belief::Leverage& most, const NextSteps& next) {
  std::string changes;
  for (const auto& [value, step] :
       {std::pair(most.low, &next.at_low), {most.high, &next.at_high}}) {
    if (plan::same_step(next.now, *step)) continue;
    changes +=
        fmt::format("{} at {}: {}", changes.empty() ? "" : ";", value, step_in_words(model, *step));
  }
  const std::string now = step_in_words(model, next.now);
  if (changes.empty()) {
    return wrapped(
        "The first of them, anywhere in its range, leaves the next step as it is: " + now + ".", 0);
  }
  return wrapped("The next step is now: " + now + ". With the first of them" + changes + ".", 0);
}

Json why_json(const Diagnosis& job, std::size_t cause, const belief::Belief& belief,
              const std::vector<belief::Weight>& weights, const belief::Sensitivity& sensitivity,
              const std::optional<NextSteps>& next) {
  Json out = {{"report", "why"},
              {"format", 1},
              {"cause", job.model().causes[cause].id},
              {"prior", steady(job.model().causes[cause].prior)},
              {"present-now", steady(belief.present_now[cause])},
              {"present-as-found", steady(belief.present_at_start[cause])}};
  out["weights"] = Json::array();
  for (const belief::Weight& one : weights) {
    out["weights"].push_back({{"entry", one.source}, {"decibans", steady(one.decibans)}});
  }
  out["sensitivity"] = Json::array();
  for (const belief::Leverage& one : sensitivity.largest) {
    out["sensitivity"].push_back({{"number", one.what},
                                  {"place", one.place},
                                  {"value", one.value},
                                  {"low", one.low},
                                  {"high", one.high},
                                  {"at-low", steady(one.at_low)},
                                  {"at-high", steady(one.at_high)},
                                  {"leads-at-low", job.model().causes[one.leader_at_low].id},
                                  {"leads-at-high", job.model().causes[one.leader_at_high].id}});
  }
  out["all-tried"] = sensitivity.all_tried;
  if (next) {
    out["next"] = {{"now", headline(job.model(), next->now)},
                   {"at-low", headline(job.model(), next->at_low)},
                   {"at-high", headline(job.model(), next->at_high)},
                   {"changes", !plan::same_step(next->now, next->at_low) ||
                                   !plan::same_step(next->now, next->at_high)}};
  }
  return out;
}

int run_why(World& world, const Words& words) {
  const Session session = read_job(world, words.required("job"));
  const Diagnosis& job = *session.diagnosis;
  const Model& model = job.model();
  const std::size_t cause = cause_named(model, words);
  const belief::Case given = job.judged();
  const belief::Belief belief = belief::infer(given);
  if (belief.contradiction) {
    world.out << contradiction_in_words(job, session.journal);
    return kDone;
  }
  const std::vector<belief::Weight> weights = belief::weights_of_evidence(given, cause);
  const auto [leverages, all_tried] =
      belief::sensitivity(model, job.evidence(), cause, kLeveragesShown);
  const std::optional<NextSteps> next = next_steps(job, leverages);
  if (words.has("json")) {
    print_json(world.out, why_json(job, cause, belief, weights, {leverages, all_tried}, next));
    return kDone;
  }
  world.out << wrapped(model.describe_cause(cause), 0)
            << wrapped(fmt::format("Before the complaint {}; as found {}; now {}.",
                                   odds_in_words(model.causes[cause].prior),
                                   odds_in_words(belief.present_at_start[cause]),
                                   odds_in_words(belief.present_now[cause])),
                       0)
            << narrowed_in_words(job) << "\nFor it, as found (10 dB is ten times the odds)\n"
            << weights_in_words(job, session.journal, weights, true) << "Against it\n"
            << weights_in_words(job, session.journal, weights, false)
            << "\nNumbers of the pack that would move it most\n"
            << leverage_in_words(model, leverages, belief.present_now)
            << (all_tried ? "" : wrapped(kNotAllTried, 0))
            << (next ? next_in_words(model, leverages.front(), *next) : "");
  return kDone;
}

}  // namespace

Command why_command() {
  return {
      "why",
      "What speaks for and against a cause, and which number of the pack matters most.",
      {job_argument(), {"cause", "the cause, as 'tickover causes' shows it", Names::cause}},
      "tickover why grey-four.job pilot-jet-blocked --cyl 2",
      {{.name = "cyl", .help = "at which cylinder", .placeholder = "N", .names = Names::cylinders}},
      run_why};
}

}  // namespace tickover::cli
