#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/session.hpp"
#include "engine/trail/trail.hpp"

namespace tickover::cli {
namespace {

int run(World& world, const cxxopts::ParseResult& parsed) {
  const Session session = read_job(world, required(parsed, "job"));
  const Trail trail = make_trail(*session.diagnosis, session.journal);
  const std::string markdown = trail_markdown(*session.diagnosis, session.journal, trail);
  if (const std::string file = optional(parsed, "md"); !file.empty()) {
    world.store.create(file, markdown);
    world.out << "Wrote " << file << ".\n";
    return kDone;
  }
  world.out << (parsed.count("json") > 0 ? trail_json(*session.diagnosis, session.journal, trail)
                                         : markdown);
  return kDone;
}

}  // namespace

Command sheet_command() {
  return {"sheet",
          "The job sheet: complaint, cause, correction, the whole trail, what was ruled out.",
          {"job"},
          "tickover sheet grey-four.job --md grey-four.md",
          [](cxxopts::OptionAdder& adder) {
            adder("md", "write it as Markdown to a new file", cxxopts::value<std::string>(),
                  "FILE");
          },
          run};
}

}  // namespace tickover::cli
