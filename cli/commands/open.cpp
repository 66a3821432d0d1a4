#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/earlier_words.hpp"
#include "cli/exit_status.hpp"
#include "cli/new_sheet.hpp"
#include "cli/opened.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/rider_words.hpp"
#include "cli/session.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/trail/earlier.hpp"

namespace tickover::cli {
namespace {

/// Asked of sheets that are new: one that came with the job before is kept.
void look_through_sheet(World& world, const Model& model) {
  check_new_sheet(model);
  for (const std::string& doubt : doubts_about_sheet(model)) {
    world.talk << "machine '" << model.machine.id << "': " << doubt << '\n';
  }
}

void print_next_steps(World& world, const Opened& opened) {
  if (!opened.symptoms.empty()) {
    world.out << "\nThe rider's words may mean these symptoms; record those that hold:\n";
    for (const std::string& id : opened.symptoms) {
      const pack::Pack& pack = opened.model.pack;
      const pack::Finding& finding = pack.findings[*pack::find(pack.findings, id)];
      world.out << labelled("  " + id, finding.ask.empty() ? finding.name : finding.ask, 24);
    }
  }
  world.out << "\nThen: tickover record " << printable(opened.path)
            << " SYMPTOM ANSWER   (tickover list symptoms)\n";
}

int run_open(World& world, const Words& words) {
  const Opened opened = open_job(world, words);
  if (!words.has("json")) {
    world.out << opened_in_words(opened);
    print_next_steps(world, opened);
  } else {
    Json out = {{"report", "open"},
                {"format", 1},
                {"job", opened.path},
                {"machine", opened.model.machine.id},
                {"pack-hash", opened.model.pack.hash},
                {"symptoms", opened.symptoms}};
    if (opened.earlier)
      out["earlier"] = {{"job", opened.earlier->job}, {"sum", opened.earlier->sum}};
    print_json(world.out, out);
  }
  return kDone;
}

/// A sheet that is named; else the one that the job before was worked by.
Machine machine_of(World& world, const Words& words, const std::optional<Session>& before) {
  if (!before || words.has("machine")) {
    Machine named = load_machine_sheet(world, words.required("machine"));
    if (before && before->diagnosis->model().machine.id != named.id) {
      throw InputError(InputFault::usage, "--machine",
                       "the job before was done on '" + before->diagnosis->model().machine.id +
                           "', and this is '" + named.id + "'",
                       "leave --machine out for the same machine, or --after for another one");
    }
    return named;
  }
  return load_machine(before->journal.opening().sheet, schema_text(world, "machine"),
                      before->path + ":1#/opening/machine");
}

/// What was true of the machine then, before what is said of it now.
void add_risks(std::vector<std::string> before, std::vector<std::string>& risks) {
  for (const std::string& risk : risks) {
    if (std::find(before.begin(), before.end(), risk) == before.end()) before.push_back(risk);
  }
  risks = std::move(before);
}

/// Leaves out those of the job before that hold no more: its rubber is new by now.
void leave_out(const std::vector<std::string>& gone, const std::vector<std::string>& said_now,
               const pack::Pack& pack, std::vector<std::string>& taken_over) {
  const auto refuse = [](const std::string& what, const std::string& hint) {
    throw InputError(InputFault::usage, "--no-risk", what, hint);
  };
  for (const std::string& risk : gone) {
    if (!pack::find(pack.risks, risk)) {
      throw unknown_name(InputFault::usage, "--no-risk", "risk", risk, pack::ids_of(pack.risks));
    }
    if (std::find(said_now.begin(), said_now.end(), risk) != said_now.end()) {
      refuse("'" + risk + "' is said with --risk too", "say one of them");
    }
    if (std::find(taken_over.begin(), taken_over.end(), risk) == taken_over.end()) {
      refuse("'" + risk + "' is none that the job before leaves",
             "it leaves: " + (taken_over.empty() ? "none" : join_words(taken_over)));
    }
  }
  std::erase_if(taken_over, [&](const std::string& risk) {
    return std::find(gone.begin(), gone.end(), risk) != gone.end();
  });
}

/// Who opens a job a second time may have its machine back.
void require_new(const World& world, const std::string& path) {
  if (!world.store.exists(path)) return;
  throw InputError(InputFault::exists, path, "exists already, and is left as it is",
                   "go on in it: tickover work " + path +
                       "; the machine of a finished job is back: tickover open NEW.job --after " +
                       path);
}

}  // namespace

Opened open_job(World& world, const Words& words) {
  const std::string path = words.required("job");
  const pack::Pack pack = load_pack(world);
  std::optional<Session> before;
  if (words.has("after")) before = read_earlier(world, words.text("after"));
  if (!before && words.has("no-risk")) {
    throw InputError(InputFault::usage, "--no-risk",
                     "there is no job before to take risks over from", "it goes with --after JOB");
  }
  const Machine machine = machine_of(world, words, before);
  std::vector<Standing> left;
  Entry entry = entry_from_options(words, Event::open);
  entry.number = 1;
  entry.time = world.store.now();
  entry.opening = Opening{pack.id,       pack.version,          pack.hash,
                          machine.sheet, words.several("risk"), words.text("complaint")};
  if (before) {
    std::vector<std::string> taken_over = risks_taken_over(*before->diagnosis, before->journal);
    leave_out(words.several("no-risk"), entry.opening->risks, pack, taken_over);
    add_risks(std::move(taken_over), entry.opening->risks);
    entry.opening->earlier = earlier_of(*before->diagnosis, before->journal, words.text("after"));
    left = left_most_probable(*before->diagnosis);
  }
  const Journal journal = with_entry({}, entry, path);
  // both refuse before anything is written
  Model model = build_model(pack, machine, entry.opening->risks);
  if (!before || words.has("machine")) look_through_sheet(world, model);
  std::vector<std::string> symptoms = symptoms_in(world, model, entry.opening->complaint);
  require_new(world, path);
  world.store.create(path, to_line(entry, journal.last_sum));
  return {path, std::move(model), std::move(symptoms), entry.opening->earlier, std::move(left)};
}

std::string opened_in_words(const Opened& opened) {
  const Machine& machine = opened.model.machine;
  const std::string names = machine.cylinder_names();
  return "Opened " + printable(opened.path) + ": " + machine.name +
         (machine.invented ? " (an invented machine)" : "") + "\n" +
         (names.empty() ? "" : "Cylinders: " + names + "\n") +
         (opened.earlier ? earlier_in_words(opened.model, *opened.earlier, opened.left_then) : "") +
         wrapped(opened.model.pack.defers_to, 0);
}

Command open_command() {
  return {"open",
          "Starts a job file: the machine, what is known of it, and the rider's words.",
          {{"job", "the job file to write; it must not exist yet", Names::file}},
          "tickover open grey-four.job --machine four-inline --risk old-rubber \\\n"
          "      --complaint \"hunts at idle since the winter\"",
          {{.name = "machine",
            .help = "a sheet of 'tickover list machines', or the path of your own",
            .placeholder = "ID|FILE",
            .names = Names::machine},
           {.name = "risk",
            .help = "what makes causes likelier: 'tickover list risks'; may be repeated",
            .kind = Kind::texts,
            .placeholder = "ID",
            .names = Names::risk},
           {.name = "complaint",
            .help = "what the rider says, in the rider's words",
            .placeholder = "TEXT"},
           {.name = "after",
            .help = "the finished job of the same machine, which has come back: its sheet, its "
                    "risks and what was done then are taken over",
            .placeholder = "JOB",
            .names = Names::job},
           {.name = "no-risk",
            .help = "with --after: a risk of that job which holds no more; may be repeated",
            .kind = Kind::texts,
            .placeholder = "ID",
            .names = Names::risk},
           {.name = "by", .help = "who opens it", .placeholder = "NAME"}},
          run_open};
}

}  // namespace tickover::cli
