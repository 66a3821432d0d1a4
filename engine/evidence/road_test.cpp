#include "engine/evidence/road_test.hpp"

#include "engine/foundation/error.hpp"

namespace tickover {

void require_repair_before_gone(const Evidence& evidence, const Entry& entry) {
  if (entry.what == "still") return;
  const std::string hint =
      "one that comes and goes by itself: 'tickover note' keeps when; 'verify JOB still' for one "
      "that is there";
  if (evidence.epoch == 0) {
    throw InputError(InputFault::usage, "",
                     "nothing was repaired yet, so no road test can find the complaint cured",
                     hint);
  }
  if (evidence.verdict == "still") {  // a repair leaves no verdict
    throw InputError(InputFault::usage, "",
                     "the last road test found the complaint still there, and nothing was repaired "
                     "since",
                     "was that test wrong, strike it; " + hint);
  }
}

}  // namespace tickover
