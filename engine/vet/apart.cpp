#include "engine/vet/apart.hpp"

#include <algorithm>
#include <cmath>
#include <map>

#include "engine/belief/infer.hpp"
#include "engine/vet/answers.hpp"
#include "engine/vet/vet.hpp"

namespace tickover::vet {
namespace {

constexpr double kMostOddsApart = 10;

double odds(double probability) { return probability / std::max(1 - probability, 1e-12); }

class Search {
 public:
  Search(const plan::Workshop& workshop, const Evidence& evidence)
      : workshop_(workshop), model_(workshop.model()), evidence_(evidence) {}

  NotApart pair(std::size_t cause, std::size_t other) {
    NotApart best{cause, other, {}, 0, 0, 0};
    for (std::size_t c = 0; c < model_.pack.checks.size(); ++c) {
      const pack::Check& check = model_.pack.checks[c];
      if (!model_.applies(check.needs)) continue;
      const double minutes = minutes_of(check);
      if (best.check && minutes >= best.minutes) continue;
      for (std::size_t f = 0; f < model_.findings.size(); ++f) {
        if (model_.findings[f].finding != check.finding || done(f)) continue;
        const double right = right_by(f, cause, other);
        if (right < kToldApart || (best.check == c && right <= best.right)) continue;
        best = {cause, other, c, f, minutes, right};
      }
    }
    return best;
  }

 private:
  double minutes_of(const pack::Check& check) const {
    const Access& access = workshop_.access();
    const OpenLayers open = access.after(evidence_.open_layers, access.need_of(check));
    return check.minutes.once + check.minutes.each +
           access.minutes(evidence_.open_layers, open).total();
  }

  bool done(std::size_t finding) const {
    return std::any_of(evidence_.observations.begin(), evidence_.observations.end(),
                       [&](const Observation& seen) {
                         return seen.finding == finding && seen.epoch == evidence_.epoch;
                       });
  }

  double right_by(std::size_t finding, std::size_t cause, std::size_t other) {
    const Answers& answers = answers_.try_emplace(finding, model_, finding).first->second;
    if (!answers.linked(cause) && !answers.linked(other)) return 0.5;
    return right_guesses(answers.probabilities({cause, other}),
                         answers.probabilities({other, cause}));
  }

  const plan::Workshop& workshop_;
  const Model& model_;
  const Evidence& evidence_;
  std::map<std::size_t, Answers> answers_;
};

}  // namespace

double right_guesses(const std::vector<double>& a, const std::vector<double>& b) {
  double distance = 0;
  for (std::size_t i = 0; i < a.size(); ++i) distance += std::abs(a[i] - b[i]) / 2;
  return (1 + distance) / 2;
}

std::vector<NotApart> not_told_apart(const plan::Workshop& workshop, const Evidence& evidence,
                                     const std::vector<double>& present, std::size_t count) {
  std::vector<std::size_t> leading = belief::largest_first(present);
  std::erase_if(leading, [&](std::size_t cause) { return present[cause] < kLeastPaired; });
  std::vector<NotApart> pairs;
  Search search(workshop, evidence);
  for (std::size_t j = 1; j < leading.size(); ++j) {
    for (std::size_t i = 0; i < j && pairs.size() < count; ++i) {
      if (odds(present[leading[i]]) >= kMostOddsApart * odds(present[leading[j]])) continue;
      if (present[leading[j]] > 0.5) continue;  // both are there: nothing is to be told apart
      pairs.push_back(search.pair(leading[i], leading[j]));
    }
  }
  return pairs;
}

}  // namespace tickover::vet
