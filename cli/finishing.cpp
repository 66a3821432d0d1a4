#include "cli/finishing.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/print.hpp"
#include "cli/standing.hpp"
#include "engine/evidence/confirmed.hpp"
#include "engine/foundation/text.hpp"
#include "engine/trail/trail.hpp"

namespace tickover::cli {
namespace {

/// From when a cause is offered as one that was confirmed.
constexpr double kLeastConfirmed = 0.5;

std::vector<std::size_t> to_be_named(const Diagnosis& job) {
  const std::vector<std::size_t> all = confirmable(job);
  std::vector<std::size_t> done = all;
  std::erase_if(done, [&](std::size_t cause) { return !repaired(job.evidence(), cause); });
  return done.empty() ? all : done;
}

}  // namespace

std::vector<std::size_t> confirmable(const Diagnosis& job) {
  const std::vector<double> present = job.infer().present_at_start;
  std::vector<std::size_t> causes = belief::largest_first(present);
  std::erase_if(causes, [&](std::size_t cause) { return present[cause] < kLeastConfirmed; });
  return causes;
}

std::string finish_line(const Diagnosis& job, const std::string& path) {
  std::string line = "tickover finish " + printable(path);
  const std::vector<std::size_t> causes = to_be_named(job);
  for (const std::size_t cause : causes) line += " --cause " + cause_word(job.model(), cause);
  return causes.empty() ? line + " --cause ..." : line;
}

namespace {

/// What is wrong all the same.
std::string left_in_words(const Diagnosis& job) {
  const Model& model = job.model();
  std::vector<std::string> bad;
  for (const Observation& seen : left_bad(job)) {
    const pack::Finding& finding = model.pack.findings[model.findings[seen.finding].finding];
    bad.push_back(fmt::format("{}: {} (entry {})", model.describe_finding(seen.finding),
                              finding.outcomes[seen.level].id, seen.entry));
  }
  std::string out = left_beyond_in_words(job);
  if (!bad.empty()) {
    out += "\nSeen, and not repaired: put it right, or tell the rider\n" + bullets(bad);
  }
  std::vector<std::string> probable;
  for (const std::size_t cause : probable_left(job)) {
    probable.push_back(model.describe_cause(cause));
  }
  if (!probable.empty()) {
    out +=
        "\nProbably there as found, and no entry repairs it: test it again, or tell the rider\n" +
        bullets(probable);
  }
  return out;
}

}  // namespace

std::string gone_in_words(const Diagnosis& job, const std::string& path) {
  const std::string left = left_in_words(job);
  return "The complaint is gone." + (left.empty() ? " " : "\n" + left + "\n") +
         "Close the job with the causes that you found:\n  " + finish_line(job, path) + "\n";
}

namespace {

std::string ending_in_words(const Evidence& evidence) {
  if (evidence.verdict == "gone" || evidence.complaint.empty()) return "The job is finished.";
  if (evidence.gone_before) {
    return "The job is finished. The road test of entry " + std::to_string(*evidence.gone_before) +
           " found the complaint gone; what was done since is not proven on the road.";
  }
  return "The job is finished, though no road test has found the complaint gone.";
}

/// Causes that were named as confirmed, and that no entry repairs.
std::string unrepaired_in_words(const Diagnosis& job) {
  std::vector<std::string> names;
  for (const std::size_t cause : job.evidence().confirmed) {
    if (!repaired(job.evidence(), cause)) names.push_back(job.model().describe_cause(cause));
  }
  if (names.empty()) return {};
  return " Named, though no entry repairs it: " + join_words(names, "; ", "; ") +
         ". If it was repaired, strike this entry and record the repair; if it was left, say so to "
         "the rider.";
}

}  // namespace

std::string finished_in_words(const Diagnosis& job, const Journal& journal,
                              const std::string& path) {
  const Evidence& evidence = job.evidence();
  const bool gone = evidence.verdict == "gone" || evidence.complaint.empty();
  const std::string left = left_in_words(job);
  const std::string said = wrapped(ending_in_words(evidence) + unrepaired_in_words(job), 0) + left +
                           (left.empty() ? "" : "\n");
  const std::string sheets = "The job sheet: tickover sheet " + printable(path) +
                             "\nFor the rider: tickover sheet " + printable(path) +
                             " --for rider\n";
  if (!evidence.confirmed.empty()) return said + sheets;
  const std::string unnamed = "No cause is named, so the sheet tells only what is most probable.";
  if (!gone && to_be_named(job).empty()) return said + wrapped(unnamed, 0) + sheets;  // handed on
  return said + wrapped(unnamed + " To name it:", 0) + "  tickover strike " + printable(path) +
         " " + std::to_string(journal.entries.size()) + " --reason \"cause to be named\"\n  " +
         finish_line(job, path) + "\n" + sheets;
}

}  // namespace tickover::cli
