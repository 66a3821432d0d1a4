/// @file
/// Exhaust gas as evidence: how it is written, its lambda with error, and what it speaks for.
#include "engine/evidence/exhaust_sample.hpp"

#include <fmt/format.h>

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <random>

#include "engine/evidence/foresee.hpp"
#include "engine/foundation/error.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::evidence_exhaust_sample_test {
namespace {

using boost::math::quadrature::gauss_kronrod;
using test::JobWriter;

const pack::Finding& gas_finding() {
  const pack::Pack& pack = test::shipped_pack();
  return pack.findings[*pack::find(pack.findings, "exhaust-gas")];
}

std::string refusal(const std::string& text) {
  try {
    parse_exhaust_sample(gas_finding(), text);
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::usage);
    return error.rule() + " | " + error.hint();
  }
  return {};
}

double normal(double x, double deviation) {
  const double z = x / deviation;
  return std::exp(-z * z / 2) / (deviation * std::sqrt(8 * std::atan(1.0)));
}

/// The true lambda's density, the state in words: within the tolerance, or beyond it.
double of_truth(const ReadingModel& m, double truth, bool rich, bool lean) {
  const double low = m.wanted - m.tolerance - truth, high = truth - m.wanted - m.tolerance;
  if (!rich && !lean) return normal(truth - m.wanted, m.tolerance / 2);
  const double as_rich = low > 0 ? std::exp(-low / m.shift_low) / m.shift_low : 0;
  const double as_lean = high > 0 ? std::exp(-high / m.shift_high) / m.shift_high : 0;
  return rich && lean ? (as_rich + as_lean) / 2 : rich ? as_rich : as_lean;
}

/// Density of the sample, truth and thinning both integrated out piece by piece.
double brute_force(const SampleModel& model, const SampleLambda& sample, const Moved& moved) {
  const ReadingModel& m = model.mixture;
  const double lambda = std::sqrt(sample.error * sample.error + m.instrument * m.instrument);
  const double undiluted =
      std::sqrt(sample.undiluted_error * sample.undiluted_error + m.instrument * m.instrument);
  const auto at_truth = [&](double truth) {
    const double prior = of_truth(m, truth, moved.rich > 0, moved.lean > 0);
    if (!(prior > 0)) return 0.0;
    const double burnt = normal(sample.undiluted - (truth < 1 ? truth : 1), undiluted);
    if (moved.thinned == 0) return prior * burnt * normal(sample.lambda - truth, lambda);
    const auto f = [&](double rise) {
      return std::exp(-rise / model.thinning) / model.thinning *
             normal(sample.lambda - truth - rise, lambda);
    };
    const double likely = sample.lambda - truth, from = std::max(likely - 9 * lambda, 0.0);
    const double to = likely + 9 * lambda;
    if (!(to > from)) return 0.0;
    return prior * burnt * gauss_kronrod<double, 61>::integrate(f, from, to, 5, 1e-10);
  };
  double sum = 0;
  for (double at = 0.4; at < 2.6; at += 0.01) {  // the limits and 1 lie on the cuts
    sum += gauss_kronrod<double, 15>::integrate(at_truth, at, at + 0.01, 4, 1e-9);
  }
  return (1 - m.slip) * sum +
         m.slip / ((m.plausible_high - m.plausible_low) * (1 - m.plausible_low));
}

SampleModel cylinder_model() {
  SampleModel model;
  model.mixture = {0.92, 0.04, 0.015, 0.05, 0.07, 0.6, 2.5, 0.06};
  model.thinning = 0.1;
  return model;
}

SampleLambda sample(double co, double co2, double o2, double hc_ppm) {
  return parse_exhaust_sample(gas_finding(),
                              fmt::format("CO {}% CO2 {}% HC {}ppm O2 {}%", co, co2, hc_ppm, o2));
}

/// Likelihood ratio of a way being at work against none.
double speaks_for(const SampleLambda& seen, const Moved& moved) {
  return sample_density(cylinder_model(), seen, 1, moved) /
         sample_density(cylinder_model(), seen, 1, {});
}

constexpr Moved kRich{1, 0, 0}, kLean{0, 1, 0}, kThinned{0, 0, 1};

JobWriter four() {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear");
  return job;
}

