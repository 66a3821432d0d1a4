/// @file
/// Answers printed elsewhere, and the loss of digits that made us leave the textbook sum.
#include <algorithm>
#include <boost/multiprecision/cpp_dec_float.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <iostream>

#include "engine/belief/infer.hpp"
#include "engine/belief/weigh.hpp"
#include "tests/support/random_case.hpp"

namespace tickover::belief_published_test {
namespace {

using namespace belief;

/// Enough digits for any cancellation met here.
using Long = boost::multiprecision::number<boost::multiprecision::cpp_dec_float<120>,
                                           boost::multiprecision::et_off>;

/// Fever from cold, flu and malaria, each certainly there or not.
/// Source: Russell & Norvig, Artificial Intelligence: A Modern Approach, chapter "Probabilistic
/// reasoning", noisy-OR example: inhibition 0.6, 0.2, 0.1; no leak.
Case fever(bool cold, bool flu, bool malaria) {
  Case c;
  c.network.own().causes = {{cold ? 1.0 : 0.0, 0}, {flu ? 1.0 : 0.0, 0}, {malaria ? 1.0 : 0.0, 0}};
  c.network.own().findings = {{{0.0}, {{0, {0.4}}, {1, {0.8}}, {2, {0.9}}}}};
  c.levels = {{0, 0, 1, 0}};
  return c;
}

struct FeverRow {
  bool cold, flu, malaria;
  double p_fever;
};

/// 80 causes, 130 findings of 3 to 10 links each: the size of a machine's fault model.
Network large_network(test::Random& random) {
  Network network;
  for (int i = 0; i < 80; ++i) network.causes.push_back({random.between(0.005, 0.08), 0});
  for (int i = 0; i < 130; ++i) {
    std::vector<std::size_t> causes(network.causes.size());
    for (std::size_t cause = 0; cause < causes.size(); ++cause) causes[cause] = cause;
    random.shuffle(causes);
    Finding finding{{random.between(0.0005, 0.02)}, {}};
    for (std::size_t link = 3 + random.below(8); link > 0; --link) {
      finding.links.push_back({causes[link], {random.between(0.1, 0.9)}});
    }
    network.findings.push_back(finding);
  }
  return network;
}

/// Draws from the network until exactly `present` findings are present; all findings are observed.
Case draw_case(test::Random& random, const Network& network, std::size_t present) {
  Case c{network, {}, {}, {}, {}, {}, 0};
  std::size_t count = 0;
  while (count != present) {
    const test::World world = test::simulate(random, c);
    c.levels.clear();
    count = 0;
    for (std::size_t finding = 0; finding < network.findings.size(); ++finding) {
      c.levels.push_back({finding, 0, world.level[finding][0], finding});
      count += world.level[finding][0];
    }
  }
  return c;
}

/// The textbook sum over subsets S of the present findings of (-1)^|S| P(S and all absent ones
/// silent). Source: Heckerman, A tractable inference algorithm for diagnosing multiple diseases,
/// UAI 1989.
template <class Real>
class Quickscore {
 public:
  explicit Quickscore(const Case& given) : given_(given), joint_(given.network->causes.size(), 0) {
    std::vector<Real> speak;  // prior times P(silent so far | present)
    for (const Cause& cause : given.network->causes) speak.push_back(Real(cause.prior));
    Real scale = 1;
    for (const LevelObservation& seen : given.levels) {
      if (seen.level == 0) silence(seen.finding, speak, scale);
      if (seen.level == 1) present_.push_back(seen.finding);
    }
    add(0, speak, scale);
  }

  /// P(cause present | e), as it comes out of the sum.
  std::vector<Real> marginals() const {
    std::vector<Real> result;
    for (const Real& joint : joint_) result.push_back(joint / total_);
    return result;
  }

 private:
  void silence(std::size_t finding, std::vector<Real>& speak, Real& scale) const {
    const Finding& f = given_.network->findings[finding];
    scale *= Real(1) - Real(f.leak[0]);
    for (const Link& link : f.links) speak[link.cause] *= Real(1) - Real(link.strength[0]);
  }

  /// Both choices for each present finding from the `next` on: out of the subset, or in it.
  void add(std::size_t next, std::vector<Real> speak, Real scale) {
    if (next == present_.size()) return add_term(speak, scale);
    add(next + 1, speak, scale);
    silence(present_[next], speak, scale);
    add(next + 1, speak, -scale);
  }

