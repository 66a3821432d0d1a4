#include "tests/support/outside.hpp"

#include <catch2/catch.hpp>
#include <cstdlib>
#include <filesystem>
#include <limits>
#include <nlohmann/json.hpp>
#include <sstream>

#include "engine/uai/uai.hpp"
#include "tests/support/json_text.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/shell.hpp"

namespace tickover::test {
namespace {

using belief::tables::Factor;
using belief::tables::Observed;

const std::string kModules = std::string(TICKOVER_SOURCE) + "/build/outside/node_modules";

bool have(bool there, const std::string& what) {
  if (there) return true;
  const std::string text = what + " is not installed: TICKOVER_OUTSIDE=required .ci/setup does it";
  const char* set = std::getenv("TICKOVER_OUTSIDE");
  if (set != nullptr && std::string(set) == "required") {
    FAIL(text);
  } else {
    WARN("skipped: " << text);
  }
  return false;
}

OutsideNetwork copied(const OutsideNetwork& one, std::size_t copies) {
  OutsideNetwork all;
  const std::size_t variables = one.graph.cardinality.size();
  for (std::size_t copy = 0; copy < copies; ++copy) {
    all.graph.cardinality.insert(all.graph.cardinality.end(), one.graph.cardinality.begin(),
                                 one.graph.cardinality.end());
    for (Factor factor : one.graph.factors) {
      for (std::size_t& v : factor.scope) v += copy * variables;
      all.graph.factors.push_back(std::move(factor));
    }
    for (const Observed& seen : one.observed) {
      all.observed.push_back({seen.variable + copy * variables, seen.state});
    }
  }
  return all;
}

/// NAME.uai and NAME.evid; the two paths as words of a shell.
std::string written(const Scratch& scratch, const std::string& name, const OutsideNetwork& one) {
  scratch.write(name + ".uai", uai::network_text(one.graph));
  scratch.write(name + ".evid", uai::evidence_text(one.observed));
  return scratch.path(name + ".uai") + " " + scratch.path(name + ".evid");
}

}  // namespace

bool have_toulbar2() { return have(run_shell("command -v toulbar2").status == 0, "toulbar2"); }

bool have_bayesjs() {
  return have(
      std::filesystem::exists(kModules + "/bayesjs") && run_shell("command -v node").status == 0,
      "bayesjs");
}

OutsideBest toulbar2_best(const OutsideNetwork& one) {
  const Scratch scratch;
  const std::string solution = scratch.path("solution");
  const std::string out = run_shell("timeout 20 toulbar2 " + written(scratch, "one", one) +
                                    " -precision=10 -w=" + solution + " 2>&1")
                              .out;
  const std::size_t at = out.find("Optimum: ");
  CAPTURE(out);
  REQUIRE(at != std::string::npos);
  OutsideBest best{-std::stod(out.substr(at + 9)) / 1e10, {}};
  std::istringstream states(scratch.read("solution"));
  for (std::size_t state = 0; states >> state;) best.states.push_back(state);
  REQUIRE(best.states.size() == one.graph.cardinality.size());
  return best;
}

double toulbar2_log_evidence(const OutsideNetwork& one, std::size_t copies, int seconds) {
  const Scratch scratch;
  const std::string out =
      run_shell("timeout " + std::to_string(seconds) + " toulbar2 " +
                written(scratch, "all", copied(one, copies)) + " -p=8 -logz 2>&1")
          .out;
  const std::size_t at = out.find("<= Log(Z) <= ");
  if (at == std::string::npos) return std::numeric_limits<double>::quiet_NaN();
  return std::stod(out.substr(at + 13)) / static_cast<double>(copies);
}

std::vector<OutsideAnswer> bayesjs(const std::vector<OutsideNetwork>& networks) {
  const Scratch scratch;
  std::string command =
      "NODE_PATH=" + kModules + " timeout 60 node " TICKOVER_SOURCE "/tests/outside/bayesjs.cjs";
  for (std::size_t i = 0; i < networks.size(); ++i) {
    command += " " + written(scratch, std::to_string(i), networks[i]);
  }
  const std::string out = run_shell(command + " 2>&1").out;
  CAPTURE(out);
  std::vector<OutsideAnswer> answers;
  std::istringstream lines(out);
  for (std::string line; std::getline(lines, line) && line.starts_with("{");) {
    const nlohmann::json one = json_of(line);
    answers.push_back({{}, one["marginals"], one["ms"]});
    if (one["evidence"].is_number()) answers.back().evidence = one["evidence"].get<double>();
  }
  REQUIRE(answers.size() == networks.size());
  return answers;
}

}  // namespace tickover::test