double now(const JobWriter& job, const std::string& cause) {
  const Diagnosis diagnosis = test::diagnose(job);
  return diagnosis.infer().present_now[test::cause_instance(diagnosis.model(), cause)];
}

const char* const kConsistentLean = "CO 0.3% CO2 13.0% HC 180ppm O2 2.6%";
const char* const kThinnedRich = "CO 2.7% CO2 12.3% HC 180ppm O2 2.1%";

}  // namespace

// Vectors of the domain notes, 3.1: default constants, K1 = 6, NO = 0. Recomputed from the formula.
TEST_CASE("a sample's lambda is that of the regression vectors", "[evidence][gas][published]") {
  CHECK(sample(0.50, 14.70, 0.50, 100).lambda == Approx(1.0047).margin(5e-5));
  CHECK(sample(3.00, 12.80, 0.60, 250).lambda == Approx(0.9321).margin(5e-5));
  CHECK(sample(0.30, 13.00, 2.60, 180).lambda == Approx(1.1184).margin(5e-5));
  CHECK(sample(0.15, 10.80, 5.80, 900).lambda == Approx(1.3021).margin(5e-5));
}

TEST_CASE("gases are read in any order and spelling", "[evidence][gas]") {
  const double expected = sample(0.3, 13, 2.6, 180).lambda;
  for (const char* text :
       {"O2 2.6% HC 180ppm CO2 13% CO 0.3%", "co=0.3% co2=13% hc=180ppm o2=2.6%",
        "CO: 0.3 %, CO2: 13 %, HC: 180 ppm, O2: 2.6 %", "CO 3000ppm CO2 13 % HC 0.018% O2 2,6%"}) {
    CAPTURE(text);
    CHECK(parse_exhaust_sample(gas_finding(), text).lambda == Approx(expected));
  }
  CHECK(
      parse_exhaust_sample(gas_finding(), "CO 0.3% CO2 13% HC 180ppm O2 2.6% NOx 1000ppm").lambda >
      expected);
}

TEST_CASE("a sample that cannot be is refused with what would be right",
          "[evidence][gas][errors]") {
  CHECK_THAT(refusal("CO 3% CO2 1.2% HC 200ppm O2 1%"),
             Catch::Contains("CO2: it cannot be 1.2 %") && Catch::Contains("did you mean 12 %?"));
  CHECK_THAT(refusal("CO 3% CO2 12% HC 200% O2 1%"), Catch::Contains("did you mean 200 ppm?"));
  CHECK_THAT(refusal("CO 3% CO2 12% O2 1%"), Catch::Contains("HC is missing"));
  CHECK_THAT(refusal("CO 3% CO 2% CO2 12% HC 9ppm O2 1%"), Catch::Contains("CO is given twice"));
  CHECK_THAT(refusal("CO 3% CO3 12% HC 200ppm O2 1%"), Catch::Contains("no gas named 'CO3'"));
  CHECK_THAT(refusal("CO 3% CO2 12% HC 200 O2 1%"),
             Catch::Contains("HC: '200' has no unit") && Catch::Contains("such as 200 ppm"));
  CHECK_THAT(refusal("CO 3mm CO2 12% HC 200ppm O2 1%"), !Catch::Equals(""));
  CHECK_THAT(refusal("CO CO2 12% HC 200ppm O2 1%"), Catch::Contains("the value of CO is missing"));
  CHECK_THAT(refusal("3% CO2 12%"), Catch::Contains("'3%' follows no gas"));
  CHECK_THAT(refusal(""), Catch::Contains("CO is missing"));
}

TEST_CASE("gases that do not fit each other are to be confirmed", "[evidence][gas]") {
  CHECK_FALSE(needs_confirmation(sample(3, 12.8, 0.6, 250)));
  CHECK_FALSE(needs_confirmation(sample(2.7, 12.34, 2.09, 50)));  // air thins all alike
  CHECK(needs_confirmation(sample(3, 6, 0.6, 250)));              // a dead CO2 cell
}

