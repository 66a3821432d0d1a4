#include "cli/session.hpp"
#include "cli/shop.hpp"
#include "cli/sitting/guide.hpp"

namespace tickover::cli {

Command work_command() {
  return {
      "work",
      "Guided work on a job: asks, explains and records one thing at a time, from the first "
      "symptom to the finished job. It can be left at any prompt and goes on at the same place.",
      {job_argument()},
      "tickover work grey-four.job --no-tool propane",
      shop_options(),
      [](World& world, const Words& words) { return Guide(world, words).run(); }};
}

}  // namespace tickover::cli
