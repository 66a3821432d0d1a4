#include <fmt/format.h>

#include "engine/evidence/reading.hpp"
#include "engine/foundation/error.hpp"
#include "engine/trail/sheet_text.hpp"

namespace tickover {
namespace {

/// Quoted; what a spreadsheet would take for a formula begins with an apostrophe.
std::string cell(const std::string& text) {
  const std::string shown = printable(text);
  std::string out = "\"";
  const std::size_t first = shown.find_first_not_of(' ');
  const bool number = shown.find_first_not_of("-.0123456789") == std::string::npos;
  if (!number && first != std::string::npos &&
      std::string("=+-@").find(shown[first]) != std::string::npos) {
    out += '\'';
  }
  for (const char c : shown) out += c == '"' ? "\"\"" : std::string(1, c);
  return out + "\"";
}

std::string line(const std::vector<std::string>& cells) {
  std::string out;
  for (const std::string& one : cells) out += (out.empty() ? "" : ",") + cell(one);
  return out + "\r\n";
}

/// The readings that an entry took.
std::string readings_of(const SheetSource& source, std::size_t entry, const std::string& time) {
  const Model& model = source.job.model();
  std::string out;
  for (const BenchValue& value : source.trail.bench) {
    if (value.seen.entry != entry) continue;
    const pack::Finding& finding = model.pack.findings[model.findings[value.seen.finding].finding];
    out += line(
        {std::to_string(entry), time, SheetText(model, source.words).finding(value.seen.finding),
         fmt::format("{:.6g}",
                     in_unit({*value.seen.reading, dimension_of(finding.unit)}, finding.unit)),
         finding.unit, verdict(model, value.seen).text, SheetText(model, source.words).state(value),
         "", ""});
  }
  return out;
}

}  // namespace

std::string sheet_csv(const SheetSource& source) {
  const Catalogue& words = source.words;
  std::string out = line({words.text("entry"), words.text("when"), words.text("what"),
                          words.text("value"), words.text("unit"), words.text("verdict"),
                          words.text("state"), words.text("minutes"), words.text("struck")});
  const SheetText text(source.job.model(), words);
  for (const TrailStep& step : source.trail.steps) {
    const Entry& entry = source.journal.entries[step.entry - 1];
    out += line({std::to_string(step.entry), entry.time, text.entry(entry), entry.value, "", "", "",
                 entry.minutes ? fmt::format("{:.0f}", *entry.minutes) : "",
                 step.struck ? words.text("struck") : ""});
    out += readings_of(source, step.entry, entry.time);
  }
  return out;
}

}  // namespace tickover
