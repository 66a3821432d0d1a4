#include <fmt/format.h>

#include <utility>

#include "engine/evidence/reading.hpp"
#include "engine/foundation/error.hpp"
#include "engine/trail/sheet_text.hpp"

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
    else if (std::string_view("\\`*_{}[]#+!|~").find(c) != std::string_view::npos)
      out += std::string("\\") + c;
    else
      out += c;
  }
  return out;
}

/// The sheet in Markdown, section by section.
class Sheet {
 public:
  explicit Sheet(const SheetSource& source)
      : job_(source.job),
        journal_(source.journal),
        trail_(source.trail),
        text_(source.job.model(), source.words) {}

  std::string whole() const {
    return "# " + word("title") + "\n\n" + complaint() + cause() + correction() + earlier() +
           machine() + bench() + steps() + ruled_out() + remains() + cautions() + parts() + "*" +
           escaped(job_.model().pack.defers_to) + "*\n";
  }

  std::string for_rider() const {
    const std::string was = bullets(text_.found_for_rider(trail_));
    const std::string watch = bullets(text_.watch(trail_));
    const bool gone = job_.evidence().verdict == "gone";
    const std::string nothing = gone ? "rider-watch-nothing" : "rider-watch-open";
    return "# " + word("rider-title") + "\n\n" + escaped(job_.model().machine.name) + "\n\n" +
           heading("rider-told") + said() + heading("rider-was") + or_else(was, "rider-unknown") +
           heading("rider-done") + or_else(repairs(false), "nothing-repaired") +
           heading("rider-now") + verdict_line() + closing_remark() + heading("watch") +
           or_else(watch, nothing) + parts() + "*" + escaped(job_.model().pack.defers_to) + "*\n";
  }

 private:
  static std::string bullets(const std::vector<std::string>& texts) {
    std::string out;
    for (const std::string& text : texts) out += "- " + escaped(text) + "\n";
    return out;
  }

  std::string or_else(const std::string& list, const std::string& none) const {
    return (list.empty() ? word(none) + "\n" : list) + "\n";
  }

  std::string said() const {
    const std::string& words = journal_.opening().complaint;
    return (words.empty() ? word("no-words") : "\"" + escaped(words) + "\"") + "\n\n";
  }

  std::string repairs(bool with_entry) const {
    std::string out;
    for (const Entry* entry : journal_.valid()) {
      if (entry->event != Event::repair) continue;
      out += "- " + escaped(text_.repair(*entry));
      if (with_entry) out += " " + word("entry-in-brackets", {std::to_string(entry->number)});
      out += "\n";
    }
    return out;
  }

  std::string verdict_line() const { return escaped(text_.road_test(job_.evidence())) + "\n\n"; }

  std::string closing_remark() const {
    const std::string remark = text_.closing_remark(journal_);
    return remark.empty() ? "" : escaped(remark) + "\n\n";
  }

  /// The catalogue may hold markup; what is put into its texts may not.
  std::string word(const std::string& key, std::vector<std::string> slots = {}) const {
    for (std::string& slot : slots) slot = escaped(slot);
    return text_.word(key, slots);
  }
  std::string heading(const std::string& key) const { return "## " + word(key) + "\n\n"; }

  /// A table's first two lines, its columns named by keys of the catalogue.
  std::string head(const std::vector<std::string>& keys) const {
    std::string names = "|", rule = "|";
    for (const std::string& key : keys) {
      names += " " + word(key) + " |";
      rule += "---|";
    }
    return names + "\n" + rule + "\n";
  }

  std::string standing(const SheetText::Stands& one) const {
    return escaped(one.cause) + ": " + one.share;
  }

  std::string listed(const std::vector<Standing>& list, const std::string& none) const {
    std::string out;
    for (const auto& one : text_.standings(list)) out += "- " + standing(one) + "\n";
    return out.empty() ? word(none) + "\n" : out;
  }

  std::string complaint() const {
    std::string out = heading("complaint");
    const std::string& said = journal_.opening().complaint;
    if (!said.empty()) out += word("rider-said") + " \"" + escaped(said) + "\"\n\n";
    for (const std::size_t finding : job_.evidence().complaint) {
      out += "- " + escaped(text_.finding(finding)) + "\n";
    }
    if (job_.evidence().complaint.empty()) out += word("no-symptom") + "\n";
    return out + "\n";
  }

  std::string cause() const {
    const bool unnamed = job_.evidence().finished && trail_.named.empty();
    std::string found;
    for (const auto& one : text_.found(trail_)) found += "- " + standing(one) + "\n";
    if (unnamed && !found.empty()) found = word("none-named") + "\n\n" + found;
    return heading("cause") + or_else(found, "none-confirmed");
  }

