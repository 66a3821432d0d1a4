/// @file
/// Readings judged by each other: against a brute-force integration, and what must hold of them.
#include "engine/evidence/siblings.hpp"

#include <algorithm>
#include <boost/math/quadrature/gauss_kronrod.hpp>
#include <catch2/catch.hpp>
#include <cmath>
#include <numeric>

#include "tests/support/small_pack.hpp"

namespace tickover::evidence_siblings_test {
namespace {

using boost::math::quadrature::gauss_kronrod;
using test::Cylinders;
using test::JobWriter;

double normal(double x, double deviation) {
  const double z = x / deviation;
  return std::exp(-z * z / 2) / (deviation * std::sqrt(8 * std::atan(1.0)));
}

/// Density of one reading at a known level, straight from the words: the moved place lies beyond
/// the tolerance by an exponential way, which is convolved with the instrument by quadrature.
double by_the_words(const SiblingModel& s, double value, double level, bool moved) {
  const ReadingModel& p = s.place;
  const double slipped = p.slip / (p.plausible_high - p.plausible_low);
  if (!moved) {
    const double spread = std::sqrt(p.tolerance * p.tolerance / 4 + p.instrument * p.instrument);
    return (1 - p.slip) * normal(value - level, spread) + slipped;
  }
  const double side = s.moved_low ? -1 : 1, shift = s.moved_low ? p.shift_low : p.shift_high;
  const double start = level + side * p.tolerance;
  const auto f = [&](double way) {
    return std::exp(-way / shift) / shift * normal(value - start - side * way, p.instrument);
  };
  const double likely = side * (value - start), reach = 9 * p.instrument;
  const double from = std::max(likely - reach, 0.0), to = likely + reach;
  const double sum = to > from ? gauss_kronrod<double, 61>::integrate(f, from, to, 6, 1e-11) : 0;
  return (1 - p.slip) * sum + slipped;
}

/// The joint density for a set of moved places, the level being uniform over the plausible range or
/// normal about the sheet's value: nested adaptive quadrature, piece by piece.
double brute_force(const SiblingModel& s, const std::vector<double>& values, std::size_t set) {
  const auto f = [&](double level) {
    double product = s.level_known ? normal(level - s.level, s.level_deviation)
                                   : 1 / (s.place.plausible_high - s.place.plausible_low);
    for (std::size_t i = 0; i < values.size(); ++i) {
      product *= by_the_words(s, values[i], level, (set >> i & 1) != 0);
    }
    return product;
  };
  const double from = s.level_known ? s.level - 9 * s.level_deviation : s.place.plausible_low;
  const double to = s.level_known ? s.level + 9 * s.level_deviation : s.place.plausible_high;
  double sum = 0;
  for (double at = from; at < to; at += 1) {
    sum += gauss_kronrod<double, 15>::integrate(f, at, std::min(at + 1, to), 3, 1e-9);
  }
  return sum;
}

/// Vacuum gauges, in kPa; the plausible range is so wide that its ends do not matter.
SiblingModel gauges(bool low = true) {
  SiblingModel s;
  s.place = {0, 1.4, 0.4, low ? 3.2 : 0, low ? 0 : 3.2, -100, 160, 0.04};
  s.moved_low = low;
  return s;
}

void check_against_brute_force(const SiblingModel& s, const std::vector<double>& values,
                               const std::vector<std::size_t>& sets) {
  CAPTURE(values);
  const std::vector<double> table = sibling_likelihood(s, values);
  REQUIRE(table.size() == std::size_t{1} << values.size());
  for (const std::size_t set : sets) {
    CAPTURE(set);
    CHECK(table[set] == Approx(brute_force(s, values, set)).epsilon(1e-7));
  }
}

std::vector<std::size_t> all_sets(std::size_t places) {
  std::vector<std::size_t> sets(std::size_t{1} << places);
  std::iota(sets.begin(), sets.end(), std::size_t{0});
  return sets;
}

/// P(place i moved) when each is moved with that probability before.
std::vector<double> posterior(const std::vector<double>& table, std::size_t places, double prior) {
  std::vector<double> sums(places, 0);
  double total = 0;
  for (std::size_t set = 0; set < table.size(); ++set) {
    double weight = table[set];
    for (std::size_t i = 0; i < places; ++i) weight *= (set >> i & 1) != 0 ? prior : 1 - prior;
    total += weight;
    for (std::size_t i = 0; i < places; ++i) sums[i] += (set >> i & 1) != 0 ? weight : 0;
  }
  for (double& sum : sums) sum /= total;
  return sums;
}

belief::Belief belief_of(const JobWriter& job) { return test::diagnose(job).infer(); }

double now(const JobWriter& job, const std::string& cause) {
  const Diagnosis diagnosis = test::diagnose(job);
  return diagnosis.infer().present_now[test::cause_instance(diagnosis.model(), cause)];
}

JobWriter four() {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear");
  return job;
}

}  // namespace

TEST_CASE("two, three, four and six siblings agree with nested quadrature",
          "[evidence][siblings][independent]") {
  check_against_brute_force(gauges(), {28, 27.6}, all_sets(2));
  check_against_brute_force(gauges(), {28, 22}, all_sets(2));
  check_against_brute_force(gauges(), {28, 23.5, 27.4}, all_sets(3));
  check_against_brute_force(gauges(), {28, 27.5, 22, 28.3}, all_sets(4));  // one odd
  check_against_brute_force(gauges(), {28, 28.4, 22, 22.5}, all_sets(4));  // half and half
  check_against_brute_force(gauges(), {28, 28.4, 22, 22.5, 27.9, 28.1}, {0, 4, 8, 12, 51, 63});
  check_against_brute_force(gauges(false), {28, 27.5, 34, 28.3}, {0, 1, 4, 5, 11, 15});
}

TEST_CASE("siblings about a sheet's value agree with nested quadrature",
          "[evidence][siblings][independent]") {
  SiblingModel s = gauges();
  s.level_known = true;
  s.level = 27;
  s.level_deviation = 1.5;
  check_against_brute_force(s, {23}, all_sets(1));
  check_against_brute_force(s, {28, 22}, all_sets(2));
  check_against_brute_force(s, {20, 20.5, 26.5}, all_sets(3));
}

TEST_CASE("the joint density integrates to 1", "[evidence][siblings][independent]") {
  const SiblingModel s = gauges();
  for (const std::size_t set : all_sets(2)) {
    CAPTURE(set);
    // given the first reading, which is as likely as any other, the second is a density
    const auto f = [&](double second) { return sibling_likelihood(s, {30, second})[set]; };
    double sum = 0;
    for (double at = -100; at < 160; at += 2) {
      sum += gauss_kronrod<double, 15>::integrate(f, at, at + 2, 3, 1e-9);
    }
    CHECK(sum * 260 == Approx(1).epsilon(1e-5));
  }
}

TEST_CASE("one reading alone tells nothing, whatever it is", "[evidence][siblings]") {
  for (const double value : {-99.0, 0.0, 28.0, 159.0}) {
    const std::vector<double> table = sibling_likelihood(gauges(), {value});
    CHECK(table[0] == table[1]);
    // the shortcut is what the integral says
    const std::vector<double> pair = sibling_likelihood(gauges(), {value, value + 20});
    CHECK(pair[0] > 0);
  }
  const belief::Belief before = belief_of(four());
  const belief::Belief after = belief_of(four().record("idle-vacuum", "19 kPa", {2}));
  for (std::size_t c = 0; c < before.present_now.size(); ++c) {
    CHECK(after.present_now[c] == Approx(before.present_now[c]).epsilon(1e-12));
  }
}

TEST_CASE("only differences count", "[evidence][siblings]") {
  const std::vector<double> here = sibling_likelihood(gauges(), {28, 22, 27}),
                            there = sibling_likelihood(gauges(), {48, 42, 47});
  for (std::size_t set = 0; set < here.size(); ++set) {
    CHECK(there[set] == Approx(here[set]).epsilon(1e-9));
  }
}

TEST_CASE("one odd cylinder is found among two, three, four and six", "[evidence][siblings]") {
  for (const std::size_t places : {2U, 3U, 4U, 6U}) {
    CAPTURE(places);
    std::vector<double> values(places, 28);
    values[1] = 22;
    const std::vector<double> p = posterior(sibling_likelihood(gauges(), values), places, 0.05);
    for (std::size_t i = 0; i < places; ++i) {
      CAPTURE(i);
      if (i == 1) {
        CHECK(p[i] > 0.9);
      } else {
        CHECK(p[i] < 0.05);
      }
    }
  }
}

// Two slips or two moved places explain it; which, is for the priors to say.
TEST_CASE("half and half leaves both explanations open", "[evidence][siblings]") {
  const std::vector<double> table = sibling_likelihood(gauges(), {28, 28, 22, 22});
  const std::vector<double> often = posterior(table, 4, 0.1), seldom = posterior(table, 4, 1e-5);
  for (const std::size_t low : {2U, 3U}) {
    CHECK(often[low] > 0.9);
    CHECK(often[low - 2] < 0.05);
    CHECK(seldom[low] < 0.05);
  }
  CHECK(often[2] == Approx(often[3]).epsilon(1e-9));
  // with the other direction the other half stands out
  const std::vector<double> high =
      posterior(sibling_likelihood(gauges(false), {28, 28, 22, 22}), 4, 0.1);
  CHECK(high[0] > 0.9);
  CHECK(high[2] < 0.05);
}

TEST_CASE("all moved alike does not stand out", "[evidence][siblings]") {
  const std::vector<double> table = sibling_likelihood(gauges(), {22, 22.3, 21.8, 22.1});
  for (const double p : posterior(table, 4, 0.05)) CHECK(p < 0.05);
  // three moved and one not would be seen; all four would not
  CHECK(table[15] > 5 * table[7]);
}

TEST_CASE("no reading among siblings does more than its cap", "[evidence][siblings]") {
  const SiblingModel s = gauges();
  const double cap = std::pow(10, cap_decibans(s.place) / 10);
  for (const double wild : {-90.0, -20.0, 0.0, 15.0, 26.0, 28.0, 40.0, 150.0}) {
    const std::vector<double> table = sibling_likelihood(s, {28, 27.5, wild, 28.2});
    for (std::size_t set = 0; set < table.size(); ++set) {
      for (std::size_t i = 0; i < 4; ++i) {
        if ((set >> i & 1) != 0) continue;
        const double ratio = table[set | std::size_t{1} << i] / table[set];
        CHECK(ratio <= cap);
        CHECK(ratio >= 1 / cap);
      }
    }
  }
}

TEST_CASE("the further below its siblings the more it speaks, up to the tail",
          "[evidence][siblings]") {
  double before = 0;
  int turns = 0;
  bool falling = false;
  for (double value = 28; value > -60; value -= 0.25) {
    const std::vector<double> table = sibling_likelihood(gauges(), {28, 28.2, 27.9, value});
    const double speaks = table[8] / table[0];
    if (falling && speaks > before * (1 + 1e-9)) ++turns;
    falling = speaks < before * (1 - 1e-9);
    before = speaks;
  }
  CHECK(turns == 0);
}

TEST_CASE("what each reading adds makes up the whole", "[evidence][siblings]") {
  const std::vector<double> values = {28, 22, 27.4, 28.2};
  const std::vector<double> whole = sibling_likelihood(gauges(), values);
  const std::vector<JointLikelihood> added =
      sibling_likelihoods(gauges(), {10, 11, 12, 13}, values);
  REQUIRE(added.size() == 4);
  for (std::size_t set = 0; set < whole.size(); ++set) {
    double product = 1;
    for (std::size_t i = 0; i < 4; ++i) {
      CHECK(added[i].ways.size() == i + 1);
      product *= added[i].table[set % added[i].table.size()];
    }
    CHECK(product == Approx(whole[set]).epsilon(1e-12));
  }
}

TEST_CASE("the order in which siblings are read does not matter", "[evidence][siblings]") {
  const std::vector<std::pair<std::string, std::size_t>> readings = {
      {"28 kPa", 1}, {"22 kPa", 2}, {"27.5 kPa", 3}, {"28.4 kPa", 4}};
  std::vector<std::size_t> order = {0, 1, 2, 3};
  JobWriter first = four();
  for (const auto& [value, cylinder] : readings) first.record("idle-vacuum", value, {cylinder});
  const belief::Belief expected = belief_of(first);
  while (std::next_permutation(order.begin(), order.end())) {
    JobWriter job = four();
    for (const std::size_t i : order) {
      job.record("idle-vacuum", readings[i].first, {readings[i].second});
    }
    const belief::Belief got = belief_of(job);
    for (std::size_t c = 0; c < expected.present_now.size(); ++c) {
      REQUIRE(got.present_now[c] == Approx(expected.present_now[c]).epsilon(1e-9).margin(1e-13));
    }
  }
}

TEST_CASE("half the readings missing still tell the odd one", "[evidence][siblings]") {
  const double before = now(four(), "intake-rubber-cracked@2");
  JobWriter two = four();
  two.record("idle-vacuum", "28 kPa", {1}).record("idle-vacuum", "22 kPa", {2});
  JobWriter all = two;
  all.record("idle-vacuum", "28.2 kPa", {3}).record("idle-vacuum", "27.8 kPa", {4});
  CHECK(now(two, "intake-rubber-cracked@2") > 3 * before);
  CHECK(now(all, "intake-rubber-cracked@2") > now(two, "intake-rubber-cracked@2"));
}

TEST_CASE("a corrected sibling counts once", "[evidence][siblings]") {
  JobWriter wrong = four(), right = four();
  wrong.record("idle-vacuum", "28 kPa", {1}).record("idle-vacuum", "22 kPa", {2});
  wrong.record("idle-vacuum", "27.9 kPa", {2});
  right.record("idle-vacuum", "28 kPa", {1}).record("idle-vacuum", "27.9 kPa", {2});
  const Diagnosis job = test::diagnose(wrong);
  REQUIRE(job.evidence().replaced.size() == 1);
  CHECK(job.evidence().replaced.front().entry == 4);
  const belief::Belief got = job.infer(), expected = belief_of(right);
  for (std::size_t c = 0; c < expected.present_now.size(); ++c) {
    CHECK(got.present_now[c] == Approx(expected.present_now[c]).epsilon(1e-12));
  }
}

TEST_CASE("as left is read against as left, and both are kept", "[evidence][siblings]") {
  JobWriter job = four();
  job.record("idle-vacuum", "28 kPa", {1, 3, 4}).record("idle-vacuum", "22 kPa", {2});
  const double found = now(job, "intake-rubber-cracked@2");
  job.repair("renew-intake-rubber", {2});
  const double repaired = now(job, "intake-joint-seal-bad@2");
  // another level altogether: the idle was set anew
  JobWriter even = job, low = job;
  even.record("idle-vacuum", "32 kPa", {1, 2, 3, 4});
  low.record("idle-vacuum", "32 kPa", {1, 3, 4}).record("idle-vacuum", "26 kPa", {2});
  CHECK(test::diagnose(even).evidence().observations.size() == 9);
  CHECK(found > 0.1);
  CHECK(now(even, "intake-joint-seal-bad@2") < repaired);
  CHECK(now(low, "intake-clamp-loose@2") > 5 * now(even, "intake-clamp-loose@2"));
}

}  // namespace tickover::evidence_siblings_test
