#include <ostream>

#include "cli/exit_status.hpp"
#include "cli/session.hpp"
#include "cli/shop.hpp"
#include "cli/sitting/guide.hpp"
#include "cli/sitting/opening.hpp"

namespace tickover::cli {

Command work_command() {
  return {
      "work",
      "Guided work on a job: asks, explains and records one thing at a time, from the first "
      "symptom to the finished job. It can be left at any prompt and goes on at the same place. A "
      "job that does not exist yet is opened first.",
      {{"job", "the job file; a new one is asked for and opened", Names::job}},
      "tickover work grey-four.job --no-tool propane",
      shop_options(),
      [](World& world, const Words& words) {
        const std::string path = words.required("job");
        const bool there = world.store.exists(path) || world.answers == nullptr;
        if (!there && !ask_and_open(world, path)) {
          world.out << "Left; nothing was written.\n";
          return int{kDone};
        }
        return Guide(world, words).run();
      }};
}

}  // namespace tickover::cli
