/// @file
/// The export of a job's network, through the program: what is written is read back and sums to
/// the program's own P(e), for the worked jobs of cases/ at every entry.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "engine/belief/tables/infer.hpp"
#include "engine/uai/uai.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/shell.hpp"

namespace tickover::cli_export_test {
namespace {

using Texts = std::vector<std::string>;

/// An invented twin with a reading, a repair, and a symptom gone.
class Twin {
 public:
  Twin() {
    run({"open", "twin.job", "--machine", "twin-parallel", "--complaint", "revs hang"});
    run({"record", "twin.job", "speed-hangs", "clear"});
    run({"record", "twin.job", "float-height", "--cyl", "1", "21.5mm"});
    run({"repair", "twin.job", "set-float", "--cyl", "1"});
    run({"record", "twin.job", "speed-hangs", "none"});
  }
  test::ProgramResult run(const Texts& words) const {
    return test::run_program(
        {words, scratch_.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  nlohmann::json exported(const Texts& more) const {
    Texts words = {"export", "twin.job", "--json"};
    words.insert(words.end(), more.begin(), more.end());
    const auto result = run(words);
    CAPTURE(result.err);
    REQUIRE(result.status == 0);
    return test::json_of(result.out);
  }
  const test::Scratch& scratch() const { return scratch_; }

 private:
  test::Scratch scratch_;
};

}  // namespace

TEST_CASE("an exported job sums to the program's own P(e)", "[cli][export]") {
  const Twin twin;
  for (const std::string form : {"decomposed", "full"}) {
    const nlohmann::json told = twin.exported({"--uai", form + ".uai", "--tables", form});
    const auto graph = uai::read_network(twin.scratch().read(form + ".uai"), form);
    const auto observed =
        uai::read_evidence(twin.scratch().read(form + ".uai.evid"), form, graph.cardinality);
    const auto got = belief::tables::infer(graph, observed);
    CHECK(got.log_evidence == Approx(told["log-evidence"].get<double>()).epsilon(1e-10));
    CHECK(told["read-back"]["log-evidence"] == told["log-evidence"]);
    CHECK(told["variables"] == graph.cardinality.size());
    CHECK(told["observed"] == observed.size());
  }
}

TEST_CASE("findings with too many causes for one table are counted", "[cli][export]") {
  const Twin twin;
  const auto told = [&](const std::string& form) {
    return twin.run({"export", "twin.job", "--uai", form + ".uai", "--tables", form}).out;
  };
  const std::string kSaid = "Findings with too many causes for one table";
  CHECK(told("full").find(kSaid) != std::string::npos);  // 'speed-hangs' has dozens
  CHECK(told("decomposed").find(kSaid) == std::string::npos);
  CHECK(twin.exported({"--uai", "a.uai", "--tables", "full"})["decomposed"] > 0);
}

TEST_CASE("the names say of every variable what it is", "[cli][export]") {
  const Twin twin;
  twin.exported({"--uai", "twin.uai"});
  const auto graph = uai::read_network(twin.scratch().read("twin.uai"), "twin.uai");
  const nlohmann::json names = test::json_of(twin.scratch().read("twin.uai.names"));
  REQUIRE(names["variables"].size() == graph.cardinality.size());
  std::set<std::string> roles;
  std::size_t observed = 0;
  for (std::size_t v = 0; v < graph.cardinality.size(); ++v) {
    CHECK(names["variables"][v]["states"].size() == graph.cardinality[v]);
    roles.insert(names["variables"][v]["role"].get<std::string>());
    observed += names["variables"][v].contains("observed");
  }
  CHECK(roles == std::set<std::string>{"cause", "chain", "finding", "sensor"});
  const std::string evidence = twin.scratch().read("twin.uai.evid");
  CHECK(uai::read_evidence(evidence, "", graph.cardinality).size() == observed);
}

TEST_CASE("nothing is written over, and nothing half", "[cli][export]") {
  const Twin twin;
  twin.scratch().write("a.uai.evid", "mine");
  const auto before = twin.scratch().files();
  const auto refused = twin.run({"export", "twin.job", "--uai", "a.uai"});
  CHECK(refused.status == 73);
  CHECK(refused.err == "tickover: a.uai.evid: exists already, and is left as it is\n");
  CHECK(twin.scratch().files() == before);
  CHECK(twin.run({"export", "twin.job", "--uai", "nowhere/a.uai"}).status == 73);
  CHECK(twin.run({"export", "twin.job"}).status == 2);
  CHECK(twin.run({"export", "twin.job", "--uai", "b.uai", "--tables", "fuller"}).status == 2);
  CHECK(twin.scratch().files() == before);
}

}  // namespace tickover::cli_export_test
