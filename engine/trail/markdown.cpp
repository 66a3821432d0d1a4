#include <fmt/format.h>

#include "engine/evidence/reading.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/trail/describe.hpp"
#include "engine/trail/trail.hpp"

namespace tickover {
namespace {

/// Nothing that people typed is taken for markup.
std::string escaped(const std::string& text) {
  std::string out;
  for (const char c : printable(text)) {
    if (c == '<')
      out += "&lt;";
    else if (c == '>')
      out += "&gt;";
    else if (c == '&')
      out += "&amp;";
    else if (std::string_view("\\`*_{}[]()#+!|~").find(c) != std::string_view::npos)
      out += std::string("\\") + c;
    else
      out += c;
  }
  return out;
}

std::string share(double p) {
  if (p > 0 && p < 0.005) return "under 1 %";
  if (p < 1 && p >= 0.995) return "over 99 %";
  return fmt::format("{:.0f} %", 100 * p);
}

std::string standings(const Model& model, const std::vector<Standing>& list) {
  std::vector<std::string> parts;
  for (const Standing& one : list) {
    parts.push_back(escaped(model.describe_cause(one.cause)) + " " + share(one.probability));
  }
  return parts.empty() ? "none" : join_words(parts, "; ", "; ");
}

std::string complaint(const Diagnosis& job, const Journal& journal) {
  std::string out = "## Complaint\n\n";
  const std::string& said = journal.opening().complaint;
  if (!said.empty()) out += "The rider: \"" + escaped(said) + "\"\n\n";
  for (const std::size_t finding : job.evidence().complaint) {
    out += "- " + escaped(job.model().describe_finding(finding)) + "\n";
  }
  return out + "\n";
}

std::string cause(const Diagnosis& job, const Trail& trail) {
  std::string out = "## Cause\n\n";
  for (const Standing& one : trail.confirmed) {
    out += "- " + escaped(job.model().describe_cause(one.cause)) + ": " + share(one.probability) +
           "\n";
  }
  if (trail.confirmed.empty()) out += "None is confirmed.\n";
  return out + "\n";
}

std::string correction(const Diagnosis& job, const Journal& journal) {
  std::string out = "## Correction\n\n";
  bool any = false;
  for (const Entry* entry : journal.valid()) {
    if (entry->event != Event::repair && entry->event != Event::verify) continue;
    out += fmt::format("- {} (entry {})\n", escaped(describe(job.model(), *entry)), entry->number);
    any = true;
  }
  if (!any) out += "Nothing was repaired.\n";
  return out + "\n";
}

std::string machine(const Diagnosis& job, const Journal& journal) {
  const Machine& m = job.model().machine;
  std::string out =
      fmt::format("## Machine\n\n{}{}; {} cylinders, {} carburettors. Pack {} {}.\n",
                  escaped(m.name), m.invented ? " (an invented machine)" : "", m.cylinders.size(),
                  m.carburettors.size(), job.model().pack.id, journal.opening().pack_version);
  for (const std::size_t risk : job.model().risks) {
    out += "\n- known: " + escaped(job.model().pack.risks[risk].name);
  }
  return out + "\n\n";
}

std::string bench(const Diagnosis& job, const Trail& trail) {
  if (trail.bench.empty()) return {};
  std::string out =
      "## Readings\n\n| What | Value | Against the limits | When | Entry "
      "|\n|---|---|---|---|---|\n";
  for (const BenchValue& value : trail.bench) {
    const FindingInstance& instance = job.model().findings[value.seen.finding];
    const pack::Finding& finding = job.model().pack.findings[instance.finding];
    out += fmt::format(
        "| {} | {} | {} | {} | {} |\n", escaped(job.model().describe_finding(value.seen.finding)),
        format_quantity({*value.seen.reading, dimension_of(finding.unit)}, finding.unit, 4),
        verdict(job.model(), value.seen).text, value.as_left ? "as left" : "as found",
        value.seen.entry);
  }
  return out + "\n";
}

/// "; replaced later by entry 7".
std::string replaced(const TrailStep& step) {
  if (step.replaced_by.empty()) return {};
  std::vector<std::string> entries;
  for (const std::size_t entry : step.replaced_by) entries.push_back(std::to_string(entry));
  return (step.replaced_in_part ? "; replaced in part by entry " : "; replaced later by entry ") +
         join_words(entries);
}

std::string steps(const Diagnosis& job, const Journal& journal, const Trail& trail) {
  std::string out = "## Trail\n\n| Entry | Time | What | Then most probable |\n|---|---|---|---|\n";
  for (const TrailStep& step : trail.steps) {
    const Entry& entry = journal.entries[step.entry - 1];
    std::string what = escaped(describe(job.model(), entry));
    if (step.struck) what = "struck out: " + what;
    what += replaced(step);
    std::string then = step.struck ? "" : standings(job.model(), step.leading);
    if (step.cured_if_all_repaired) then += "; cured " + share(*step.cured_if_all_repaired);
    out += fmt::format("| {} | {} | {} | {} |\n", step.entry, entry.time, what, then);
  }
  return out + "\n";
}

std::string ruled_out(const Diagnosis& job, const Journal& journal, const Trail& trail) {
  std::string out = "## Ruled out\n\n";
  for (const RuledOut& one : trail.ruled_out) {
    out += fmt::format("- {}: from {} to {}", escaped(job.model().describe_cause(one.cause)),
                       share(one.highest), share(one.now));
    if (one.by > 0) {
      out += fmt::format(", most by entry {} ({}; {:.1f} dB)", one.by,
                         escaped(describe(job.model(), journal.entries[one.by - 1])), one.decibans);
    }
    out += "\n";
  }
  if (trail.ruled_out.empty()) out += "Nothing yet.\n";
  return out + "\n";
}

std::string remains(const Diagnosis& job, const Trail& trail) {
  return "## What remains uncertain\n\nStill in question now: " +
         standings(job.model(), trail.remaining) +
         ".\nSomething not on the list behind the complaint: " + share(trail.unlisted) + ".\n\n";
}

}  // namespace

std::string trail_markdown(const Diagnosis& job, const Journal& journal, const Trail& trail) {
  std::string out = "# Job sheet\n\n" + complaint(job, journal) + cause(job, trail) +
                    correction(job, journal) + machine(job, journal) + bench(job, trail) +
                    steps(job, journal, trail) + ruled_out(job, journal, trail) +
                    remains(job, trail);
  if (job.evidence().minutes_noted > 0) {
    out +=
        fmt::format("Time noted with the entries: {:.0f} min.\n\n", job.evidence().minutes_noted);
  }
  return out + "*" + escaped(job.model().pack.defers_to) + "*\n";
}

}  // namespace tickover
