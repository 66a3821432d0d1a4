#include "engine/evidence/foresee.hpp"

#include <algorithm>
#include <array>
#include <cmath>
#include <numbers>

#include "engine/evidence/density.hpp"
#include "engine/evidence/exhaust_sample.hpp"
#include "engine/gas/exhaust.hpp"

namespace tickover {
namespace {

double normal_up_to(double x, double deviation) {
  return std::erfc(-x / (deviation * std::numbers::sqrt2)) / 2;
}

/// P(a normal deviate plus an exponential one of mean `tail` is at most `x`).
double modified_gaussian_up_to(double x, double deviation, double tail) {
  return normal_up_to(x, deviation) - tail * modified_gaussian(x, deviation, tail);
}

/// P(reading at most `value`) in each state, slips apart.
ReadingLikelihood up_to(const ReadingModel& reading, double value) {
  const double spread = std::hypot(reading.tolerance / 2, reading.instrument);
  ReadingLikelihood sum;
  sum.still = normal_up_to(value - reading.wanted, spread);
  sum.low = reading.shift_low > 0
                ? 1 - modified_gaussian_up_to(reading.wanted - reading.tolerance - value,
                                              reading.instrument, reading.shift_low)
                : sum.still;
  sum.high = reading.shift_high > 0
                 ? modified_gaussian_up_to(value - reading.wanted - reading.tolerance,
                                           reading.instrument, reading.shift_high)
                 : sum.still;
  sum.both = (sum.low + sum.high) / 2;
  return sum;
}

std::vector<ForeseenReading> foresee_alone(const Model& model, std::size_t instance) {
  const ReadingModel reading = reading_model(model, model.findings[instance]);
  const std::vector<ReadingLikelihood> sides = side_likelihoods(model, model.findings[instance]);
  return {{"low", joint_likelihood(reading, instance, sides[0])},
          {"within", joint_likelihood(reading, instance, sides[1])},
          {"high", joint_likelihood(reading, instance, sides[2])}};
}

/// Up to so many siblings it is thought of that all of them may be moved, and none stands out.
constexpr std::size_t kFewSiblings = 3;

/// How far beyond the common level a place must lie to be told off it: where moved is as likely as
/// not moved, found by bisection between the tolerance and where only the moved are left.
double telling_way(const ReadingModel& reading, bool low) {
  double from = 0, to = reading.tolerance + 9 * std::hypot(reading.tolerance, reading.instrument);
  for (int i = 0; i < 40; ++i) {
    const double way = (from + to) / 2;
    const ReadingLikelihood density = likelihood(reading, reading.wanted + (low ? -way : way));
    ((low ? density.low : density.high) > density.still ? to : from) = way;
  }
  return to;
}

std::vector<ForeseenReading> foresee_beside_siblings(const Model& model, std::size_t instance) {
  const pack::Finding& finding = model.pack.findings[model.findings[instance].finding];
  const pack::Direction direction = finding.links.front().direction;
  const bool low = direction == pack::Direction::low;
  const ReadingModel reading = reading_model(model, model.findings[instance]);
  const double way = telling_way(reading, low);
  const ReadingLikelihood beyond = up_to(reading, reading.wanted + (low ? -way : way));
  // slips further out than what is taken without question tell nothing either way
  const double furthest = reading.tolerance + 4 * std::max(reading.shift_low, reading.shift_high);
  const double slips =
      std::clamp((furthest - way) / (reading.plausible_high - reading.plausible_low), 0.0, 1.0);
  const auto off = [&](double below) {
    return (1 - reading.slip) * (low ? below : 1 - below) + reading.slip * slips;
  };
  const double moved = off(low ? beyond.low : beyond.high), still = off(beyond.still);
  JointLikelihood stands_out, even;
  std::size_t own = 0;
  std::vector<Way> all_ways;
  for (std::size_t i = 0; i < model.findings.size(); ++i) {
    if (model.findings[i].finding != model.findings[instance].finding) continue;
    if (i == instance) own = std::size_t{1} << all_ways.size();
    all_ways.push_back({i, direction});
  }
  if (all_ways.size() > kFewSiblings)
    return {{low ? "low" : "high", {{{instance, direction}}, {still, moved}}},
            {"within", {{{instance, direction}}, {1 - still, 1 - moved}}}};
  stands_out.ways = even.ways = all_ways;
  const std::size_t all = (std::size_t{1} << even.ways.size()) - 1;
  for (std::size_t set = 0; set <= all; ++set) {
    const double off_here = (set & own) != 0 && set != all ? moved : still;
    stands_out.table.push_back(off_here);
    even.table.push_back(1 - off_here);
  }
  return {{low ? "low" : "high", stands_out}, {"within", even}};
}

constexpr std::size_t kSamples = 20;  // of each hidden number, at equal steps of probability
constexpr std::size_t kSampleAnswers = 4;

/// Ways of mean `mean` that exponentially distributed ones take with equal probability.
std::vector<double> exponential_ways(double mean) {
  std::vector<double> ways;
  for (std::size_t i = 0; i < kSamples; ++i) {
    ways.push_back(-mean * std::log1p(-(static_cast<double>(i) + 0.5) / kSamples));
  }
  return ways;
}

std::size_t side_of(const ReadingModel& mixture, double truth, double rise) {
  const double lambda = truth + rise, resolution = std::min(2 * mixture.instrument, 0.2);
  const ExhaustCheck check{lambda, std::min(truth, 1.0), Fraction(0), Fraction(0), 1};
  if (lean_reading_doubtful(check, resolution)) return 3;
  if (lambda < mixture.wanted - mixture.tolerance) return 0;
  return lambda > mixture.wanted + mixture.tolerance ? 2 : 1;
}

/// P(side) for true lambdas and rises that are equally probable.
std::array<double, kSampleAnswers> sides_of(const ReadingModel& mixture,
                                            const std::vector<double>& truths,
                                            const std::vector<double>& rises) {
  std::array<double, kSampleAnswers> sides{};
  const double each = (1 - mixture.slip) / static_cast<double>(truths.size() * rises.size());
  sides.fill(mixture.slip / kSampleAnswers);
  for (const double truth : truths) {
    for (const double rise : rises) sides[side_of(mixture, truth, rise)] += each;
  }
  return sides;
}

std::vector<double> truths_of(const ReadingModel& mixture, bool rich, bool lean) {
  std::vector<double> truths;
  if (!rich && !lean) {  // within the tolerance, as good as evenly spread
    for (std::size_t i = 0; i < kSamples; ++i) {
      const double part = (2 * static_cast<double>(i) + 1) / kSamples - 1;
      truths.push_back(mixture.wanted + part * mixture.tolerance);
    }
  }
  if (rich) {
    for (const double way : exponential_ways(mixture.shift_low)) {
      truths.push_back(mixture.wanted - mixture.tolerance - way);
    }
  }
  if (lean) {
    for (const double way : exponential_ways(mixture.shift_high)) {
      truths.push_back(mixture.wanted + mixture.tolerance + way);
    }
  }
  return truths;
}

std::vector<ForeseenReading> foresee_sample(const Model& model, std::size_t instance) {
  const SampleModel sample = sample_model(model, model.findings[instance]);
  const std::vector<Way> ways = sample_ways(sample, {instance});
  std::vector<ForeseenReading> foreseen = {
      {"low", {ways, {}}}, {"within", {ways, {}}}, {"high", {ways, {}}}, {"thinned", {ways, {}}}};
  for (std::size_t set = 0; set < std::size_t{1} << ways.size(); ++set) {
    std::array<bool, 3> moved{};
    for (std::size_t way = 0; way < ways.size(); ++way) {
      moved[static_cast<std::size_t>(ways[way].direction)] = (set >> way & 1) != 0;
    }
    const std::vector<double> rises =
        moved[2] ? exponential_ways(sample.thinning) : std::vector<double>{0};
    const auto sides =
        sides_of(sample.mixture, truths_of(sample.mixture, moved[0], moved[1]), rises);
    for (std::size_t side = 0; side < sides.size(); ++side) {
      foreseen[side].likelihood.table.push_back(sides[side]);
    }
  }
  return foreseen;
}

}  // namespace

std::vector<ForeseenReading> foresee(const Model& model, std::size_t instance) {
  const pack::Finding& finding = model.pack.findings[model.findings[instance].finding];
  if (!finding.gases.empty()) return foresee_sample(model, instance);
  if (finding.nominal.empty()) return foresee_beside_siblings(model, instance);
  return foresee_alone(model, instance);
}

std::vector<ReadingLikelihood> side_likelihoods(const Model& model,
                                                const FindingInstance& instance) {
  const ReadingModel reading = reading_model(model, instance);
  const double low = reading.plausible_low, high = reading.plausible_high;
  const double edges[] = {low, std::clamp(reading.wanted - reading.tolerance, low, high),
                          std::clamp(reading.wanted + reading.tolerance, low, high), high};
  std::vector<ReadingLikelihood> sides(3);
  for (double ReadingLikelihood::*state : {&ReadingLikelihood::still, &ReadingLikelihood::low,
                                           &ReadingLikelihood::high, &ReadingLikelihood::both}) {
    double total = 0;
    for (std::size_t side = 0; side < 3; ++side) {
      const double from = edges[side], to = edges[side + 1];
      const double speaks = up_to(reading, to).*state - up_to(reading, from).*state;
      const double slips = (to - from) / (high - low);
      sides[side].*state = std::max((1 - reading.slip) * speaks + reading.slip * slips, 0.0);
      total += sides[side].*state;
    }
    for (ReadingLikelihood& side : sides) side.*state /= total;
  }
  return sides;
}

}  // namespace tickover
