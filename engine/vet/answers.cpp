#include "engine/vet/answers.hpp"

#include <algorithm>

namespace tickover::vet {
namespace {

/// P(above level k) for k = 0, 1, ..
std::vector<double> tails(const std::vector<double>& exactly) {
  std::vector<double> beyond(exactly.size());
  double sum = 0;
  for (std::size_t i = exactly.size(); i-- > 0;) beyond[i] = sum += exactly[i];
  return beyond;
}

}  // namespace

Answers::Answers(const Model& model, std::size_t instance)
    : model_(model),
      instance_(instance),
      finding_(model.pack.findings[model.findings[instance].finding]) {
  const FindingInstance& at = model.findings[instance];
  if (finding_.kind == pack::Kind::inspection) return;
  if (finding_.kind == pack::Kind::reading) {
    sides_ = foresee(model, instance);
    const std::vector<Way>& ways = sides_.front().likelihood.ways;
    for (std::size_t way = 0; way < ways.size(); ++way) add_way(way, ways[way]);
    return;
  }
  leak_ = tails(probabilities_of(finding_.leak));
  spoilers_ = at.spoilers;
  for (const LinkInstance& link : at.links) {
    producers_.push_back({link.cause, tails(strength_of(finding_, link)), link.spoilers});
    spoilers_.insert(spoilers_.end(), link.spoilers.begin(), link.spoilers.end());
  }
  std::sort(spoilers_.begin(), spoilers_.end());
  spoilers_.erase(std::unique(spoilers_.begin(), spoilers_.end()), spoilers_.end());
}

void Answers::add_way(std::size_t way, const Way& what) {
  leak_.push_back(finding_.leak.front().value);
  for (Producer& producer : producers_) producer.beyond.push_back(0);
  for (const LinkInstance& link : model_.findings[what.finding].links) {
    const pack::Link& from = finding_.links[link.link];
    if (from.direction != what.direction) continue;
    auto known = std::find_if(producers_.begin(), producers_.end(), [&](const Producer& producer) {
      return producer.cause == link.cause;
    });
    if (known == producers_.end()) {
      known = producers_.insert(known, {link.cause, std::vector<double>(way + 1)});
    }
    known->beyond[way] = strength_of(finding_, link).front();
  }
}

bool Answers::linked(std::size_t cause) const {
  if (finding_.kind == pack::Kind::inspection) return *model_.findings[instance_].cause == cause;
  return std::find(spoilers_.begin(), spoilers_.end(), cause) != spoilers_.end() ||
         std::any_of(producers_.begin(), producers_.end(),
                     [&](const Producer& producer) { return producer.cause == cause; });
}

double Answers::cause_probability(std::size_t cause, const Given& given) const {
  if (given.present == cause) return 1;
  return given.absent == cause ? 0 : model_.causes[cause].prior;
}

/// P(shows at most each level), the spoilers being as told.
std::vector<double> Answers::up_to_levels(const Given& given,
                                          const std::vector<bool>& spoiling) const {
  const auto spoiled = [&](const std::vector<std::size_t>& spoilers) {
    return std::any_of(spoilers.begin(), spoilers.end(),
                       [&](std::size_t cause) { return spoiling[cause]; });
  };
  std::vector<double> all;
  const bool no_leak = spoiled(model_.findings[instance_].spoilers);
  for (std::size_t level = 0; level < leak_.size(); ++level) {
    double up_to = no_leak ? 1 : 1 - leak_[level];
    for (const Producer& producer : producers_) {
      if (spoiled(producer.spoilers)) continue;
      up_to *= 1 - cause_probability(producer.cause, given) * producer.beyond[level];
    }
    all.push_back(up_to);
  }
  return all;
}

/// The mean over the sets of spoilers present: one for each carburettor, hardly more.
std::vector<double> Answers::of_levels(const Given& given) const {
  std::vector<double> up_to(leak_.size() + 1);
  std::vector<bool> spoiling(model_.causes.size());
  for (std::size_t set = 0; set >> spoilers_.size() == 0; ++set) {
    double weight = 1;
    for (std::size_t i = 0; i < spoilers_.size(); ++i) {
      spoiling[spoilers_[i]] = (set >> i & 1) != 0;
      const double p = cause_probability(spoilers_[i], given);
      weight *= spoiling[spoilers_[i]] ? p : 1 - p;
    }
    if (!(weight > 0)) continue;
    const std::vector<double> part = up_to_levels(given, spoiling);
    for (std::size_t level = 0; level < part.size(); ++level) up_to[level] += weight * part[level];
    up_to.back() += weight;
  }
  for (std::size_t level = up_to.size(); --level > 0;) up_to[level] -= up_to[level - 1];
  return up_to;
}

/// P(nothing has moved the ways of this set).
double Answers::still(std::size_t ways, const Given& given) const {
  const auto silent = [&](const std::vector<double>& beyond) {
    double product = 1;
    for (std::size_t way = 0; way < beyond.size(); ++way) {
      if ((ways >> way & 1) != 0) product *= 1 - beyond[way];
    }
    return product;
  };
  double probability = silent(leak_);
  for (const Producer& producer : producers_) {
    probability *= 1 - cause_probability(producer.cause, given) * (1 - silent(producer.beyond));
  }
  return probability;
}

/// P(exactly these ways moved) by inclusion and exclusion; there are at most a handful.
std::vector<double> Answers::of_sides(const Given& given) const {
  const std::size_t sets = std::size_t{1} << leak_.size();
  std::vector<double> moved(sets);
  for (std::size_t set = 0; set < sets; ++set) moved[set] = still(set, given);
  for (std::size_t way = 1; way < sets; way <<= 1) {
    for (std::size_t set = 0; set < sets; ++set) {
      if ((set & way) == 0) moved[set] -= moved[set | way];
    }
  }
  // moved[set]: none of the ways in `set`, all others; the table counts the moved ones
  std::vector<double> probabilities;
  for (const ForeseenReading& side : sides_) {
    double sum = 0;
    for (std::size_t set = 0; set < sets; ++set) {
      sum += moved[set] * side.likelihood.table[sets - 1 - set];
    }
    probabilities.push_back(sum);
  }
  return probabilities;
}

std::vector<double> Answers::probabilities(const Given& given) const {
  if (finding_.kind == pack::Kind::reading) return of_sides(given);
  if (finding_.kind != pack::Kind::inspection) return of_levels(given);
  const double p = cause_probability(*model_.findings[instance_].cause, given);
  std::vector<double> out;
  for (const pack::Outcome& outcome : finding_.outcomes) {
    out.push_back(p * outcome.present.value + (1 - p) * outcome.absent.value);
  }
  return out;
}

std::vector<std::string> Answers::names() const {
  if (finding_.kind == pack::Kind::inspection) return pack::ids_of(finding_.outcomes);
  if (finding_.kind != pack::Kind::reading) return finding_.levels;
  std::vector<std::string> names;
  for (const ForeseenReading& side : sides_) names.push_back(side.answer);
  return names;
}

}  // namespace tickover::vet
