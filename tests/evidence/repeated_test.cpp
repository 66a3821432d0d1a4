/// @file
/// The same part read again: what the instrument errs is new, what the part is stays.
#include "engine/evidence/repeated.hpp"

#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>
#include <cmath>

#include "tests/support/small_pack.hpp"

namespace tickover::evidence_repeated_test {
namespace {

using boost::math::quadrature::gauss_kronrod;
using test::JobWriter;

using Curve = double ReadingLikelihood::*;
constexpr Curve kCurves[] = {&ReadingLikelihood::still, &ReadingLikelihood::low,
                             &ReadingLikelihood::high, &ReadingLikelihood::both};

/// A float: wanted 17.5 mm within 1 mm, measured to 0.4 mm.
const ReadingModel kFloat{17.5, 1.0, 0.4, 1.5, 1.2, 2, 40, 0.05};

double normal(double x, double deviation) {
  const double z = x / deviation;
  return std::exp(-z * z / 2) / (deviation * std::sqrt(8 * std::atan(1.0)));
}

/// From the words: the true value's density times that of each reading, summed in fine pieces.
double brute_force(const ReadingModel& r, const std::vector<double>& values, int side) {
  const auto f = [&](double truth) {
    const double way = side * (truth - r.wanted) - r.tolerance;
    const double shift = side < 0 ? r.shift_low : r.shift_high;
    double density = side == 0 ? normal(truth - r.wanted, r.tolerance / 2)
                     : way > 0 ? std::exp(-way / shift) / shift
                               : 0;
    for (const double value : values) {
      density *= (1 - r.slip) * normal(value - truth, r.instrument) +
                 r.slip / (r.plausible_high - r.plausible_low);
    }
    return density;
  };
  double sum = 0;  // the limits 16.5 and 18.5 lie on the cuts
  for (double at = -60; at < 100; at += 0.5) {
    sum += gauss_kronrod<double, 15>::integrate(f, at, at + 0.5, 3, 1e-9);
  }
  return sum;
}

double decibans(double ratio) { return 10 * std::log10(ratio); }

}  // namespace

TEST_CASE("repeated readings agree with the integral over the true value",
          "[evidence][repeated][independent]") {
  for (const std::vector<double>& values : {std::vector<double>{19.5},
                                            {19.5, 19.4},
                                            {17.2, 17.9},
                                            {19.5, 17.4},
                                            {14.6, 14.9, 15.2},
                                            {17.5, 35, 17.3},
                                            {19.8, 19.9, 20.1, 19.7, 20.0}}) {
    CAPTURE(values);
    const ReadingLikelihood joint = joint_density(kFloat, values);
    CHECK(joint.still == Approx(brute_force(kFloat, values, 0)).epsilon(1e-7));
    CHECK(joint.low == Approx(brute_force(kFloat, values, -1)).epsilon(1e-7));
    CHECK(joint.high == Approx(brute_force(kFloat, values, +1)).epsilon(1e-7));
    CHECK(joint.both == Approx((joint.low + joint.high) / 2));
  }
}

TEST_CASE("the joint density of two readings integrates to 1",
          "[evidence][repeated][independent]") {
  ReadingModel sharp = kFloat;
  sharp.slip = 0;
  for (const Curve curve : kCurves) {
    const auto second = [&](double first) {
      double sum = 0;
      for (double at = first - 4; at < first + 4; at += 0.1) {
        sum += 0.1 * joint_density(sharp, {first, at + 0.05}).*curve;
      }
      return sum;
    };
    double sum = 0;
    for (double at = -5; at < 45; at += 0.1) sum += 0.1 * second(at + 0.05);
    CHECK(sum == Approx(1).epsilon(1e-3));
  }
}

TEST_CASE("readings that agree are one of a finer instrument", "[evidence][repeated]") {
  ReadingModel sharp = kFloat;
  sharp.slip = 0;
  for (const double value : {15.5, 16.6, 17.5, 18.6, 19.5, 21.0}) {
    for (const std::size_t times : {2U, 4U, 9U}) {
      CAPTURE(value, times);
      ReadingModel finer = sharp;
      finer.instrument = sharp.instrument / std::sqrt(static_cast<double>(times));
      const ReadingLikelihood joint = joint_density(sharp, std::vector<double>(times, value));
      const ReadingLikelihood once = likelihood(finer, value);
      CHECK(joint.high / joint.still == Approx(once.high / once.still).epsilon(1e-6).margin(1e-9));
      CHECK(joint.low / joint.still == Approx(once.low / once.still).epsilon(1e-6).margin(1e-9));
    }
  }
  // so a value between the states leaves them undecided, however often it is read
  const ReadingLikelihood joint = joint_density(kFloat, std::vector<double>(12, 18.6));
  const ReadingLikelihood first = likelihood(kFloat, 18.6);
  CHECK(decibans(joint.high / joint.still) < 10);
  CHECK(12 * decibans(first.high / first.still) > 10);
}

TEST_CASE("readings that agree shut out the slip of one", "[evidence][repeated]") {
  const double alone = decibans(likelihood(kFloat, 35).high / likelihood(kFloat, 35).still);
  const ReadingLikelihood joint = joint_density(kFloat, {35, 17.4, 17.6});
  CHECK(joint.high < joint.still);
  CHECK(alone > decibans(joint.high / joint.still));
}

TEST_CASE("what repeated readings add makes up the whole, in any order, within the cap",
          "[evidence][repeated]") {
  const std::vector<double> values = {19.2, 2.0, 18.9, 39.0, 17.0};
  std::vector<double> turned(values.rbegin(), values.rend());
  for (const Curve curve : kCurves) {
    double product = 1;
    for (const ReadingLikelihood& one : repeated_likelihoods(kFloat, values)) product *= one.*curve;
    CHECK(product == Approx(joint_density(kFloat, values).*curve).epsilon(1e-12));
    CHECK(joint_density(kFloat, turned).*curve ==
          Approx(joint_density(kFloat, values).*curve).epsilon(1e-7));
  }
  for (const ReadingLikelihood& one : repeated_likelihoods(kFloat, values)) {
    for (const Curve a : kCurves) {
      for (const Curve b : kCurves) {
        CHECK(decibans(one.*a / one.*b) <= cap_decibans(kFloat) + 1e-9);
      }
    }
  }
}

TEST_CASE("a height read three times is one float", "[evidence][repeated]") {
  const auto low = [](int times, bool repaired) {
    JobWriter job(test::shipped_sheet("four-inline"));
    job.record("idle-hunts", "clear");
    for (int i = 0; i < times; ++i) {
      if (repaired && i > 0) job.repair("renew-intake-rubber", {3});  // does not touch the float
      job.record("float-height", "19.2 mm", {2});
    }
    const Diagnosis diagnosis = test::diagnose(job);
    const double p =
        diagnosis.infer()
            .present_at_start[test::cause_instance(diagnosis.model(), "float-level-low@2")];
    return decibans(p / (1 - p));
  };
  const double first = low(1, false) - low(0, false);
  CHECK(low(3, false) > low(1, false));          // less likely a slip
  CHECK(low(3, false) - low(1, false) < first);  // but no second and third witness
  CHECK(low(2, true) - low(1, false) < first / 2);
}

TEST_CASE("the same pipe sampled again is one pipe", "[evidence][repeated][gas]") {
  const std::string sample = "CO 0.3% CO2 13.0% HC 180ppm O2 2.6%";
  JobWriter once(test::shipped_sheet("four-inline"));
  once.record("idle-hunts", "clear").record("exhaust-gas", sample, {2});
  JobWriter twice = once;
  twice.record("exhaust-gas", sample, {2});
  const Diagnosis job = test::diagnose(twice);
  REQUIRE(job.evidence().replaced.size() == 1);
  CHECK(job.evidence().replaced.front().entry == 3);
  CHECK(job.evidence().replaced.front().by == 4);
  const belief::Belief got = job.infer(), expected = test::diagnose(once).infer();
  for (std::size_t c = 0; c < expected.present_now.size(); ++c) {
    CHECK(got.present_now[c] == Approx(expected.present_now[c]).epsilon(1e-12));
  }
  twice.record("exhaust-gas", sample, {2, 3});  // another pipe
  CHECK(test::diagnose(twice).evidence().replaced.size() == 1);
}

}  // namespace tickover::evidence_repeated_test
