#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/session.hpp"
#include "engine/trail/trail.hpp"

namespace tickover::cli {
namespace {

int run(World& world, const Words& words) {
  const Session session = read_job(world, words.required("job"));
  const Trail trail = make_trail(*session.diagnosis, session.journal);
  const std::string markdown = trail_markdown(*session.diagnosis, session.journal, trail);
  if (const std::string file = words.text("md"); !file.empty()) {
    world.store.create(file, markdown);
    world.out << "Wrote " << file << ".\n";
    return kDone;
  }
  world.out << (words.has("json") ? trail_json(*session.diagnosis, session.journal, trail)
                                  : markdown);
  return kDone;
}

}  // namespace

Command sheet_command() {
  return {"sheet",
          "The job sheet: complaint, cause, correction, the whole trail, what was ruled out.",
          {job_argument()},
          "tickover sheet grey-four.job --md grey-four.md",
          {{.name = "md",
            .help = "write it as Markdown to a new file",
            .placeholder = "FILE",
            .names = Names::file}},
          run};
}

}  // namespace tickover::cli
