/// @file
/// A bench with one job begun on it: the single, whose idle hunts.
#pragma once

#include <catch2/catch.hpp>
#include <string>
#include <vector>

#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::test {

class SingleBench {
 public:
  SingleBench() {
    CHECK(run({"open", "bike.job", "--machine", "single"}).status == 0);
    CHECK(run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  }
  ProgramResult run(const std::vector<std::string>& words) const {
    return run_program({words, scratch_.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  /// "next bike.job" with `more` behind it.
  ProgramResult next(const std::vector<std::string>& more) const {
    std::vector<std::string> words = {"next", "bike.job"};
    words.insert(words.end(), more.begin(), more.end());
    return run(words);
  }

 private:
  Scratch scratch_;
};

}  // namespace tickover::test
