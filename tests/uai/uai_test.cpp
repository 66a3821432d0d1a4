/// @file
/// UAI text: what is written is read back the same, and what is wrong is told with its line.
#include "engine/uai/uai.hpp"

#include <catch2/catch.hpp>
#include <cstdint>

#include "engine/belief/tables/from_case.hpp"
#include "engine/foundation/error.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::uai_uai_test {
namespace {

using namespace belief::tables;

const std::string kGood = "BAYES\n2\n2 2\n2\n1 0\n2 0 1\n\n2\n 0.9 0.1\n\n4\n 0.8 0.2 0.3 0.7\n";

std::string with(const std::string& old, const std::string& text) {
  std::string changed = kGood;
  return changed.replace(changed.find(old), old.size(), text);
}

std::string network_error(const std::string& text) {
  try {
    uai::read_network(text, "net.uai");
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::data);
    return error.place() + ": " + error.rule();
  }
  return "none";
}

std::string evidence_error(const std::string& text) {
  try {
    uai::read_evidence(text, "net.evid", {2, 3});
  } catch (const InputError& error) {
    return error.place() + ": " + error.rule();
  }
  return "none";
}

}  // namespace

TEST_CASE("a network written and read back is the same to the bit", "[uai]") {
  for (std::uint64_t seed = 1; seed <= 200; ++seed) {
    CAPTURE(seed);
    const PlainNetwork plain =
        plain_network(test::random_case(seed), seed % 2 == 0 ? Form::full : Form::decomposed);
    const FactorGraph graph = uai::read_network(uai::network_text(plain.graph), "net.uai");
    REQUIRE(graph.cardinality == plain.graph.cardinality);
    REQUIRE(graph.factors.size() == plain.graph.factors.size());
    for (std::size_t f = 0; f < graph.factors.size(); ++f) {
      REQUIRE(graph.factors[f].scope == plain.graph.factors[f].scope);
      REQUIRE(graph.factors[f].values == plain.graph.factors[f].values);
    }
    const auto observed =
        uai::read_evidence(uai::evidence_text(plain.observed), "net.evid", graph.cardinality);
    REQUIRE(observed.size() == plain.observed.size());
    for (std::size_t i = 0; i < observed.size(); ++i) {
      REQUIRE(observed[i].variable == plain.observed[i].variable);
      REQUIRE(observed[i].state == plain.observed[i].state);
    }
  }
}

TEST_CASE("both forms of evidence, and a network of no rule", "[uai]") {
  CHECK(uai::read_evidence("2 0 1 1 2", "e", {2, 3}).size() == 2);
  CHECK(uai::read_evidence("1\n2 0 1 1 2\n", "e", {2, 3})[1].state == 2);
  CHECK(uai::read_evidence("0\n", "e", {2, 3}).empty());
  const FactorGraph graph =
      uai::read_network("MARKOV 1 2 3 0 1 0 1 0  1 0.5  2 3 4e2  2 0 0", "net.uai");
  CHECK(graph.factors[0].values == std::vector<double>{0.5});
  CHECK(graph.factors[1].values == std::vector<double>{3, 400});
}

TEST_CASE("what is wrong in a network is told with its line", "[uai]") {
  CHECK(network_error(kGood) == "none");
  CHECK(network_error("") == "net.uai:1: the text ends where BAYES or MARKOV is expected");
  CHECK(network_error(with("BAYES", "BAYESIAN")) ==
        "net.uai:1: 'BAYESIAN' stands where BAYES or MARKOV is expected");
  CHECK(network_error(with("2 2", "2 0")) ==
        "net.uai:3: '0' stands where the number of states of variable 1, a whole number from 1 to "
        "1000000 is expected");
  CHECK(network_error(with("2\n1 0", "3\n1 0")) ==
        "net.uai:4: '3' stands where the number of factors, a whole number equal to 2 is expected");
  CHECK(network_error(with("2 0 1", "2 0 2")) ==
        "net.uai:6: '2' stands where a variable of factor 1, a whole number from 0 to 1 is "
        "expected");
  CHECK(network_error(with("2 0 1", "2 1 1")) == "net.uai:6: variable 1 stands twice in factor 1");
  CHECK(network_error(with("2 0 1", "2 1 0")) ==
        "net.uai:6: variable 0 is the child, the last, of two factors");
  CHECK(network_error(with("\n4\n", "\n3\n")) ==
        "net.uai:11: '3' stands where the number of entries of factor 1, a whole number equal to 4 "
        "is expected");
  CHECK(network_error(with("0.9 0.1", "0.9 -0.1")) ==
        "net.uai:9: '-0.1' stands where an entry of factor 0, a number that is not negative is "
        "expected");
  CHECK(network_error(with("0.9 0.1", "nan 0.1")).find("'nan' stands where") != std::string::npos);
  CHECK(network_error(with("0.3 0.7", "0.3 0.6")) ==
        "net.uai:12: row 1 of factor 1 sums to 0.8999999999999999");
  CHECK(network_error(with(" 0.7", "")) ==
        "net.uai:13: the text ends where an entry of factor 1 is expected");
  CHECK(network_error(kGood + "1") == "net.uai:13: '1' stands where the end is expected");
  CHECK(network_error("BAYES 99999999999999999999").find("stands where the number of variables") !=
        std::string::npos);
  CHECK(network_error("MARKOV 3 1000000 1000000 1000000 1 3 0 1 2 1") ==
        "net.uai:1: factor 0 has too many entries");
}

TEST_CASE("what is wrong in the evidence is told with its line", "[uai]") {
  CHECK(evidence_error("2 0 1") == "net.evid:1: the text ends where a variable is expected");
  CHECK(evidence_error("") ==
        "net.evid:1: the text ends where the number of variables observed is expected");
  CHECK(evidence_error("1 2 0") ==
        "net.evid:1: '2' stands where a variable, a whole number from 0 to 1 is expected");
  CHECK(evidence_error("1 1\n3") ==
        "net.evid:2: '3' stands where the state of variable 1, a whole number from 0 to 2 is "
        "expected");
  CHECK(evidence_error("2 1 1 1 1") == "net.evid:1: variable 1 is observed twice");
  CHECK(evidence_error("1 1 1 1 1") == "net.evid:1: '1' stands where the end is expected");
}

TEST_CASE("no cut or changed text brings the reader down", "[uai]") {
  const PlainNetwork plain = plain_network(test::random_case(3), Form::decomposed);
  const std::string text = uai::network_text(plain.graph);
  test::Random random(11);
  for (int i = 0; i < 2000; ++i) {
    std::string changed = text.substr(0, 1 + random.below(text.size()));
    changed[random.below(changed.size())] = static_cast<char>(random.below(256));
    network_error(changed);
    evidence_error(changed);
  }
}

}  // namespace tickover::uai_uai_test