  std::string earlier() const {
    const std::string lines = bullets(text_.earlier(journal_));
    return lines.empty() ? "" : heading("earlier") + lines + "\n";
  }

  std::string cautions() const {
    std::string out = heading("cautions");
    for (const auto& [grade, text] : text_.cautions(journal_)) {
      out += "- **" + escaped(grade) + "** " + escaped(text) + "\n";
    }
    return out + "\n";
  }

  std::string correction() const {
    return heading("correction") + or_else(repairs(true), "nothing-repaired") + verdict_line();
  }

  std::string machine() const {
    const Model& model = job_.model();
    const Machine& m = model.machine;
    std::string out =
        heading("machine") + escaped(m.name) + ". " + (m.invented ? word("invented") + " " : "") +
        word("cylinders", {cylinders_in_digits(m), std::to_string(m.carburettors.size())}) + " " +
        word("pack", {model.pack.id + " " + journal_.opening().pack_version,
                      journal_.opening().pack_hash.substr(0, 12)}) +
        "\n";
    for (const std::size_t risk : model.risks) {
      out += "\n- " + escaped(model.pack.risks[risk].name);
    }
    return out + (model.risks.empty() ? "\n" : "\n\n");
  }

  std::string bench() const {
    if (trail_.bench.empty()) return {};
    std::string out = heading("readings") + head({"what", "value", "verdict", "state", "entry"});
    for (const BenchValue& value : trail_.bench) {
      const FindingInstance& instance = job_.model().findings[value.seen.finding];
      const pack::Finding& finding = job_.model().pack.findings[instance.finding];
      out += fmt::format(
          "| {} | {} | {} | {} | {} |\n", escaped(text_.finding(value.seen.finding)),
          format_quantity({*value.seen.reading, dimension_of(finding.unit)}, finding.unit, 4),
          verdict(job_.model(), value.seen).text, escaped(text_.state(value)), value.seen.entry);
    }
    return out + "\n";
  }

  std::string steps() const {
    std::string out = heading("trail") + head({"entry", "when", "what", "then"}), before;
    for (const TrailStep& step : trail_.steps) {
      const Entry& entry = journal_.entries[step.entry - 1];
      std::string what = escaped(text_.entry(entry)), then;
      if (step.struck) what = word("struck") + ": " + what;
      for (const auto& one : text_.standings(step.leading)) {
        then += (then.empty() ? "" : "; ") + standing(one);
      }
      if (!step.struck && then == std::exchange(before, then) && !then.empty()) {
        then = word("as-before");
      }
      if (step.cured_if_all_repaired) {
        then += (then.empty() ? "" : "; ") + word("cured") + ": " +
                text_.share(*step.cured_if_all_repaired);
      }
      out += fmt::format("| {} | {} | {} | {} |\n", step.entry, SheetText::time(entry),
                         what + escaped(text_.replaced(step)), then);
    }
    return out + "\n";
  }

  std::string ruled_out() const {
    std::string out = heading("ruled-out");
    for (const RuledOut& one : trail_.ruled_out) {
      out += "- " + escaped(text_.cause(one.cause)) + ": " +
             word("from-to", {text_.share(one.highest), text_.share(one.now)});
      if (one.by > 0) {
        out += ", " +
               word("by-entry", {std::to_string(one.by), text_.entry(journal_.entries[one.by - 1]),
                                 fmt::format("{:.1f}", one.decibans)});
      }
      out += "\n";
    }
    if (trail_.ruled_out.empty()) out += word("nothing-ruled-out") + "\n";
    return out + "\n";
  }

  std::string remains() const {
    return heading("remains") + listed(trail_.remaining, "watch-nothing") + "\n" +
           word("unlisted") + " " + text_.share(trail_.unlisted) + "\n\n" +
           (job_.judged().doubt > 0 ? word("narrowed") + "\n\n" : "");
  }

  std::string parts() const {
    std::string out = heading("parts");
    const std::vector<std::string> parts = parts_used(job_.model(), journal_);
    for (const std::string& part : parts) out += "- " + escaped(part) + "\n";
    if (parts.empty()) out += word("no-parts") + "\n";
    const double minutes = job_.evidence().minutes_noted;
    return out + "\n" +
           (minutes > 0 ? word("minutes-noted", {fmt::format("{:.0f}", minutes)})
                        : word("no-minutes")) +
           "\n\n";
  }

  const Diagnosis& job_;
  const Journal& journal_;
  const Trail& trail_;
  const SheetText text_;
};

}  // namespace

std::string sheet_markdown(const SheetSource& source) { return Sheet(source).whole(); }

std::string rider_markdown(const SheetSource& source) { return Sheet(source).for_rider(); }

}  // namespace tickover