TEST_CASE("the error of lambda is what the errors of the cells make of it",
          "[evidence][gas][independent]") {
  std::mt19937_64 random(7);
  std::normal_distribution<double> deviate;
  const std::vector<double> given = {2.0, 12.9, 180, 1.2};  // CO, CO2, HC, O2
  std::vector<double> lambdas, undiluted;
  for (int i = 0; i < 4000; ++i) {
    std::vector<double> noisy = given;
    for (std::size_t g = 0; g < given.size(); ++g) {
      const pack::Gas& gas = gas_finding().gases[g];
      noisy[g] += std::hypot(gas.instrument, gas.relative * given[g]) * deviate(random);
    }
    const SampleLambda one = sample(noisy[0], noisy[1], noisy[3], noisy[2]);
    lambdas.push_back(one.lambda);
    undiluted.push_back(one.undiluted);
  }
  const auto deviation = [](const std::vector<double>& values) {
    double sum = 0, squares = 0;
    for (const double v : values) sum += v, squares += v * v;
    const double n = static_cast<double>(values.size()), mean = sum / n;
    return std::sqrt(squares / n - mean * mean);
  };
  const SampleLambda stated = sample(given[0], given[1], given[3], given[2]);
  CHECK(stated.error == Approx(deviation(lambdas)).epsilon(0.1));
  CHECK(stated.undiluted_error == Approx(deviation(undiluted)).epsilon(0.1));
}

TEST_CASE("the density of a sample agrees with nested quadrature", "[evidence][gas][independent]") {
  const SampleModel model = cylinder_model();
  for (const SampleLambda& seen : {sample(3, 12.8, 0.6, 250), sample(0.3, 13, 2.6, 180),
                                   sample(2.7, 12.34, 2.09, 50), sample(0.15, 10.8, 5.8, 900)}) {
    for (std::size_t state = 0; state < 8; ++state) {
      CAPTURE(seen.lambda, state);
      const Moved moved{state & 1, state >> 1 & 1, state >> 2 & 1};
      CHECK(sample_density(model, seen, 1, moved) ==
            Approx(brute_force(model, seen, moved)).epsilon(1e-6));
    }
  }
}

TEST_CASE("the density of a sample integrates to 1", "[evidence][gas][independent]") {
  SampleModel model = cylinder_model();
  model.mixture.slip = 0;
  for (const Moved& moved : {Moved{}, kRich, kLean, kThinned, Moved{1, 1, 1}}) {
    double sum = 0;
    constexpr double kStep = 0.01;
    for (double lambda = 0.3; lambda < 3; lambda += kStep) {
      for (double undiluted = 0.3; undiluted < 1.15; undiluted += kStep) {
        sum += sample_density(model, {lambda, 0.01, undiluted, 0.01}, 1, moved) * kStep * kStep;
      }
    }
    CHECK(sum == Approx(1).epsilon(2e-3));
  }
}

TEST_CASE("a consistent lean sample speaks for lean, a rich one for rich", "[evidence][gas]") {
  const SampleLambda lean = sample(0.3, 13.0, 2.6, 180);
  CHECK_FALSE(lean.doubtful);
  CHECK(speaks_for(lean, kLean) > 100);
  CHECK(speaks_for(lean, kLean) > 10 * speaks_for(lean, kThinned));
  CHECK(speaks_for(lean, kRich) < 1.1);
  const SampleLambda rich = sample(6, 11.2, 0.4, 300);
  CHECK(speaks_for(rich, kRich) > 10);
  CHECK(speaks_for(rich, kLean) < 1.1);
  const SampleLambda right = sample(3, 13.1, 0.3, 150);
  for (const Moved& moved : {kRich, kLean, kThinned}) CHECK(speaks_for(right, moved) < 1);
}

// The published dilution series of the domain notes, 3.1: true lambda 0.919 and 5, 10, 20 % air.
TEST_CASE("outside air speaks for thinning and not for lean", "[evidence][gas][published]") {
  for (const double air : {0.05, 0.10, 0.20}) {
    CAPTURE(air);
    const SampleLambda seen = sample(3.0 * (1 - air), 13.71 * (1 - air), 20.95 * air, 0);
    const double thinned = speaks_for(seen, kThinned);
    CHECK(thinned > 1);
    CHECK(speaks_for(seen, kLean) < thinned / 2);
    const double lean_too = sample_density(cylinder_model(), seen, 1, {0, 1, 1}) /
                            sample_density(cylinder_model(), seen, 1, kThinned);
    CHECK(lean_too < 1);  // once the air is known, the sample speaks against lean
    if (air >= 0.10) {
      CHECK(thinned > 100);
      CHECK(seen.doubtful);
    }
  }
}

