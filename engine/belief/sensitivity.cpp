#include "engine/belief/sensitivity.hpp"

#include <algorithm>
#include <cmath>
#include <set>

#include "engine/belief/decide.hpp"
#include "engine/belief/swing.hpp"

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
        narrowed_(narrowed(Ground(model).given(evidence), kNarrow)),
        belief_(solver_.infer(narrowed_)) {}

  /// P(cause) and the leading cause with a number set to `value` for the time being.
  std::pair<double, std::size_t> with(pack::Number& number, double value) {
    const Belief belief = solver_.infer(varied(number, value));
    return {belief.present_now[cause_], leader(belief.present_now)};
  }

  std::size_t width() const { return belief_.width; }

  /// No less than the effect that moving the number from `low` to `high` has on P(cause).
  double most_effect(pack::Number& number, double low, double high) {
    return most_moved(narrowed_, belief_, varied(number, low), cause_) +
           most_moved(narrowed_, belief_, varied(number, high), cause_);
  }

 private:
  Case varied(pack::Number& number, double value) const {
    const double kept = number.value;
    number.value = value;
    update_priors(model_);
    Case given = Ground(model_).given(evidence_);
    number.value = kept;
    update_priors(model_);
    given.levels = narrowed_.levels;
    given.soft = narrowed_.soft;
    return given;
  }

  Model& model_;
  const Evidence& evidence_;
  const std::size_t cause_;
  const Case narrowed_;
  Solver solver_;  ///< whose order of elimination will do for all
  const Belief belief_;
};

/// The range of a number as far as it can go without levels that sum above 1.
std::pair<double, double> range_of(Model& model, pack::Number& number) {
  const double kept = number.value;
  number.value = number.high;
  const bool valid = still_valid(model);
  number.value = kept;
  return {number.low, valid ? number.high : kept};
}

double effect(const Leverage& one) { return std::abs(one.at_high - one.at_low); }

/// The larger effect first.
bool larger(const Leverage& a, const Leverage& b) {
  return effect(a) != effect(b) ? effect(a) > effect(b) : a.place < b.place;
}

/// The numbers of the cause (of pack.causes) itself, and the priors of all.
void keep_nearest(std::vector<Tunable>& all, Model& model, std::size_t cause) {
  std::set<const pack::Number*> near;
  for (const pack::Cause& one : model.pack.causes) near.insert(&one.prior);
  for (const pack::Finding& finding : model.pack.findings) {
    for (const pack::Link& link : finding.links) {
      if (link.cause != cause) continue;
      for (const pack::Number& strength : link.strength) near.insert(&strength);
    }
    if (finding.kind != pack::Kind::inspection || finding.cause != cause) continue;
    for (const pack::Outcome& outcome : finding.outcomes) {
      near.insert({&outcome.present, &outcome.absent});
    }
  }
  std::erase_if(all, [&](const Tunable& one) { return near.count(one.number) == 0; });
}

/// A number and how much it can do at most.
struct Candidate {
  const Tunable* tunable = nullptr;
  double low = 0, high = 0;
  double most = 0;
};

}  // namespace

Sensitivity sensitivity(const Model& model, const Evidence& evidence, std::size_t cause,
                        std::size_t count) {
  constexpr double kRounding = 1e-9;
  Model varied = model;
  Variation variation(varied, evidence, cause);
  std::vector<Tunable> all = tunables(varied, evidence);
  const bool try_all = variation.width() <= kNarrow;
  if (!try_all) keep_nearest(all, varied, model.causes[cause].cause);
  std::vector<Candidate> candidates;
  for (const Tunable& tunable : all) {
    const auto [low, high] = range_of(varied, *tunable.number);
    candidates.push_back({&tunable, low, high, variation.most_effect(*tunable.number, low, high)});
  }
  std::stable_sort(candidates.begin(), candidates.end(),
                   [](const Candidate& a, const Candidate& b) { return a.most > b.most; });
  std::vector<Leverage> found;  // largest first
  for (const auto& [tunable, low, high, most] : candidates) {
    if (found.size() == count && (count == 0 || most + kRounding < effect(found.back()))) break;
    pack::Number& number = *tunable->number;
    Leverage leverage{number.place, tunable->what, number.value, low, high, 0, 0, 0, 0};
    std::tie(leverage.at_low, leverage.leader_at_low) = variation.with(number, low);
    std::tie(leverage.at_high, leverage.leader_at_high) = variation.with(number, high);
    const auto place = std::upper_bound(found.begin(), found.end(), leverage, larger);
    found.insert(place, std::move(leverage));
    if (found.size() > count) found.pop_back();
  }
  return {std::move(found), try_all};
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
