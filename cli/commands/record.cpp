#include "cli/session.hpp"

namespace tickover::cli {
namespace {

Entry entry_of(const Words& words) {
  Entry entry = entry_from_options(words, Event::record);
  words.required("job");
  entry.what = words.required("what");
  for (const std::string& word : words.several("value")) {
    entry.value += (entry.value.empty() ? "" : " ") + word;
  }
  if (entry.value.empty()) words.required("value");
  entry.confirmed = words.has("confirm");
  entry.asked = words.has("asked");
  return entry;
}

}  // namespace

Command record_command() {
  return adding(
      {"record",
       "Records what was seen: a symptom, the result of a check, or a reading with its unit. WHAT "
       "is a check or finding ('tickover list checks'), VALUE one of its answers, a value with "
       "unit, or unsure.",
       {job_argument(),
        {"what", "a check or finding", Names::observable},
        {.name = "value",
         .help = "one of its answers, a value with its unit, or unsure",
         .names = Names::answer,
         .several = true}},
       "tickover record grey-four.job float-height --cyl 3 14.6mm",
       with_entry_options(
           {cylinders_option(),
            {.name = "asked",
             .help = "the rider spoke of the symptom only when asked: it counts, but need not go",
             .kind = Kind::flag},
            {.name = "confirm", .help = "yes, the value is that far out", .kind = Kind::flag}}),
       {}},
      entry_of);
}

}  // namespace tickover::cli
