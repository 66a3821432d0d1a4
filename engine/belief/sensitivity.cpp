#include "engine/belief/sensitivity.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/belief/decide.hpp"

namespace tickover::belief {
namespace {

/// A number of the pack and its name for people.
struct Tunable {
  pack::Number* number;
  std::string what;
};

std::set<std::size_t> observed_findings(const Model& model, const Evidence& evidence) {
  std::set<std::size_t> findings;
  for (const Observation& seen : evidence.observations) {
    findings.insert(model.findings[seen.finding].finding);
  }
  return findings;
}

void add(std::vector<Tunable>& out, pack::Number& number, std::string what) {
  if (number.low < number.high) out.push_back({&number, std::move(what)});
}

void add_finding(std::vector<Tunable>& out, pack::Pack& pack, pack::Finding& finding) {
  for (pack::Number& leak : finding.leak) add(out, leak, "leak of " + finding.id);
  for (pack::Link& link : finding.links) {
    for (pack::Number& strength : link.strength) {
      add(out, strength, "strength " + pack.causes[link.cause].id + " -> " + finding.id);
    }
  }
  for (pack::Outcome& outcome : finding.outcomes) {
    add(out, outcome.present, "likelihood of " + outcome.id + " at " + finding.id + ", present");
    add(out, outcome.absent, "likelihood of " + outcome.id + " at " + finding.id + ", absent");
  }
}

std::vector<Tunable> tunables(Model& model, const Evidence& evidence) {
  std::vector<Tunable> out;
  pack::Pack& pack = model.pack;
  for (pack::Cause& cause : pack.causes) add(out, cause.prior, "prior of " + cause.id);
  for (const std::size_t finding : observed_findings(model, evidence)) {
    add_finding(out, pack, pack.findings[finding]);
  }
  for (const std::size_t risk : model.risks) {
    for (pack::Raise& raise : pack.risks[risk].raises) {
      add(out, raise.odds,
          "odds of " + pack.causes[raise.cause].id + " with " + pack.risks[risk].id);
    }
  }
  return out;
}

/// Levels of one link or leak must not sum above 1 when one of them is raised alone.
bool still_valid(const std::vector<pack::Number>& levels) {
  double sum = 0;
  for (const pack::Number& level : levels) sum += level.value;
  return sum <= 1;
}

bool still_valid(const Model& model) {
  for (const pack::Finding& finding : model.pack.findings) {
    if (!still_valid(finding.leak)) return false;
    for (const pack::Link& link : finding.links) {
      if (!still_valid(link.strength)) return false;
    }
  }
  return true;
}

std::size_t leader(const std::vector<double>& probabilities) {
  return static_cast<std::size_t>(std::max_element(probabilities.begin(), probabilities.end()) -
                                  probabilities.begin());
}

/// Bits for one of hundreds of answers of which the differences count.
constexpr std::size_t kNarrow = 12;

/// What a cause would be with other numbers, in the case as it was narrowed with those of the pack.
class Variation {
 public:
  Variation(Model& model, const Evidence& evidence, std::size_t cause)
      : model_(model),
        evidence_(evidence),
        cause_(cause),
        narrowed_(narrowed(Ground(model).given(evidence), kNarrow)) {}

  /// P(cause) and the leading cause with a number set to `value` for the time being.
  std::pair<double, std::size_t> with(pack::Number& number, double value) {
    const double kept = number.value;
    number.value = value;
    update_priors(model_);
    Case given = Ground(model_).given(evidence_);
    number.value = kept;
    update_priors(model_);
    given.levels = narrowed_.levels;
    given.soft = narrowed_.soft;
    const Belief belief = solver_.infer(given);
    return {belief.present_now[cause_], leader(belief.present_now)};
  }

 private:
  Model& model_;
  const Evidence& evidence_;
  const std::size_t cause_;
  const Case narrowed_;
  Solver solver_;  ///< whose order of elimination will do for all
};

}  // namespace

std::vector<Leverage> sensitivity(const Model& model, const Evidence& evidence, std::size_t cause,
                                  std::size_t count) {
  Model varied = model;
  Variation variation(varied, evidence, cause);
  std::vector<Leverage> all;
  for (const Tunable& tunable : tunables(varied, evidence)) {
    pack::Number& number = *tunable.number;
    Leverage leverage{
        number.place, tunable.what, number.value, number.low, number.high, 0, 0, 0, 0};
    std::tie(leverage.at_low, leverage.leader_at_low) = variation.with(number, number.low);
    number.value = number.high;
    const bool valid = still_valid(varied);
    number.value = leverage.value;
    if (!valid) leverage.high = leverage.value;
    std::tie(leverage.at_high, leverage.leader_at_high) = variation.with(number, leverage.high);
    all.push_back(std::move(leverage));
  }
  const auto effect = [](const Leverage& l) { return std::abs(l.at_high - l.at_low); };
  std::sort(all.begin(), all.end(), [&](const Leverage& a, const Leverage& b) {
    return effect(a) != effect(b) ? effect(a) > effect(b) : a.place < b.place;
  });
  all.resize(std::min(count, all.size()));
  return all;
}

Model with_number(const Model& model, const Evidence& evidence, const std::string& place,
                  double value) {
  Model varied = model;
  for (const Tunable& tunable : tunables(varied, evidence)) {
    if (tunable.number->place == place) tunable.number->value = value;
  }
  update_priors(varied);
  return varied;
}

}  // namespace tickover::belief
