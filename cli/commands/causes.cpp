#include <fmt/format.h>

#include <algorithm>
#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/session.hpp"
#include "cli/standing.hpp"
#include "engine/belief/cause_sets.hpp"
#include "engine/foundation/text.hpp"
#include "engine/vet/apart.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kSetsShown = 5;
constexpr std::size_t kCausesInSets = 12;
constexpr std::size_t kPairsShown = 3;
constexpr double kLeastShown = 0.01;

std::string names_of(const Model& model, const std::vector<std::size_t>& causes) {
  std::vector<std::string> names;
  for (const std::size_t cause : causes) names.push_back(model.describe_cause(cause));
  return names.empty() ? "none of the leading causes" : join_words(names, "; ", "; ");
}

std::vector<belief::CauseSet> sets_of(const belief::Case& given, const belief::Belief& belief) {
  return belief::cause_sets(given, kSetsShown,
                            belief::largest_first(belief.present_now, kCausesInSets));
}

/// What was there; of what is not there any more that it has gone.
std::string in_words(const Model& model, const belief::CauseSet& set) {
  const std::string causes = names_of(model, set.causes);
  if (set.left == set.causes) return causes;
  return causes + (set.left.empty() ? ". Gone now" : ". Still there: " + names_of(model, set.left));
}

std::vector<belief::Removal> removals_of(const std::vector<std::size_t>& causes) {
  std::vector<belief::Removal> removals;
  for (const std::size_t cause : causes) removals.push_back({cause, 0, 1, 0});
  return removals;
}

std::string sets_in_words(const Diagnosis& job, const belief::Case& given,
                          const belief::Belief& belief) {
  std::string out =
      given.now > 0
          ? "\nSets of the leading causes, as found and now; each share is the least it can be\n"
          : "\nSets of the leading causes\n";
  for (const belief::CauseSet& one : sets_of(given, belief)) {
    out += labelled("  " + percent(one.probability) + "  ", in_words(job.model(), one), 9);
  }
  return out;
}

/// How surely the complaint is gone when the leading causes are removed, one more each line: the
/// first fault found is not the end of it.
std::string cures_in_words(const Diagnosis& job, const belief::Case& given,
                           const belief::Belief& belief) {
  belief::Prospects prospects(given, job.complaint(), belief.log_evidence);
  std::string out = "\nComplaint gone if these were removed, one more each line\n";
  std::vector<std::size_t> removed;
  for (const std::size_t cause : belief::largest_first(belief.present_now, kSetsShown)) {
    removed.push_back(cause);
    out += labelled("  " + percent(prospects.cured(removals_of(removed))) + "  ",
                    (removed.size() > 1 ? "and " : "") + job.model().describe_cause(cause), 9);
  }
  return out;
}

std::vector<vet::NotApart> not_apart(const Diagnosis& job, const belief::Belief& belief) {
  return vet::not_told_apart(job.workshop(), job.evidence(), belief.present_now, kPairsShown);
}

std::string pairs_in_words(const Diagnosis& job, const belief::Belief& belief) {
  const Model& model = job.model();
  std::string out;
  for (const vet::NotApart& one : not_apart(job, belief)) {
    const std::string told = one.check
                                 ? fmt::format("{} ({}) in {}, right {:.0f} times in 100",
                                               model.pack.checks[*one.check].name,
                                               model.describe(model.findings[one.finding].place),
                                               minutes_in_words(one.minutes), 100 * one.right)
                                 : std::string("no check that is left tells which");
    out += labelled(
        "  - ",
        model.describe_cause(one.cause) + " or " + model.describe_cause(one.other) + ": " + told,
        4);
  }
  return out.empty() ? "" : "\nNot yet told apart, and the cheapest check that would\n" + out;
}

Json pairs_json(const Diagnosis& job, const belief::Belief& belief) {
  const Model& model = job.model();
  Json list = Json::array();
  for (const vet::NotApart& one : not_apart(job, belief)) {
    Json pair = {{"causes", {model.causes[one.cause].id, model.causes[one.other].id}}};
    if (one.check) {
      pair["check"] = model.pack.checks[*one.check].id;
      pair["place"] = model.findings[one.finding].place.number;
      pair["minutes"] = steady(one.minutes);
      pair["right"] = steady(one.right);
    }
    list.push_back(pair);
  }
  return list;
}

int run_causes(World& world, const Words& words) {
  const Session session = read_job(world, words.required("job"));
  const Diagnosis& job = *session.diagnosis;
  const belief::Case given = job.judged();
  const belief::Belief belief = belief::infer_narrowed(job.given());
  const double unlisted = belief::unlisted(given, job.complaint());
  if (words.has("json")) {
    Json out = {{"report", "causes"},
                {"format", 1},
                {"contradiction", belief.contradiction},
                {"exact", belief.exact},
                {"width", belief.width},
                {"log-evidence", belief.contradiction ? Json() : Json(steady(belief.log_evidence))},
                {"unlisted", steady(unlisted)},
                {"causes", standing_json(job, belief)}};
    out["explanations"] = Json::array();
    const auto ids_of = [&](const std::vector<std::size_t>& causes) {
      Json ids = Json::array();
      for (const std::size_t cause : causes) ids.push_back(job.model().causes[cause].id);
      return ids;
    };
    for (const belief::CauseSet& one : sets_of(given, belief)) {
      out["explanations"].push_back(
          {{"causes", ids_of(one.causes)},
           {"left", ids_of(one.left)},
           {"probability", steady(one.probability)},
           {"cures", steady(belief::cured(given, job.complaint(), removals_of(one.causes)))}});
    }
    out["not-told-apart"] = pairs_json(job, belief);
    print_json(world.out, out);
    return kDone;
  }
  if (belief.contradiction) {
    world.out << contradiction_in_words(job, session.journal);
    return kDone;
  }
  if (job.evidence().complaint.empty()) {
    world.out << "No symptom is recorded yet; this is what is usual on such a machine.\n";
  }
  world.out << "Causes, each on its own (several can be present at once)\n"
            << standing_in_words(job, belief, static_cast<std::size_t>(words.whole("top")),
                                 kLeastShown);
  if (job.evidence().complaint.empty()) return kDone;
  world.out << sets_in_words(job, given, belief) << cures_in_words(job, given, belief)
            << pairs_in_words(job, belief)
            << wrapped("\nSomething not on this list is behind the complaint: " +
                           odds_in_words(unlisted) + ".",
                       0);
  if (!belief.exact) {
    world.out << wrapped(
        given.doubt > 0
            ? "Too many findings tie too many causes together for an exact answer in reasonable "
              "memory: what measurements leave hardly a doubt of counts as not there. The ranges "
              "in brackets are certain; a cause without one stands in the list to the per cent."
            : "Too many findings tie too many causes together for an exact answer in "
              "reasonable memory: the ranges in brackets are certain, the figures are not.",
        0);
  }
  return kDone;
}

}  // namespace

Command causes_command() {
  return {"causes",
          "The standing of causes, of sets of causes, and of what is not on the list.",
          {job_argument()},
          "tickover causes grey-four.job",
          {{.name = "top",
            .help = "how many causes to show, one alike at several places counting once",
            .kind = Kind::whole,
            .placeholder = "N",
            .usual = "12"}},
          run_causes};
}

}  // namespace tickover::cli
