#include <fmt/format.h>

#include <nlohmann/json.hpp>
#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "cli/session.hpp"

namespace tickover::cli {
namespace {

/// Loading is the vetting: what it refuses is the answer, with its place.
int run(World& world, const Words& words) try {
  const pack::Pack pack = load_pack(world, words.text("pack"));
  const Json counts = {{"causes", pack.causes.size()}, {"findings", pack.findings.size()},
                       {"checks", pack.checks.size()}, {"repairs", pack.repairs.size()},
                       {"layers", pack.layers.size()}, {"risks", pack.risks.size()},
                       {"words", pack.words.size()},   {"sources", pack.sources.size()}};
  if (words.has("json")) {
    print_json(world.out, {{"report", "vet"},
                           {"format", 1},
                           {"pack", pack.id},
                           {"version", pack.version},
                           {"hash", pack.hash},
                           {"counts", counts}});
    return kDone;
  }
  world.out << fmt::format("{} {}: no error found\nhash {}\n", pack.id, pack.version, pack.hash);
  for (const auto& [name, count] : counts.items()) {
    world.out << fmt::format("  {:>4} {}\n", count.get<std::size_t>(), name);
  }
  return kDone;
} catch (const InputError& error) {
  if (error.fault() != InputFault::data) throw;
  world.talk << error_in_words(error);
  return kAnswerIsNo;
}

}  // namespace

Command vet_command() {
  return {
      "vet",
      "Checks a knowledge pack: the folder PACK, or the one in use.",
      {{.name = "pack", .help = "the folder of a pack", .names = Names::folder, .needed = false}},
      "tickover vet my-pack",
      {},
      run};
}

}  // namespace tickover::cli
