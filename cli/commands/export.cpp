#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <nlohmann/json.hpp>
#include <ostream>
#include <sstream>

#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/session.hpp"
#include "engine/belief/infer.hpp"
#include "engine/belief/tables/from_case.hpp"
#include "engine/belief/tables/infer.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"
#include "engine/uai/uai.hpp"

namespace tickover::cli {
namespace {

namespace tables = belief::tables;
using tables::Node;
using tables::Role;

/// A network larger than that is no use to any solver.
constexpr std::size_t kMostEntries = 10'000'000;

std::string epoch_text(belief::Epoch epoch) { return "epoch " + std::to_string(epoch); }

/// "never present", "present from epoch 0 on", "present from epoch 1 until epoch 2".
std::string life_text(const belief::Life& life) {
  if (life.begin == life.end) return "never present";
  const std::string begin = "present from " + epoch_text(life.begin);
  return life.end == belief::kForever ? begin + " on" : begin + " until " + epoch_text(life.end);
}

std::string role_word(Role role) {
  switch (role) {
    case Role::cause:
      return "cause";
    case Role::look:
      return "look";
    case Role::silent:
      return "silent";
    case Role::chain:
      return "chain";
    case Role::finding:
      return "finding";
    case Role::sensed:
      return "sensed";
    case Role::seen:
      return "seen";
    case Role::sensor:
      return "sensor";
    case Role::group:
      break;
  }
  return "group";
}

/// What each node of the belief's network is called: "float-height@3 moved low".
std::vector<std::string> finding_names(const Diagnosis& job) {
  static const std::vector<std::string> ways = {" moved low", " moved high", " thinned"};
  const Model& model = job.model();
  std::vector<std::string> names;
  for (std::size_t f = 0; f < model.findings.size(); ++f) {
    const std::optional<std::size_t> node = job.ground().node_of(f);
    if (!node) continue;
    const pack::Finding& finding = model.pack.findings[model.findings[f].finding];
    const bool reading = finding.kind == pack::Kind::reading;
    const std::size_t count = !reading ? 1 : finding.gases.empty() ? 2 : 3;
    for (std::size_t way = 0; way < count; ++way) {
      names.push_back(model.findings[f].id + (reading ? ways[way] : ""));
    }
  }
  return names;
}

/// Of a finding or a part of its chain: "nothing", "epoch 0", "epochs 0 and 2", "ruled out".
std::string accounted_text(const Node& node, std::size_t state) {
  if (state >> node.epochs.size() != 0) return "ruled out";
  std::vector<std::string> epochs;
  for (std::size_t bit = 0; bit < node.epochs.size(); ++bit) {
    if (state >> bit & 1) epochs.push_back(std::to_string(node.epochs[bit]));
  }
  if (epochs.empty()) return "nothing accounted for";
  return (epochs.size() == 1 ? "epoch " : "epochs ") + join_words(epochs) + " accounted for";
}

std::vector<std::string> state_texts(const belief::Case& given, const Node& node,
                                     std::size_t states) {
  std::vector<std::string> texts;
  switch (node.role) {
    case Role::cause:
      for (const belief::LifeChance& way : belief::lives(given, node.cause)) {
        texts.push_back(life_text(way.life));
      }
      return texts;
    case Role::silent:
      return {"silent", "not silent"};
    case Role::chain:
    case Role::finding:
      for (std::size_t s = 0; s < states; ++s) texts.push_back(accounted_text(node, s));
      return texts;
    case Role::sensed:
      return {"not moved", "moved"};
    default:
      return {"otherwise", "as observed"};
  }
}

/// What the variables of the network stand for; UAI has no comments.
Json names_json(const Diagnosis& job, const belief::Case& given,
                const tables::PlainNetwork& plain) {
  const std::vector<std::string> findings = finding_names(job);
  Json out = {{"report", "export-names"}, {"format", 1}};
  out["log-scale"] = steady(plain.log_scale);
  out["variables"] = Json::array();
  for (std::size_t v = 0; v < plain.nodes.size(); ++v) {
    const Node& node = plain.nodes[v];
    Json one = {{"variable", v}, {"role", role_word(node.role)}};
    if (node.cause != tables::kNoCause) one["cause"] = job.model().causes[node.cause].id;
    for (const std::size_t f : node.findings) one["findings"].push_back(findings[f]);
    if (!node.epochs.empty()) one["epochs"] = node.epochs;
    one["states"] = state_texts(given, node, plain.graph.cardinality[v]);
    out["variables"].push_back(one);
  }
  for (const tables::Observed& seen : plain.observed) {
    out["variables"][seen.variable]["observed"] = seen.state;
  }
  return out;
}

struct Files {
  std::string network, evidence, names;
};

/// Three new files; none is begun when one of them exists. The network comes last, so that where
/// it is, the others are.
void write_files(World& world, const Files& paths, const Files& texts) {
  for (const std::string& path : {paths.network, paths.evidence, paths.names}) {
    if (!world.store.exists(path)) continue;
    throw InputError(InputFault::exists, path, "exists already, and is left as it is");
  }
  world.store.create(paths.names, texts.names);
  world.store.create(paths.evidence, texts.evidence);
  world.store.create(paths.network, texts.network);
}

std::size_t largest_table(const tables::FactorGraph& graph) {
  std::size_t largest = 0, all = 0;
  for (const tables::Factor& factor : graph.factors) {
    largest = std::max(largest, factor.values.size());
    all += factor.values.size();
  }
  if (all <= kMostEntries) return largest;
  throw InputError(
      InputFault::data, "",
      "the network would have " + std::to_string(all) + " table entries, too many for any solver",
      "strike entries, or export the job before its later repairs");
}

std::size_t decomposed_in(const tables::PlainNetwork& plain) {
  const auto of_chain = [](const Node& node) { return node.role == Role::finding; };
  return static_cast<std::size_t>(std::count_if(plain.nodes.begin(), plain.nodes.end(), of_chain));
}

/// What the network is, and what a solver should find.
struct Answer {
  std::size_t variables, observed, largest;
  std::size_t decomposed;   ///< findings that are not one table
  double log_evidence;      ///< of the network, by tickover's own sweep
  double log_scale;         ///< to be added for the job's own
  bool exact;               ///< false: the sweep was too wide
  tables::Posterior again;  ///< of what was written, read back, by general elimination
};

/// "-12.3456789012", or what nothing can be.
std::string log_text(double log) {
  return std::isfinite(log) ? fmt::format("{:.10f}", log) : "-infinity: the entries contradict";
}

std::string answer_text(const Files& paths, const Answer& answer, tables::Form form) {
  std::string out = wrapped(fmt::format("Wrote {}, {} and {}.", printable(paths.network),
                                        printable(paths.evidence), printable(paths.names)),
                            0);
  out += wrapped(fmt::format("{} variables, {} of them observed, the largest table of {} entries.",
                             answer.variables, answer.observed, answer.largest),
                 0);
  if (form == tables::Form::full && answer.decomposed > 0) {
    out += wrapped(fmt::format("Findings with too many causes for one table, which stay "
                               "decomposed: {} (more than {} causes, or {} entries).",
                               answer.decomposed, tables::kMostParents, tables::kMostEntries),
                   0);
  }
  if (answer.exact) {
    out += wrapped("ln P(observed) should come out as " + log_text(answer.log_evidence) + ".", 0);
  } else {
    out += "Too wide for tickover's own sweep: no ln P(observed) to compare with.\n";
  }
  const tables::Need& need = answer.again.need;
  const std::string width = fmt::format("general elimination, treewidth {}{}", need.treewidth,
                                        need.at_least ? " or more" : "");
  if (need.too_wide) {
    return out + wrapped(fmt::format("Read back, but not summed: {}, would take {:.0f} MB.", width,
                                     need.bytes / (1 << 20)),
                         0);
  }
  return out + wrapped("Read back and summed by " + width + ": " +
                           log_text(answer.again.log_evidence) + ".",
                       0);
}

Json answer_json(const Files& paths, const Answer& answer) {
  const auto log = [](double value) { return std::isfinite(value) ? Json(steady(value)) : Json(); };
  const tables::Need& need = answer.again.need;
  Json out = {{"report", "export"},
              {"format", 1},
              {"files", {paths.network, paths.evidence, paths.names}},
              {"variables", answer.variables},
              {"observed", answer.observed},
              {"largest-table", answer.largest},
              {"decomposed", answer.decomposed},
              {"log-scale", steady(answer.log_scale)},
              {"log-evidence", answer.exact ? log(answer.log_evidence) : Json()}};
  out["read-back"] = {{"treewidth", need.treewidth},
                      {"too-wide", need.too_wide},
                      {"log-evidence", need.too_wide ? Json() : log(answer.again.log_evidence)}};
  return out;
}

tables::Form form_from(const Words& words) {
  const std::string text = words.text("tables");
  if (text == "full") return tables::Form::full;
  if (text == "decomposed") return tables::Form::decomposed;
  throw unknown_name(InputFault::usage, "", "form of tables", text, {"decomposed", "full"});
}

/// The option --uai.
std::string path_from(const Words& words) {
  if (words.has("uai")) return words.text("uai");
  throw InputError(InputFault::usage, "--uai", "the file to write is not named",
                   "--uai bike.uai writes bike.uai, bike.uai.evid and bike.uai.names");
}

int run_export(World& world, const Words& words) {
  const std::string path = path_from(words);
  const Session session = read_job(world, words.required("job"));
  const tables::Form form = form_from(words);
  const Files paths{path, path + ".evid", path + ".names"};
  const belief::Case given = session.diagnosis->given();
  const tables::PlainNetwork plain = plain_network(given, form);
  const belief::Belief ours = belief::infer(given);
  Answer answer{plain.nodes.size(),
                plain.observed.size(),
                largest_table(plain.graph),
                decomposed_in(plain),
                ours.log_evidence - plain.log_scale,
                plain.log_scale,
                ours.exact,
                {}};
  std::ostringstream names;
  print_json(names, names_json(*session.diagnosis, given, plain));
  const Files texts{uai::network_text(plain.graph), uai::evidence_text(plain.observed),
                    names.str()};
  const tables::FactorGraph graph = uai::read_network(texts.network, path);
  answer.again =
      tables::infer(graph, uai::read_evidence(texts.evidence, paths.evidence, graph.cardinality));
  write_files(world, paths, texts);
  if (words.has("json")) {
    print_json(world.out, answer_json(paths, answer));
  } else {
    world.out << answer_text(paths, answer, form);
  }
  return kDone;
}

}  // namespace

Command export_command() {
  return {"export",
          "The job's network with its evidence, for other solvers: FILE in UAI format, FILE.evid "
          "what is observed, FILE.names (JSON) what the variables stand for.",
          {job_argument()},
          "tickover export grey-four.job --uai grey-four.uai",
          {{.name = "uai",
            .help = "write it to this new file and two beside it",
            .placeholder = "FILE",
            .names = Names::file},
           {.name = "tables",
            .help = "findings as chains that take up cause after cause, or as full tables where "
                    "at most 12 causes lead to them; then nothing hidden but the causes is left, "
                    "and a most probable assignment is a most probable explanation",
            .placeholder = "FORM",
            .usual = "decomposed",
            .choices = {"decomposed", "full"}}},
          run_export};
}

}  // namespace tickover::cli
