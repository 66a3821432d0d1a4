/// @file
/// The worked jobs of cases/, at every entry, as plain tables in UAI text: read back and summed by
/// general elimination they say what the sweep says.
#include <catch2/catch.hpp>
#include <cmath>
#include <iostream>

#include "engine/belief/infer.hpp"
#include "engine/belief/tables/from_case.hpp"
#include "engine/belief/tables/infer.hpp"
#include "engine/foundation/json_document.hpp"
#include "engine/uai/uai.hpp"
#include "tests/support/knowledge.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/shell.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::tables_worked_jobs_test {
namespace {

using namespace belief;

/// Plays a session; the text of the job it leaves.
std::string played(const std::string& name) {
  const test::Scratch scratch;
  const std::string source = TICKOVER_SOURCE, program = TICKOVER_PROGRAM;
  test::run_shell("PATH=\"" + program.substr(0, program.rfind('/')) +
                  ":$PATH\" SOURCE_DATE_EPOCH=1772442000 TZ=UTC " + source + "/cases/play.sh " +
                  source + "/cases/" + name + ".session " + scratch.folder());
  return scratch.read(name + ".job");
}

double chance_in(const Case& given, std::size_t cause, const std::vector<double>& marginal) {
  const std::vector<LifeChance> ways = lives(given, cause);
  double sum = 0;
  for (std::size_t s = 0; s < ways.size(); ++s) {
    if (ways[s].life.in(given.now)) sum += marginal[s];
  }
  return sum;
}

/// Wider ones would take most of the test's time.
constexpr double kMostBytes = 32.0 * 1024 * 1024;

/// False when the network is too wide for one of the two.
bool compare(const Case& given, tables::Form form) {
  const Belief expected = infer(given);
  const tables::PlainNetwork plain = plain_network(given, form);
  const tables::FactorGraph graph = uai::read_network(uai::network_text(plain.graph), "job.uai");
  const auto observed =
      uai::read_evidence(uai::evidence_text(plain.observed), "job.evid", graph.cardinality);
  const tables::Posterior got = tables::infer(graph, observed, kMostBytes);
  if (got.need.too_wide || !expected.exact) return false;
  CHECK(got.log_evidence + plain.log_scale ==
        Approx(expected.log_evidence).epsilon(1e-11).margin(1e-11));
  for (std::size_t c = 0; c < expected.present_now.size(); ++c) {
    CHECK(std::abs(chance_in(given, c, got.marginals[c]) - expected.present_now[c]) < 1e-10);
  }
  return true;
}

}  // namespace

TEST_CASE("the worked jobs as plain tables, entry by entry", "[tables][cases]") {
  const JsonSchema schema(test::schema_text("job"));
  std::size_t compared = 0, all = 0;
  for (const std::string name : {"winter-four", "thinned-four", "hanging-twin"}) {
    const std::string text = played(name);
    for (std::size_t end = text.find('\n'); end != std::string::npos;
         end = text.find('\n', end + 1)) {
      CAPTURE(name, end);
      const Journal journal = parse_journal(text.substr(0, end + 1), schema, name);
      const Case given = test::diagnose(test::shipped_pack(), journal).given();
      for (const tables::Form form : {tables::Form::decomposed, tables::Form::full}) {
        if (form == tables::Form::full && journal.entries.size() % 3 != 0) continue;
        ++all;
        compared += compare(given, form);
      }
    }
  }
  CAPTURE(compared, all);
  CHECK(all > 50);
  CHECK(compared > all / 2);
}

}  // namespace tickover::tables_worked_jobs_test