TEST_CASE("no sample does more than the slips allow", "[evidence][gas]") {
  const SampleModel model = cylinder_model();
  const ReadingModel& m = model.mixture;
  const double floor = m.slip / ((m.plausible_high - m.plausible_low) * (1 - m.plausible_low));
  for (double lambda = 0.61; lambda < 2.5; lambda += 0.1) {
    for (double undiluted = 0.61; undiluted < 1.05; undiluted += 0.1) {
      const SampleLambda seen{lambda, 0.005, undiluted, 0.005};
      for (std::size_t state = 0; state < 8; ++state) {
        const double density =
            sample_density(model, seen, 1, {state & 1, state >> 1 & 1, state >> 2 & 1});
        CHECK(density >= floor);
        CHECK(10 * std::log10(density / floor) <= cap_decibans(gas_finding()));
        CHECK(density <= floor + 1 / (8 * std::atan(1.0) * m.instrument * m.instrument));
      }
    }
  }
}

TEST_CASE("a lean sample blames its own cylinder, a thinned one the exhaust", "[evidence][gas]") {
  const JobWriter before = four();
  JobWriter lean = four(), thinned = four();
  lean.record("exhaust-gas", kConsistentLean, {2});
  thinned.record("exhaust-gas", kThinnedRich, {2});
  CHECK(now(lean, "pilot-jet-blocked@2") > 2 * now(before, "pilot-jet-blocked@2"));
  CHECK(now(lean, "pilot-jet-blocked@3") < now(before, "pilot-jet-blocked@3"));
  CHECK(now(lean, "exhaust-joint-leak@2") < 2 * now(before, "exhaust-joint-leak@2"));
  CHECK(now(thinned, "exhaust-joint-leak@2") > 5 * now(before, "exhaust-joint-leak@2"));
  CHECK(now(thinned, "pilot-jet-blocked@2") < 1.05 * now(before, "pilot-jet-blocked@2"));
}

TEST_CASE("a pipe shared by two tells of both alike", "[evidence][gas]") {
  const JobWriter before = four();
  JobWriter shared = four();
  shared.record("exhaust-gas", kConsistentLean, {1, 2});
  CHECK(now(shared, "pilot-jet-blocked@1") > 1.3 * now(before, "pilot-jet-blocked@1"));
  CHECK(now(shared, "pilot-jet-blocked@1") == Approx(now(shared, "pilot-jet-blocked@2")));
  CHECK(now(shared, "pilot-jet-blocked@3") < now(before, "pilot-jet-blocked@3"));
  JobWriter too_many = four();
  too_many.record("exhaust-gas", kConsistentLean, {1, 2, 3, 4});
  CHECK_THROWS_AS(test::diagnose(too_many), InputError);
}

TEST_CASE("the whole engine's gas takes the place of its CO alone", "[evidence][gas]") {
  JobWriter both = four(), one = four();
  both.record("idle-co", "0.5 %").record("tailpipe-gas", kConsistentLean);
  one.record("tailpipe-gas", kConsistentLean);
  const Diagnosis job = test::diagnose(both);
  REQUIRE(job.evidence().replaced.size() == 1);
  CHECK(job.evidence().replaced.front().by == 4);
  CHECK(now(both, "pilot-jet-blocked@1") == Approx(now(one, "pilot-jet-blocked@1")));
}

TEST_CASE("what a reading may show is foreseen as probabilities", "[evidence][gas][siblings]") {
  const Diagnosis job = test::diagnose(four());
  const Model& model = job.model();
  std::size_t seen = 0;
  for (std::size_t i = 0; i < model.findings.size(); ++i) {
    if (model.pack.findings[model.findings[i].finding].kind != pack::Kind::reading) continue;
    CAPTURE(model.findings[i].id);
    const std::vector<ForeseenReading> sides = foresee(model, i);
    for (std::size_t set = 0; set < sides.front().likelihood.table.size(); ++set) {
      double sum = 0;
      for (const ForeseenReading& side : sides) sum += side.likelihood.table[set];
      CHECK(sum == Approx(1));
    }
    ++seen;
  }
  CHECK(seen > 30);
}

}  // namespace tickover::evidence_exhaust_sample_test
