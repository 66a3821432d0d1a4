// The short commands that add one entry: strip, refit, repair, verify, strike, note, finish.

#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/session.hpp"
#include "engine/foundation/error.hpp"

namespace tickover::cli {
namespace {

int add_and_report(World& world, const cxxopts::ParseResult& parsed, Entry entry) {
  return report_entry(world, parsed, add_entry(world, parsed, std::move(entry)));
}

int run_access(World& world, const cxxopts::ParseResult& parsed, Event event) {
  Entry entry = entry_from_options(parsed, event);
  required(parsed, "job");
  entry.items = several(parsed, "layer");
  if (event == Event::strip && entry.items.empty()) required(parsed, "layer");
  return add_and_report(world, parsed, std::move(entry));
}

int run_repair(World& world, const cxxopts::ParseResult& parsed) {
  Entry entry = entry_from_options(parsed, Event::repair);
  required(parsed, "job");
  entry.what = required(parsed, "what");
  return add_and_report(world, parsed, std::move(entry));
}

int run_verify(World& world, const cxxopts::ParseResult& parsed) {
  Entry entry = entry_from_options(parsed, Event::verify);
  required(parsed, "job");
  entry.what = required(parsed, "verdict");
  entry.items = several(parsed, "gone");
  const bool known = entry.what == "gone" || entry.what == "still" || entry.what == "changed";
  if (!known) {
    throw unknown_name(InputFault::usage, "", "verdict", entry.what, {"gone", "still", "changed"});
  }
  if ((entry.what == "changed") == entry.items.empty()) {
    throw InputError(InputFault::usage, "", "--gone goes with 'changed', and 'changed' with --gone",
                     "for instance: verify JOB changed --gone overrun-popping");
  }
  const int status = add_and_report(world, parsed, entry);
  if (status != kDone) return status;
  return entry.what == "gone" ? kDone : kAnswerIsNo;
}

int run_strike(World& world, const cxxopts::ParseResult& parsed) {
  Entry entry = entry_from_options(parsed, Event::strike);
  required(parsed, "job");
  entry.note = required(parsed, "reason");
  if (parsed.count("entry") == 0) required(parsed, "entry");
  const std::string number = required(parsed, "entry");
  const bool digits = number.find_first_not_of("0123456789") == std::string::npos;
  if (!digits || number.size() > 6) {
    throw InputError(InputFault::usage, "", "'" + number + "' is not the number of an entry",
                     "'tickover sheet JOB' shows them");
  }
  entry.target = std::stoul(number);
  return add_and_report(world, parsed, std::move(entry));
}

int run_note(World& world, const cxxopts::ParseResult& parsed) {
  Entry entry = entry_from_options(parsed, Event::note);
  required(parsed, "job");
  entry.note.clear();
  for (const std::string& word : several(parsed, "text")) {
    entry.note += (entry.note.empty() ? "" : " ") + word;
  }
  if (entry.note.empty()) required(parsed, "text");
  return add_and_report(world, parsed, std::move(entry));
}

int run_finish(World& world, const cxxopts::ParseResult& parsed) {
  Entry entry = entry_from_options(parsed, Event::finish);
  required(parsed, "job");
  entry.items = several(parsed, "cause");
  return add_and_report(world, parsed, std::move(entry));
}

void cylinder_option(cxxopts::OptionAdder& adder) {
  adder("cyl", "at which cylinders: 3, or 1,4, or all", cxxopts::value<std::string>(), "LIST");
}

}  // namespace

Command strip_command() {
  return {"strip",
          "Records that layers were opened; what lies before them is opened too.",
          {"job", "layer..."},
          "tickover strip grey-four.job carburettors",
          add_entry_options,
          [](World& world, const cxxopts::ParseResult& parsed) {
            return run_access(world, parsed, Event::strip);
          }};
}

Command refit_command() {
  return {"refit",
          "Records that layers were closed, and what lies behind them; without LAYER, all.",
          {"job", "layer..."},
          "tickover refit grey-four.job",
          add_entry_options,
          [](World& world, const cxxopts::ParseResult& parsed) {
            return run_access(world, parsed, Event::refit);
          }};
}

Command repair_command() {
  return {"repair",
          "Records a repair. What is seen later belongs to the machine after it.",
          {"job", "what"},
          "tickover repair grey-four.job pilot-circuit-clean --cyl 2,3",
          [](cxxopts::OptionAdder& adder) {
            cylinder_option(adder);
            add_entry_options(adder);
          },
          run_repair};
}

Command verify_command() {
  return {
      "verify",
      "Records the running machine after refit and road test: the complaint is gone, still there, "
      "or changed (then --gone names each symptom that has gone). Exit status 1 unless gone.",
      {"job", "verdict"},
      "tickover verify grey-four.job changed --gone overrun-popping",
      [](cxxopts::OptionAdder& adder) {
        adder("gone", "a symptom that has gone; may be repeated",
              cxxopts::value<std::vector<std::string>>(), "ID");
        add_entry_options(adder);
      },
      run_verify};
}

Command strike_command() {
  return {"strike",
          "Strikes out an entry: it no longer counts, and stays readable.",
          {"job", "entry"},
          "tickover strike grey-four.job 7 --reason \"wrong cylinder\"",
          [](cxxopts::OptionAdder& adder) {
            adder("reason", "why it does not hold", cxxopts::value<std::string>(), "TEXT");
            add_entry_options(adder);
          },
          run_strike};
}

Command note_command() {
  return {"note",
          "Keeps a remark with the job.",
          {"job", "text..."},
          "tickover note grey-four.job \"tank was a quarter full\"",
          [](cxxopts::OptionAdder& adder) {
            adder("by", "who says so", cxxopts::value<std::string>(), "NAME");
          },
          run_note};
}

Command finish_command() {
  return {"finish",
          "Closes the job with the causes that were confirmed.",
          {"job"},
          "tickover finish grey-four.job --cause pilot-blocked --cause port-cap-open",
          [](cxxopts::OptionAdder& adder) {
            adder("cause", "a cause that was confirmed; may be repeated",
                  cxxopts::value<std::vector<std::string>>(), "ID");
            add_entry_options(adder);
          },
          run_finish};
}

}  // namespace tickover::cli
