/// @file
/// 'trial' through the program: the same bytes whatever the threads, the shards or the breaks, and
/// what each option refuses.
#include <catch2/catch.hpp>

#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_trial_test {
namespace {

using Catch::Contains;
using Words = std::vector<std::string>;

class Bench {
 public:
  test::ProgramResult run(Words words) const {
    words.insert(words.begin(), "trial");
    return test::run_program(
        {words, scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  /// A trial of twelve jobs by two quick policies, and `more`.
  test::ProgramResult play(const Words& more) const {
    Words words = {"--machine", "single", "--jobs", "12", "--policy", "ratio,truth"};
    words.insert(words.end(), more.begin(), more.end());
    return run(words);
  }
  test::Scratch scratch;
};

/// Without the breaks of lines.
std::string in_a_row(std::string text) {
  std::replace(text.begin(), text.end(), '\n', ' ');
  return text;
}

std::size_t lines_of(const std::string& text) {
  return static_cast<std::size_t>(std::count(text.begin(), text.end(), '\n'));
}

}  // namespace

TEST_CASE("threads change no byte", "[cli][trial]") {
  const Bench bench;
  const auto one = bench.play({"--threads", "1", "--out", "one"});
  const auto four = bench.play({"--threads", "4", "--out", "four"});
  CAPTURE(one.err);
  REQUIRE(one.status == 0);
  CHECK(one.out == four.out);
  CHECK(lines_of(bench.scratch.read("one")) == 13);
  CHECK(bench.scratch.read("one") == bench.scratch.read("four"));
}

TEST_CASE("shards join to the bytes of one run", "[cli][trial]") {
  const Bench bench;
  const auto whole = bench.play({"--out", "whole"});
  for (const std::string i : {"3", "1", "2"}) {
    CHECK(bench.play({"--shard", i + "/3", "--out", "part" + i}).status == 0);
  }
  const auto joined = bench.run({"--merge", "part2", "part1", "part3", "--out", "joined"});
  CAPTURE(joined.err);
  CHECK(joined.out == whole.out);
  CHECK(bench.scratch.read("joined") == bench.scratch.read("whole"));
  CHECK(bench.run({"--merge", "joined", "--json"}).out == bench.play({"--json"}).out);
}

TEST_CASE("a run cut short goes on as if it had not been", "[cli][trial]") {
  const Bench bench;
  const auto whole = bench.play({"--out", "whole"});
  const std::string text = bench.scratch.read("whole");
  for (const std::size_t bytes : {text.find('\n') + 1, text.size() / 2, text.size() - 1}) {
    CAPTURE(bytes);
    bench.scratch.write("cut", text.substr(0, bytes));
    const auto resumed = bench.play({"--out", "cut", "--resume"});
    CAPTURE(resumed.err);
    CHECK(resumed.out == whole.out);
    CHECK(bench.scratch.read("cut") == text);
  }
  CHECK(bench.play({"--out", "cut", "--resume"}).out == whole.out);  // nothing left to do
  CHECK(bench.scratch.read("cut") == text);
  CHECK(bench.play({"--out", "new", "--resume"}).status == 0);
  CHECK(bench.scratch.read("new") == text);
}

TEST_CASE("chart and page stand by themselves and are not overwritten", "[cli][trial]") {
  const Bench bench;
  REQUIRE(bench.play({"--html", "a.html", "--svg", "a.svg"}).status == 0);
  const std::string page = bench.scratch.read("a.html"), chart = bench.scratch.read("a.svg");
  CHECK_THAT(page, Contains("<svg") && Contains("<desc") && Contains("<table>") &&
                       Contains("lang=\"en\"") && !Contains("<script") && !Contains("src=") &&
                       !Contains("href="));
  CHECK_THAT(chart, Contains("<title") && Contains("ratio:") && Contains("</svg>"));
  const auto again = bench.play({"--html", "a.html"});
  CHECK(again.status == 73);
  CHECK(bench.scratch.read("a.html") == page);
}

TEST_CASE("slips and moved numbers are told, and matter", "[cli][trial]") {
  const Bench bench;
  const std::string plain = bench.play({}).out;
  const auto slips = bench.play({"--slips", "0.2"});
  CHECK_THAT(in_a_row(slips.out), Contains("one result in 5 misread"));
  const auto moved = bench.play({"--perturbed"});
  CHECK_THAT(in_a_row(moved.out), Contains("with its numbers moved"));
  CHECK(plain.substr(plain.find("\n\n")) != moved.out.substr(moved.out.find("\n\n")));
}

TEST_CASE("each option refuses what it cannot take, and nothing is written", "[cli][trial]") {
  struct Refusal {
    Words words;
    int status;
    std::string err;
  };
  const Bench bench;
  REQUIRE(bench.play({"--out", "whole"}).status == 0);
  REQUIRE(bench.play({"--shard", "1/2", "--out", "half"}).status == 0);
  REQUIRE(bench.play({"--seed", "2", "--shard", "2/2", "--out", "other"}).status == 0);
  bench.scratch.write("bad", "{\"trial\":2}\n");
  bench.scratch.write("empty", "");
  bench.scratch.write("extra", bench.scratch.read("half") + "{\"job\":1}\n");
  const std::string half = bench.scratch.read("half");
  bench.scratch.write("gap", half.substr(0, half.find('\n') + 1) +
                                 half.substr(half.find('\n', half.find('\n') + 1) + 1));
  const auto before = bench.scratch.files();
  const std::vector<Refusal> refusals = {
      {{}, 2, "--machine is missing"},
      {{"--machine", "singel"}, 2, "no machine named 'singel'"},
      {{"--machine", "single", "--jobs", "0"}, 2, "--jobs: it should be a whole number from 1"},
      {{"--machine", "single", "--seed", "-1"}, 2, "--seed: it should be a whole number from 0"},
      {{"--machine", "single", "--threads", "0"}, 2, "--threads: it should be a whole number"},
      {{"--machine", "single", "--policy", "plannr"}, 2, "no policy named 'plannr'"},
      {{"--machine", "single", "--slips", "1.5"}, 2, "--slips: '1.5' is no probability"},
      {{"--machine", "single", "--slips", "rare"}, 2, "--slips: 'rare' is no probability"},
      {{"--machine", "single", "--shard", "3/2"}, 2, "--shard: '3/2' is no shard"},
      {{"--machine", "single", "--shard", "0/2"}, 2, "--shard: '0/2' is no shard"},
      {{"--machine", "single", "--shard", "half"}, 2, "--shard: 'half' is no shard"},
      {{"--machine", "single", "--jobs", "2", "--shard", "3/3"}, 2, "--shard: it holds no job"},
      {{"--machine", "single", "--resume"}, 2, "--resume: it needs --out"},
      {{"--machine", "single", "--settings", "none.json"}, 66, "none.json: cannot be read"},
      {{"--machine", "single", "--settings", "bad"}, 65, "bad: no field named 'trial'"},
      {{"--machine", "single", "--out", "whole"}, 73, "whole: exists already"},
      {{"--machine", "single", "--out", "whole", "--resume"}, 65, "results of another trial"},
      {{"--machine", "single", "whole"}, 2, "results are named, but not --merge"},
      {{"--merge"}, 2, "--merge: RESULTS are missing"},
      {{"--merge", "--seed", "3", "whole"}, 2, "--seed: it has no meaning with --merge"},
      {{"--merge", "none"}, 66, "none: cannot be read"},
      {{"--merge", "bad"}, 65, "bad:1#"},
      {{"--merge", "empty"}, 65, "empty: there are no results"},
      {{"--merge", "extra"}, 65, "extra:8: 'drawn' is missing"},
      {{"--merge", "gap"}, 65, "gap:2#/job: job 2 does not belong here"},
      {{"--merge", "half"}, 65, "6 of 12 jobs are missing, the first is job 1"},
      {{"--merge", "half", "other"}, 65, "other:1: it is of another trial than half"},
      {{"--merge", "half", "half"}, 65, "half: job 0 is in half too"},
  };
  for (const Refusal& refusal : refusals) {
    const auto got = bench.run(refusal.words);
    CAPTURE(refusal.words);
    CHECK_THAT(got.err, Contains(refusal.err));
    CHECK(got.status == refusal.status);
    CHECK(got.out == "");
  }
  CHECK(bench.scratch.files() == before);
}

}  // namespace tickover::cli_trial_test
