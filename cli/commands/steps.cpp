// The short commands that add one entry: strip, refit, repair, verify, strike, note, finish.

#include <algorithm>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/session.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

Entry access_entry(const Words& words, Event event) {
  Entry entry = entry_from_options(words, event);
  words.required("job");
  entry.items = words.several("layer");
  if (event == Event::strip && entry.items.empty()) words.required("layer");
  return entry;
}

Entry repair_entry(const Words& words) {
  Entry entry = entry_from_options(words, Event::repair);
  words.required("job");
  entry.what = words.required("what");
  return entry;
}

const std::vector<std::string>& verdicts() {
  static const std::vector<std::string> words = {"gone", "still", "changed"};
  return words;
}

Entry verify_entry(const Words& words) {
  Entry entry = entry_from_options(words, Event::verify);
  words.required("job");
  entry.what = words.required("verdict");
  entry.items = words.several("gone");
  if (std::count(verdicts().begin(), verdicts().end(), entry.what) == 0) {
    throw unknown_name(InputFault::usage, "", "verdict", entry.what, verdicts());
  }
  if ((entry.what == "changed") == entry.items.empty()) {
    throw InputError(InputFault::usage, "", "--gone goes with 'changed', and 'changed' with --gone",
                     "for instance: verify JOB changed --gone overrun-popping");
  }
  return entry;
}

int run_verify(World& world, const Words& words) {
  const int status = report_entry(world, words, add_entry(world, words, verify_entry(words)));
  if (status != kDone) return status;
  return words.text("verdict") == "gone" ? kDone : kAnswerIsNo;
}

Entry strike_entry(const Words& words) {
  Entry entry = entry_from_options(words, Event::strike);
  words.required("job");
  entry.note = words.required("reason");
  if (!words.has("entry")) words.required("entry");
  const std::string number = words.required("entry");
  const bool digits = number.find_first_not_of("0123456789") == std::string::npos;
  if (!digits || number.size() > 6) {
    throw InputError(InputFault::usage, "", "'" + number + "' is not the number of an entry",
                     "'tickover sheet JOB' shows them");
  }
  entry.target = std::stoul(number);
  return entry;
}

Entry note_entry(const Words& words) {
  Entry entry = entry_from_options(words, Event::note);
  words.required("job");
  entry.note.clear();
  for (const std::string& word : words.several("text")) {
    entry.note += (entry.note.empty() ? "" : " ") + word;
  }
  if (entry.note.empty()) words.required("text");
  return entry;
}

Entry finish_entry(const Words& words) {
  Entry entry = entry_from_options(words, Event::finish);
  words.required("job");
  entry.items = words.several("cause");
  return entry;
}

Positional layers_argument(bool needed) {
  return {"layer", "an access layer", Names::layer, needed, true};
}

}  // namespace

Command strip_command() {
  return adding({"strip",
                 "Records that layers were opened; what lies before them is opened too.",
                 {job_argument(), layers_argument(true)},
                 "tickover strip grey-four.job carburettors",
                 with_entry_options({}),
                 {}},
                [](const Words& words) { return access_entry(words, Event::strip); });
}

Command refit_command() {
  return adding({"refit",
                 "Records that layers were closed, and what lies behind them; without LAYER, all.",
                 {job_argument(), layers_argument(false)},
                 "tickover refit grey-four.job",
                 with_entry_options({}),
                 {}},
                [](const Words& words) { return access_entry(words, Event::refit); });
}

Command repair_command() {
  return adding({"repair",
                 "Records a repair. What is seen later belongs to the machine after it.",
                 {job_argument(), {"what", "the repair", Names::repair}},
                 "tickover repair grey-four.job clean-pilot --cyl 2,3",
                 with_entry_options({cylinders_option()}),
                 {}},
                repair_entry);
}

Command verify_command() {
  Command command = adding(
      {"verify",
       "Records the running machine after refit and road test: the complaint is gone, still there, "
       "or changed (then --gone names each symptom that has gone). Exit status 1 unless gone.",
       {job_argument(), {.name = "verdict", .help = "how it runs", .choices = verdicts()}},
       "tickover verify grey-four.job changed --gone overrun-popping",
       with_entry_options({{.name = "gone",
                            .help = "a symptom that has gone; may be repeated",
                            .kind = Kind::texts,
                            .placeholder = "ID",
                            .names = Names::symptom}}),
       {}},
      verify_entry);
  command.run = run_verify;
  return command;
}

Command strike_command() {
  return adding({"strike",
                 "Strikes out an entry: it no longer counts, and stays readable.",
                 {job_argument(), {"entry", "the number of an entry", Names::job_entry}},
                 "tickover strike grey-four.job 7 --reason \"wrong cylinder\"",
                 with_entry_options(
                     {{.name = "reason", .help = "why it does not hold", .placeholder = "TEXT"}}),
                 {}},
                strike_entry);
}

Command note_command() {
  return adding({"note",
                 "Keeps a remark with the job.",
                 {job_argument(), {.name = "text", .help = "the remark", .several = true}},
                 "tickover note grey-four.job \"tank was a quarter full\"",
                 {{.name = "by", .help = "who says so", .placeholder = "NAME"}},
                 {}},
                note_entry);
}

Command finish_command() {
  return adding({"finish",
                 "Closes the job with the causes that were confirmed.",
                 {job_argument()},
                 "tickover finish grey-four.job --cause pilot-jet-blocked@3 --cause stale-fuel",
                 with_entry_options({{.name = "cause",
                                      .help = "a cause that was confirmed, with @ and the place "
                                              "where it was at one of several; may be repeated",
                                      .kind = Kind::texts,
                                      .placeholder = "ID",
                                      .names = Names::cause},
                                     cylinders_option()}),
                 {}},
                finish_entry);
}

}  // namespace tickover::cli
