#include "engine/vet/vet.hpp"

#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/new_sheet.hpp"
#include "cli/prediction.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/session.hpp"
#include "engine/foundation/text.hpp"
#include "engine/vet/exceptions.hpp"

namespace tickover::cli {
namespace {

/// The sheets to vet with: the one named, or all of the knowledge folder.
std::vector<std::string> sheets(const World& world, const Words& words) {
  if (words.has("machine")) return {words.text("machine")};
  std::vector<std::string> ids;
  for (const std::string& name : world.store.names(world.knowledge + "/machines", ".json")) {
    ids.push_back(name.substr(0, name.size() - 5));
  }
  return ids;
}

/// A sheet that does not fit the pack is a remark; that of another pack may stand there too.
std::vector<vet::Remark> about_sheets(const World& world, const pack::Pack& pack,
                                      const std::vector<std::string>& ids) {
  std::vector<std::vector<vet::Remark>> by_machine;
  std::vector<std::string> fitting;
  std::vector<vet::Remark> all;
  for (const std::string& id : ids) {
    try {
      const Model model = build_model(pack, load_machine_sheet(world, id), {});
      check_new_sheet(model);
      for (const std::string& doubt : doubts_about_sheet(model)) {
        all.push_back({vet::Severity::warning, "sheet", {model.machine.id}, id, doubt});
      }
      by_machine.push_back(vet::about_machine(model));
      fitting.push_back(id);
    } catch (const InputError& error) {
      if (error.fault() != InputFault::data) throw;
      const std::string hint = error.hint().empty() ? "" : "; " + error.hint();
      all.push_back({vet::Severity::error, "sheet", {id}, error.place(), error.rule() + hint});
    }
  }
  for (vet::Remark& remark : vet::merged(by_machine, fitting)) all.push_back(std::move(remark));
  return all;
}

std::vector<vet::Judged> judge(const World& world, const Words& words, const pack::Pack& pack) {
  std::vector<vet::Remark> all = about_sheets(world, pack, sheets(world, words));
  for (const auto rule : {vet::about_texts, vet::about_cautions, vet::about_dominated}) {
    for (vet::Remark& remark : rule(pack)) all.push_back(std::move(remark));
  }
  std::vector<vet::Judged> judged = vet::judged(all, load_exceptions(world, words.text("pack")));
  if (words.has("machine")) {  // one sheet does not show what an exception is for
    std::erase_if(judged, [](const auto& one) { return one.remark.rule == "exception-not-used"; });
  }
  return judged;
}

std::string remark_text(const vet::Judged& one) {
  const vet::Remark& remark = one.remark;
  std::string head = fmt::format("{} {}: {}", name_of(remark.severity), remark.rule,
                                 join_words(remark.about, ", "));
  if (!remark.machines.empty()) head += " (on " + join_words(remark.machines) + ")";
  return wrapped(head, 2) + "  " + remark.place + "\n" + labelled("  ", remark.text, 2) +
         (one.reason.empty() ? "" : labelled("  excepted: ", one.reason, 12));
}

Json remark_json(const vet::Judged& one) {
  const vet::Remark& remark = one.remark;
  Json out = {{"severity", std::string(name_of(remark.severity))},
              {"rule", remark.rule},
              {"about", remark.about},
              {"place", remark.place},
              {"text", remark.text}};
  if (!remark.machines.empty()) out["machines"] = remark.machines;
  if (!one.reason.empty()) out["excepted"] = one.reason;
  return out;
}

/// How many of each severity stand, and how many are excepted.
struct Tally {
  std::size_t errors = 0, warnings = 0, notes = 0, excepted = 0;
};

Tally tally(const std::vector<vet::Judged>& all) {
  Tally counts;
  for (const vet::Judged& one : all) {
    const vet::Severity severity = one.remark.severity;
    ++(!one.reason.empty()                  ? counts.excepted
       : severity == vet::Severity::error   ? counts.errors
       : severity == vet::Severity::warning ? counts.warnings
                                            : counts.notes);
  }
  return counts;
}

Json counts_json(const pack::Pack& pack) {
  return {{"causes", pack.causes.size()},  {"findings", pack.findings.size()},
          {"checks", pack.checks.size()},  {"repairs", pack.repairs.size()},
          {"layers", pack.layers.size()},  {"cautions", pack.cautions.size()},
          {"risks", pack.risks.size()},    {"words", pack.words.size()},
          {"sources", pack.sources.size()}};
}

Json report_json(const pack::Pack& pack, const std::vector<vet::Judged>& all) {
  const Tally counts = tally(all);
  Json out = {{"report", "vet"},         {"format", 1},
              {"pack", pack.id},         {"version", pack.version},
              {"hash", pack.hash},       {"counts", counts_json(pack)},
              {"errors", counts.errors}, {"warnings", counts.warnings},
              {"notes", counts.notes},   {"excepted", counts.excepted}};
  out["remarks"] = Json::array();
  for (const vet::Judged& one : all) out["remarks"].push_back(remark_json(one));
  return out;
}

std::string report_text(const pack::Pack& pack, const std::vector<vet::Judged>& all, bool whole) {
  std::string out;
  for (const vet::Judged& one : all) {
    const bool stands = one.reason.empty() && one.remark.severity != vet::Severity::note;
    if (stands || whole) out += remark_text(one) + "\n";
  }
  const Tally counts = tally(all);
  out += fmt::format("{} {}: {} errors, {} warnings, {} notes, {} excepted\nhash {}\n", pack.id,
                     pack.version, counts.errors, counts.warnings, counts.notes, counts.excepted,
                     pack.hash);
  const Json numbers = counts_json(pack);
  for (const auto& [name, count] : numbers.items()) {
    out += fmt::format("  {:>4} {}\n", count.get<std::size_t>(), name);
  }
  const bool hidden = !whole && counts.notes + counts.excepted > 0;
  return out + (hidden ? "'--all' shows notes and what is excepted too.\n" : "");
}

int predict(World& world, const Words& words, const pack::Pack& pack) {
  for (const std::string& id : sheets(world, words)) {
    const Model model = build_model(pack, load_machine_sheet(world, id), words.several("risk"));
    const vet::Prediction prediction = vet::predict(model);
    if (words.has("json")) {
      print_json(world.out, prediction_json(model, prediction));
    } else {
      world.out << prediction_in_words(model, prediction);
    }
    break;  // the first sheet, unless one is named
  }
  return kDone;
}

/// Loading is part of the vetting: what it refuses is the answer, with its place.
int run_vet(World& world, const Words& words) try {
  const pack::Pack pack = load_pack(world, words.text("pack"));
  if (words.has("predict")) return predict(world, words, pack);
  if (words.has("risk")) {
    throw InputError(InputFault::usage, "", "--risk goes with --predict");
  }
  load_language(world, words.text("pack"));  // refuses what is wrong in it
  const std::vector<vet::Judged> all = judge(world, words, pack);
  if (words.has("json")) {
    print_json(world.out, report_json(pack, all));
  } else {
    world.out << report_text(pack, all, words.has("all"));
  }
  return vet::clean(all) ? kDone : kAnswerIsNo;
} catch (const InputError& error) {
  if (error.fault() != InputFault::data) throw;
  world.talk << error_in_words(error);
  return kAnswerIsNo;
}

}  // namespace

Command vet_command() {
  return {
      "vet",
      "Checks a knowledge pack: the folder PACK, or the one in use. Tells what is wrong, what no "
      "check can settle or tell apart, and what is missing. Exit status 1 unless nothing but notes "
      "and listed exceptions (exceptions.json) stands.",
      {{.name = "pack", .help = "the folder of a pack", .names = Names::folder, .needed = false}},
      "tickover vet my-pack --all",
      {{.name = "machine",
        .help = "with this machine sheet only",
        .placeholder = "SHEET",
        .names = Names::machine,
        .usual = "all; for --predict the first"},
       {.name = "all", .help = "show notes and exceptions too", .kind = Kind::flag},
       {.name = "predict",
        .help = "print how often the pack expects each symptom, and what is then behind it",
        .kind = Kind::flag},
       {.name = "risk",
        .help = "--predict for a machine with this risk factor; may be repeated",
        .kind = Kind::texts,
        .placeholder = "ID",
        .names = Names::risk}},
      run_vet};
}

}  // namespace tickover::cli