  void add_term(const std::vector<Real>& speak, const Real& scale) {
    std::vector<Real> after(speak.size() + 1, Real(1));  // product over the causes from here on
    for (std::size_t i = speak.size(); i > 0; --i) {
      after[i - 1] =
          after[i] * (speak[i - 1] + (Real(1) - Real(given_.network->causes[i - 1].prior)));
    }
    total_ += scale * after[0];
    Real before = scale;
    for (std::size_t i = 0; i < speak.size(); ++i) {
      joint_[i] += before * speak[i] * after[i + 1];
      before *= speak[i] + (Real(1) - Real(given_.network->causes[i].prior));
    }
  }

  const Case& given_;
  std::vector<std::size_t> present_;
  std::vector<Real> joint_;
  Real total_ = 0;
};

double worst_error(const std::vector<double>& got, const std::vector<Long>& expected) {
  double worst = 0;
  for (std::size_t i = 0; i < got.size(); ++i) {
    worst = std::max(worst, static_cast<double>(abs(Long(got[i]) - expected[i])));
  }
  return worst;
}

/// Largest errors of a marginal over some cases.
struct Errors {
  double engine = 0;
  double textbook = 0;

  void add(const Case& given) {
    const std::vector<Long> expected = Quickscore<Long>(given).marginals();
    engine = std::max(engine, worst_error(infer(given).present_now, expected));
    textbook = std::max(textbook, worst_error(Quickscore<double>(given).marginals(), expected));
  }
};

/// Errors over `cases` cases drawn for this number of present findings.
Errors study(std::size_t present, std::size_t cases) {
  test::Random random(1000 + present);
  const Network network = large_network(random);
  Errors errors;
  for (std::size_t i = 0; i < cases; ++i) errors.add(draw_case(random, network, present));
  return errors;
}

}  // namespace

TEST_CASE("noisy-OR: the fever table of Russell and Norvig", "[belief][published]") {
  const auto [cold, flu, malaria, p_fever] = GENERATE(values<FeverRow>({
      {false, false, false, 0},
      {false, false, true, 0.9},
      {false, true, false, 0.8},
      {false, true, true, 0.98},
      {true, false, false, 0.4},
      {true, false, true, 0.94},
      {true, true, false, 0.88},
      {true, true, true, 0.988},
  }));
  CAPTURE(cold, flu, malaria);
  const Case given = fever(cold, flu, malaria);
  CHECK(std::exp(log_evidence(given)) == Approx(p_fever).epsilon(1e-14));
  CHECK(infer(given).contradiction == (p_fever == 0));
}

TEST_CASE("weights of evidence in decibans", "[belief][published]") {
  // Source: Good, Probability and the Weighing of Evidence, 1950, chapter 6.
  const auto [factor, db] = GENERATE(table<double, double>(
      {{10, 10}, {100, 20}, {2, 3.0103}, {4, 6.0206}, {1.25, 0.9691}, {0.1 / 0.9, -9.5424}}));
  CAPTURE(factor);
  CHECK(decibans(factor) == Approx(db).margin(5e-5));
}

TEST_CASE("prior odds and weights add up to posterior odds", "[belief][published]") {
  // Prior 0.1, then factors 19 and 4: -9.5424 + 12.7875 + 6.0206 = 9.2657 dB, which is 76 to 9.
  Case c;
  c.network.own().causes = {{0.1, 0}};
  c.seen = {{0, 0, 0.95, 0.05, 1}, {0, 0, 0.8, 0.2, 2}};
  const std::vector<Weight> weights = weights_of_evidence(c, 0);
  REQUIRE(weights.size() == 2);
  CHECK(weights[0].source == 1);
  CHECK(weights[0].decibans == Approx(12.7875).margin(5e-5));
  CHECK(weights[1].source == 2);
  CHECK(weights[1].decibans == Approx(6.0206).margin(5e-5));
  CHECK(infer(c).present_at_start[0] == Approx(76.0 / 85).epsilon(1e-14));
}

TEST_CASE("large networks: marginals keep their digits", "[belief][published]") {
  // The reference is the alternating sum itself, in 120 digits.
  const std::size_t present = GENERATE(range<std::size_t>(4, 13));
  CAPTURE(present);
  const Errors errors = study(present, present < 11 ? 3 : 1);
  CHECK(errors.engine <= 1e-12);
}

TEST_CASE("what the textbook sum loses in double precision", "[.][measure]") {
  std::cout << "present  worst error of a marginal\n"
            << "         engine       textbook sum\n";
  for (std::size_t present = 4; present <= 12; ++present) {
    const Errors errors = study(present, 28);
    std::cout << present << "        " << errors.engine << "  " << errors.textbook << "\n";
    CHECK(errors.engine <= 1e-12);
  }
}

}  // namespace tickover::belief_published_test
