#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>
#include <set>

#include "cli/cautions.hpp"
#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/session.hpp"
#include "cli/standing.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"
#include "engine/trail/describe.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kCausesShown = 4;
constexpr double kLeastShown = 0.02;

/// As it was understood: "1151 kPa" for "167psi"; of an exhaust sample "lambda 1.12 +-0.02".
std::string value_in_words(const Model& model, const Observation& seen) {
  if (seen.sample) {
    return fmt::format("lambda {:.3f} +-{:.3f}", seen.sample->lambda, seen.sample->error);
  }
  const std::string& unit = model.pack.findings[model.findings[seen.finding].finding].unit;
  return format_quantity({*seen.reading, dimension_of(unit)}, unit, 4);
}

/// For readings: the value against its limits, per place.
std::string verdicts(const Diagnosis& job, std::size_t entry) {
  std::string out;
  for (const Observation& seen : job.evidence().observations) {
    if (seen.entry != entry || !seen.reading) continue;
    out += wrapped("  " + job.model().describe_finding(seen.finding) + ": " +
                       value_in_words(job.model(), seen) + ", " + verdict(job.model(), seen).text,
                   2);
  }
  return out;
}

/// Nothing is counted twice, and not silently.
std::string replaced_in_words(const Diagnosis& job, std::size_t entry) {
  std::set<std::string> earlier;
  for (const Replaced& one : job.evidence().replaced) {
    if (one.by == entry) earlier.insert("entry " + std::to_string(one.entry));
  }
  if (earlier.empty()) return {};
  return wrapped("It counts instead of " + join_words({earlier.begin(), earlier.end()}) +
                     " (the same look at the same part).",
                 0);
}

std::string appeared_in_words(const Diagnosis& job) {
  std::vector<std::string> names;
  for (const std::size_t finding : job.evidence().appeared) {
    names.push_back(job.model().describe_finding(finding));
  }
  if (names.empty()) return {};
  return wrapped("New since a repair: " + join_words(names) +
                     ". It was not there before: was something disturbed on refit?",
                 0);
}

/// How things stood before the last entry.
Evidence before_last(const Session& session) {
  Journal journal = session.journal;
  journal.entries.pop_back();
  journal.struck.pop_back();
  return collect_evidence(session.diagnosis->model(), journal, session.path);
}

/// Of the work that the last entry tells of: the layers it opened or closed, the repair, the trial.
pack::Cautions cautions_of(const Session& session) {
  const Diagnosis& job = *session.diagnosis;
  const pack::Pack& pack = job.model().pack;
  const Entry& entry = session.journal.entries.back();
  pack::Cautions out;
  const auto add = [&](const pack::Cautions& more) {
    out.insert(out.end(), more.begin(), more.end());
  };
  if (entry.event == Event::verify) add(pack.frame.verify_cautions);
  if (entry.event == Event::repair) add(pack.repairs[*find(pack.repairs, entry.what)].cautions);
  if (entry.event != Event::repair && entry.event != Event::strip && entry.event != Event::refit) {
    return out;
  }
  const OpenLayers before = before_last(session).open_layers, after = job.evidence().open_layers;
  for (const std::size_t layer : (before - after) | (after - before)) {
    add(pack.layers[layer].cautions);
  }
  return out;
}

std::string standing(const Diagnosis& job) {
  const Evidence& evidence = job.evidence();
  if (evidence.finished) {
    const bool gone = evidence.verdict && *evidence.verdict == "gone";
    return gone || evidence.complaint.empty()
               ? "The job is finished.\n"
               : "The job is finished, though no road test has found the complaint gone.\n";
  }
  if (evidence.complaint.empty()) {
    return "No symptom is recorded yet: record what the rider complains of.\n";
  }
  if (evidence.verdict && *evidence.verdict == "gone") {
    return wrapped("The complaint is gone. Close the job with: tickover finish JOB --cause ...", 0);
  }
  return "Now most probable\n" + standing_in_words(job, job.infer(), kCausesShown, kLeastShown);
}

std::string line_of(const Diagnosis& job, const Entry& entry) {
  return wrapped(fmt::format("Entry {}: {}", entry.number, describe(job.model(), entry)), 2);
}

std::string shown_by(const Diagnosis& job, const Entry& entry) {
  return verdicts(job, entry.number) + replaced_in_words(job, entry.number) +
         appeared_in_words(job);
}

}  // namespace

std::string entry_in_words(const Session& session) {
  const Entry& entry = session.journal.entries.back();
  const bool by_hand = entry.event == Event::strip || entry.event == Event::refit;
  return line_of(*session.diagnosis, entry) +
         (by_hand ? cautions_in_words(session.diagnosis->model().pack, cautions_of(session)) : "") +
         shown_by(*session.diagnosis, entry);
}

int report_entry(World& world, const Words& words, const Session& session) {
  const Diagnosis& job = *session.diagnosis;
  const Entry& entry = session.journal.entries.back();
  const belief::Belief belief = job.infer();
  if (words.has("json")) {
    Json out = {{"report", "entry"},
                {"format", 1},
                {"entry", entry.number},
                {"event", std::string(name_of(entry.event))},
                {"cautions", cautions_json(job.model().pack, cautions_of(session))},
                {"contradiction", belief.contradiction},
                {"causes", standing_json(job, belief)}};
    print_json(world.out, out);
    return kDone;
  }
  world.out << line_of(job, entry) << cautions_in_words(job.model().pack, cautions_of(session))
            << shown_by(job, entry);
  if (belief.contradiction) {
    world.out << contradiction_in_words(job, session.journal);
    return kDone;
  }
  world.out << standing(job);
  return kDone;
}

}  // namespace tickover::cli
