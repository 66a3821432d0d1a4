#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>
#include <set>

#include "cli/cautions.hpp"
#include "cli/exit_status.hpp"
#include "cli/finishing.hpp"
#include "cli/instructions.hpp"
#include "cli/print.hpp"
#include "cli/rider_words.hpp"
#include "cli/session.hpp"
#include "cli/standing.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/evidence/something_to_see.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"
#include "engine/trail/describe.hpp"
#include "engine/trail/trail.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kCausesShown = 4;
constexpr double kLeastMoved = 0.02;

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

/// Readings that cannot both be right are weighed together; what else they may mean is asked.
std::string disagreement_in_words(const Diagnosis& job, std::size_t entry) {
  std::string out;
  for (const Disagreement& one : disagreements(job)) {
    if (one.then.entry != entry) continue;
    out += wrapped(
        fmt::format("It differs from entry {} ({}), and nothing was repaired between: was one read "
                    "wrongly (strike it out), was it set without recording the repair, or does it "
                    "come and go? A fault that comes and goes has been found, whatever the last "
                    "reading says.",
                    one.first.entry, value_in_words(job.model(), one.first)),
        0);
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
  return wrapped("New, or stronger, since a repair: " + join_words(names) +
                     ". Was something disturbed on refit?",
                 0);
}

/// How things stood before the last entry.
Evidence before_last(const Session& session) {
  Journal journal = session.journal;
  journal.entries.pop_back();
  journal.struck.pop_back();
  return collect_evidence(session.diagnosis->model(), journal, session.path);
}

/// What the last entry tells of the layers without saying so: what was looked at under a layer was
/// uncovered, and what was seen with the engine running was closed up.
std::string implied_access(const Session& session) {
  const Event event = session.journal.entries.back().event;
  if (event != Event::record && event != Event::repair && event != Event::verify) return {};
  const OpenLayers before = before_last(session).open_layers;
  const OpenLayers after = session.diagnosis->evidence().open_layers;
  const auto told = [&](const std::string& what, const OpenLayers& layers) {
    const std::string names = layers_in_words(session.diagnosis->model().pack, layers);
    return names.empty() ? std::string() : wrapped(what + names + ".", 0);
  };
  return told("Taken as opened for it: ", after - before) +
         told("Taken as closed up before it: ", before - after);
}

/// An entry that was struck out by the one struck out now.
std::string restored_in_words(const Journal& journal) {
  const Entry& entry = journal.entries.back();
  if (entry.event != Event::strike) return {};
  const Entry& undone = journal.entries[*entry.target - 1];
  if (undone.event != Event::strike) return {};
  return fmt::format("Entry {} counts again.\n", *undone.target);
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
  if (entry.event != Event::refit) return out;
  for (const std::size_t layer : before - after) add(pack.layers[layer].first_start);
  const bool closed_up = after.empty() && !before.empty();
  if (closed_up) add(pack.frame.verify_cautions);  // then it is run and taken out
  return out;
}

/// A look at what was repaired since the engine last ran may be at the old part.
std::string old_part_in_words(const Session& session) {
  const Entry& entry = session.journal.entries.back();
  const auto repair =
      repair_before_look(session.diagnosis->model(), session.diagnosis->evidence(), entry);
  if (entry.event != Event::record || !repair) return {};
  return wrapped(fmt::format("Taken as what it looks like since entry {}. Was that the old part, "
                             "or seen before the repair? Then: tickover strike {} {} --reason "
                             "\"seen before the repair\"; strike entry {} too, record what was "
                             "seen, then the repair.",
                             *repair, printable(session.path), entry.number, *repair),
                 0);
}

/// The cylinders of a repair, all of them where none is named.
std::set<std::size_t> cylinders_of(const Model& model, const Entry& repair) {
  std::set<std::size_t> all(repair.cylinders.begin(), repair.cylinders.end());
  for (std::size_t c = 1; repair.cylinders.empty() && c <= model.machine.cylinders.size(); ++c) {
    all.insert(c);
  }
  return all;
}

/// Of a repair that is recorded at some of its places already, with no road test since.
std::string repeated_in_words(const Session& session) {
  const std::vector<Entry>& entries = session.journal.entries;
  const Entry& now = entries.back();
  if (now.event != Event::repair) return {};
  const std::set<std::size_t> is = cylinders_of(session.diagnosis->model(), now);
  for (std::size_t i = entries.size() - 1; i-- > 0;) {
    if (session.journal.struck[i]) continue;
    if (entries[i].event == Event::verify) return {};
    if (entries[i].event != Event::repair || entries[i].what != now.what) continue;
    const std::set<std::size_t> was = cylinders_of(session.diagnosis->model(), entries[i]);
    if (std::none_of(is.begin(), is.end(), [&](std::size_t c) { return was.count(c) > 0; }))
      continue;
    const bool all = std::includes(was.begin(), was.end(), is.begin(), is.end());
    return wrapped(
        fmt::format("{} recorded already, by entry {}, and was not tried since. If it "
                    "was done once: tickover strike {} {} --reason \"recorded "
                    "twice\"{}",
                    all ? "It is" : "A part of it is", entries[i].number, printable(session.path),
                    now.number, all ? "" : ", and record it for the other cylinders alone"),
        0);
  }
  return {};
}

std::string standing(const Session& session) {
  const Diagnosis& job = *session.diagnosis;
  const Evidence& evidence = job.evidence();
  if (session.journal.entries.back().event == Event::finish) {
    return finished_in_words(job, session.journal, session.path);
  }
  if (evidence.finished) return "The job is finished.\n";
  if (evidence.complaint.empty()) {
    return "No symptom is recorded yet: record what the rider complains of.\n";
  }
  if (evidence.verdict == "gone") return gone_in_words(job, session.path);
  return "Now most probable\n" + standing_in_words(job, job.infer(), kCausesShown, kLeastMoved);
}

std::string line_of(const Diagnosis& job, const Entry& entry) {
  return wrapped(fmt::format("Entry {}: {}", entry.number, describe(job.model(), entry)), 2);
}

std::string shown_by(const Session& session) {
  const Diagnosis& job = *session.diagnosis;
  const std::size_t number = session.journal.entries.back().number;
  return verdicts(job, number) + disagreement_in_words(job, number) +
         replaced_in_words(job, number) + restored_in_words(session.journal) +
         implied_access(session) + appeared_in_words(job) + old_part_in_words(session) +
         repeated_in_words(session);
}

}  // namespace

std::string entry_in_words(const Session& session) {
  const Entry& entry = session.journal.entries.back();
  const bool by_hand = entry.event == Event::strip || entry.event == Event::refit;
  return line_of(*session.diagnosis, entry) +
         (by_hand ? cautions_in_words(session.diagnosis->model().pack, cautions_of(session)) : "") +
         shown_by(session);
}

namespace {

/// The entry stands by now: words that cannot be gone through do not make it a failure.
void tell_not_recorded(World& world, const Session& session) {
  try {
    const std::string more = not_recorded_in_words(world, session);
    if (!more.empty()) world.out << '\n' << more;
  } catch (const InputError& error) {
    world.talk << "The rider's words were not gone through: " << error.what() << '\n';
  }
}

}  // namespace

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
            << shown_by(session);
  if (belief.contradiction) {
    world.out << contradiction_in_words(job, session.journal);
    return kDone;
  }
  world.out << standing(session);
  const bool ends = entry.event == Event::finish ||
                    (entry.event == Event::verify && job.evidence().verdict == "gone");
  if (ends) tell_not_recorded(world, session);
  return kDone;
}

}  // namespace tickover::cli
