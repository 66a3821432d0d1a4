#include "engine/trail/review.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/rider_words.hpp"
#include "cli/session.hpp"
#include "cli/standing.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/foundation/text.hpp"
#include "engine/foundation/units.hpp"

namespace tickover::cli {
namespace {

std::vector<std::string> value_texts(const Model& model, const std::vector<BenchValue>& values) {
  std::vector<std::string> texts;
  for (const BenchValue& value : values) texts.push_back(reading_in_words(model, value.seen));
  return texts;
}

std::string disagreements_text(const Diagnosis& job) {
  std::vector<std::string> texts;
  for (const Disagreement& one : disagreements(job)) {
    texts.push_back(reading_in_words(job.model(), one.first) + "; then " +
                    reading_in_words(job.model(), one.then));
  }
  if (texts.empty()) return {};
  return "\n" +
         wrapped(
             "In limits once and once not, with nothing repaired between: read wrongly, set "
             "without recording the repair, or it comes and goes",
             0) +
         bullets(texts);
}

std::string found_text(const Model& model, const Review& review) {
  std::vector<std::string> names;
  for (const std::size_t cause : review.found) names.push_back(model.describe_cause(cause));
  if (names.empty()) return "Nothing is confirmed, and no repair met what was probable.\n";
  return "Found, or repaired as probable\n" + bullets(names);
}

/// The mechanic's word stands; who has to stand up for it should know what speaks against it.
std::string doubt_text(const Model& model, const Review& review) {
  std::vector<std::string> lines;
  for (const Standing& one : review.in_doubt) {
    lines.push_back(model.describe_cause(one.cause) + ": " + odds_in_words(one.probability));
  }
  return lines.empty() ? ""
                       : "Named as the cause, though what was recorded hardly speaks for it\n" +
                             bullets(lines);
}

/// "Renew the intake rubber, cylinder 3 (entry 8): less than 1 in 200".
std::string needless_text(const Model& model, const Journal& journal, const Review& review) {
  std::vector<std::string> lines;
  for (const Needless& one : review.needless) {
    std::vector<Place> places;
    for (const std::size_t cylinder : journal.entries[one.entry - 1].cylinders) {
      places.push_back({pack::Scope::cylinder, cylinder});
    }
    const std::string where = places_in_words(model, places);
    lines.push_back(fmt::format("{}{} (entry {}): {}", model.pack.repairs[one.repair].name,
                                where.empty() ? "" : ", " + where, one.entry,
                                odds_in_words(one.met)));
  }
  if (lines.empty()) return {};
  return wrapped("Repaired, though by what is known now there was hardly anything to mend", 0) +
         bullets(lines);
}

/// How surely what was found accounts for each part of the complaint.
std::string complaint_text(const Model& model, const Review& review) {
  if (review.complaint.empty()) return {};
  std::string out = wrapped(
      "Does that explain the complaint? Each part of it gone without these causes, by what was "
      "known before the first repair (what was found later is not in it)",
      0);
  for (const Accounted& one : review.complaint) {
    out += labelled("  " + percent(one.explained) + "  ", model.describe_finding(one.finding), 9);
  }
  return out;
}

/// How the last road test found it, unless all is well.
std::string verdict_text(const std::optional<std::string>& verdict) {
  if (!verdict || *verdict == "gone") return {};
  return *verdict == "still" ? " The road test found it still there."
                             : " The road test found a part of it still there.";
}

std::string closing_text(const Review& review, const std::optional<std::string>& verdict) {
  if (!review.cured) return "Nothing was repaired.\n";
  std::string text = fmt::format("{} the complaint was expected to be gone {}.",
                                 review.verified ? "Before the road test" : "By now",
                                 odds_in_words(*review.cured));
  if (!review.verified) {
    text += review.finished ? " The job was closed without running the engine for it."
                            : " The engine was not run for it yet.";
  }
  if (review.verified) text += verdict_text(verdict);
  return wrapped(text, 0);
}

std::string section(const std::string& head, const std::vector<std::string>& items,
                    const std::string& none) {
  return "\n" + (items.empty() ? none + "\n" : head + "\n" + bullets(items));
}

std::vector<std::string> skipped_texts(const Model& model, const Review& review) {
  std::vector<std::string> texts;
  for (const SkippedCheck& one : review.skipped) {
    const std::string where = places_in_words(model, one.places);
    texts.push_back(fmt::format("{}{} ({}): {}, would have spared {} on average",
                                model.pack.checks[one.check].name,
                                where.empty() ? "" : ", " + where, model.pack.checks[one.check].id,
                                minutes_in_words(one.minutes), minutes_in_words(one.spares)));
  }
  return texts;
}

std::string review_text(const Diagnosis& job, const Journal& journal, const Review& review) {
  const Model& model = job.model();
  return found_text(model, review) + doubt_text(model, review) +
         needless_text(model, journal, review) + "\n" + complaint_text(model, review) + "\n" +
         closing_text(review, job.evidence().verdict) +
         section("Out of limits, and left so", value_texts(model, review.left_beyond),
                 "No reading was left out of its limits.") +
         disagreements_text(job) +
         section("Repaired, and not measured again: as found without as left",
                 value_texts(model, review.without_as_left),
                 "Nothing out of limits was repaired without measuring it again.") +
         section("Checks worth their time before the first repair that nobody did",
                 skipped_texts(model, review), "No check worth its time was left out.");
}

Json values_json(const Model& model, const std::vector<BenchValue>& values) {
  Json list = Json::array();
  for (const BenchValue& value : values) {
    const FindingInstance& instance = model.findings[value.seen.finding];
    const std::string& unit = model.pack.findings[instance.finding].unit;
    list.push_back({{"finding", instance.id},
                    {"value", steady(in_unit({*value.seen.reading, dimension_of(unit)}, unit))},
                    {"unit", unit},
                    {"as-left", value.as_left},
                    {"entry", value.seen.entry}});
  }
  return list;
}

Json review_json(const Model& model, const Review& review) {
  Json out = {{"report", "review"},          {"format", 1},
              {"finished", review.finished}, {"verified", review.verified},
              {"found", Json::array()},      {"complaint", Json::array()}};
  for (const std::size_t cause : review.found) out["found"].push_back(model.causes[cause].id);
  for (const Accounted& one : review.complaint) {
    out["complaint"].push_back(
        {{"symptom", model.findings[one.finding].id}, {"explained", steady(one.explained)}});
  }
  if (review.cured) out["cured"] = steady(*review.cured);
  out["in-doubt"] = Json::array();
  for (const Standing& one : review.in_doubt) {
    out["in-doubt"].push_back(
        {{"cause", model.causes[one.cause].id}, {"probability", steady(one.probability)}});
  }
  out["needless"] = Json::array();
  for (const Needless& one : review.needless) {
    out["needless"].push_back({{"entry", one.entry},
                               {"repair", model.pack.repairs[one.repair].id},
                               {"met-at-most", steady(one.met)}});
  }
  out["left-beyond"] = values_json(model, review.left_beyond);
  out["without-as-left"] = values_json(model, review.without_as_left);
  out["skipped"] = Json::array();
  for (const SkippedCheck& one : review.skipped) {
    out["skipped"].push_back({{"check", model.pack.checks[one.check].id},
                              {"minutes", steady(one.minutes)},
                              {"spares-minutes", steady(one.spares)}});
  }
  return out;
}

int run_review(World& world, const Words& words) {
  const Session session = read_job(world, words.required("job"));
  const Diagnosis& job = *session.diagnosis;
  if (job.evidence().complaint.empty()) {
    world.out << "No symptom is recorded yet: there is nothing to review.\n";
    return kDone;
  }
  if (job.infer().contradiction) {
    world.out << contradiction_in_words(job, session.journal);
    return kDone;
  }
  const Review review = make_review(job, session.journal);
  if (words.has("json")) {
    Json out = review_json(job.model(), review);
    out["not-recorded"] = Json::array();
    for (const triage::Heard& one : not_recorded(world, session)) {
      out["not-recorded"].push_back(job.model().pack.findings[one.finding].id);
    }
    print_json(world.out, out);
  } else {
    world.out << review_text(job, session.journal, review);
    const std::string more = not_recorded_in_words(world, session);
    if (!more.empty()) world.out << '\n' << more;
  }
  return kDone;
}

}  // namespace

Command review_command() {
  return {"review",
          "Reads a job as a second mechanic would: does what was found explain all of the "
          "complaint, which reading was out of limits and left, what was not measured again, which "
          "check was skipped, how surely it was cured when it was closed.",
          {job_argument()},
          "tickover review grey-four.job",
          {},
          run_review};
}

}  // namespace tickover::cli
