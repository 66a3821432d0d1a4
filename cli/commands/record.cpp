#include "cli/session.hpp"
#include "engine/evidence/answers.hpp"
#include "engine/foundation/error.hpp"

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

/// What may be typed depends on what was looked at, so it is told by the job.
void require_value(World& world, const Words& words) {
  if (!words.several("value").empty() || !words.has("job") || !words.has("what")) return;
  const Session session = read_job(world, words.required("job"));
  const Model& model = session.diagnosis->model();
  const std::string what = words.required("what");
  const pack::Finding& finding = model.pack.findings[finding_named(model, what)];
  const bool at_places = model.places(finding.scope).size() > 1 && !words.has("cyl");
  throw InputError(InputFault::usage, "", "what was seen is missing after '" + what + "'",
                   "type: tickover record " + session.path + " " + what +
                       (at_places ? " --cyl N" : "") + " VALUE; VALUE is " +
                       answers_in_words(model.machine, finding));
}

}  // namespace

Command record_command() {
  Command command = adding(
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
            {.name = "confirm",
             .help = "yes, the value is that far out, or the engine has run since",
             .kind = Kind::flag}}),
       {}},
      entry_of);
  command.run = [add = command.run](World& world, const Words& words) {
    require_value(world, words);
    return add(world, words);
  };
  return command;
}

}  // namespace tickover::cli
