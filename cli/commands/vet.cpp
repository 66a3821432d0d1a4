#include <fmt/format.h>

#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/report.hpp"
#include "cli/session.hpp"

namespace tickover::cli {
namespace {

/// Loading is the vetting: a pack with an error is refused with its place.
int run(World& world, const cxxopts::ParseResult& parsed) {
  const pack::Pack pack = load_pack(world, optional(parsed, "pack"));
  const Json counts = {{"causes", pack.causes.size()}, {"findings", pack.findings.size()},
                       {"checks", pack.checks.size()}, {"repairs", pack.repairs.size()},
                       {"layers", pack.layers.size()}, {"risks", pack.risks.size()},
                       {"words", pack.words.size()},   {"sources", pack.sources.size()}};
  if (parsed.count("json") > 0) {
    world.out << Json({{"report", "vet"},
                       {"format", 1},
                       {"pack", pack.id},
                       {"version", pack.version},
                       {"hash", pack.hash},
                       {"counts", counts}})
                     .dump(2)
              << "\n";
    return kDone;
  }
  world.out << fmt::format("{} {}: no error found\nhash {}\n", pack.id, pack.version, pack.hash);
  for (const auto& [name, count] : counts.items()) {
    world.out << fmt::format("  {:>4} {}\n", count.get<std::size_t>(), name);
  }
  return kDone;
}

}  // namespace

Command vet_command() {
  return {"vet",
          "Checks a knowledge pack: the folder PACK, or the one in use.",
          {"pack"},
          "tickover vet my-pack",
          [](cxxopts::OptionAdder&) {},
          run};
}

}  // namespace tickover::cli
