#include "tests/support/typed.hpp"

#include <catch2/catch.hpp>
#include <sstream>

#include "cli/answers.hpp"
#include "cli/command.hpp"
#include "engine/store/store.hpp"

namespace tickover::test {

std::string told(const std::vector<std::string>& words, const std::string& typed) {
  std::istringstream in(typed);
  std::ostringstream out;
  cli::StreamAnswers answers(in, out, true);
  const std::unique_ptr<Store> store = disk_store();
  cli::World world{*store, out, out, std::string(TICKOVER_SOURCE) + "/knowledge", &answers};
  CHECK(cli::dispatch(world, words) == 0);
  return out.str();
}

}  // namespace tickover::test
