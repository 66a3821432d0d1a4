#include "engine/plan/sample.hpp"

#include <map>
#include <optional>
#include <set>

#include "engine/foundation/vectors.hpp"

namespace tickover::plan {
namespace {

std::vector<Sample::Scene> scenes_of(const std::vector<belief::Scenario>& scenarios) {
  std::vector<Sample::Scene> scenes;
  for (const belief::Scenario& scenario : scenarios) {
    Sample::Scene& scene = scenes.emplace_back();
    for (const std::uint32_t cause : scenario.present) scene.present.push_back({cause, 1});
    for (const auto& [cause, lasts] : scenario.must_go) scene.lasting.push_back({cause, lasts});
    scene.curable = scenario.curable;
    scene.draws = scenario.draws;
    scene.share = scenario.share;
  }
  return scenes;
}

/// The scene once some causes were removed in vain, and the complaint is there with probability
/// `still`.
Sample::Scene left_over(const Sample::Scene& scene, const std::vector<double>& kept, double still) {
  Sample::Scene left;
  left.draws = scene.draws;
  const double silent = 1 - still;
  left.curable = std::max(scene.curable - silent, 0.0) / still;
  for (const Sample::Part& part : scene.lasting) {
    const double lasts = part.surely * kept[part.index];
    if (lasts > 0) left.lasting.push_back({part.index, std::min(lasts / still, 1.0)});
  }
  for (const Sample::Part& part : scene.present) {
    const auto its = std::find_if(scene.lasting.begin(), scene.lasting.end(),
                                  [&](const Sample::Part& l) { return l.index == part.index; });
    const double there = part.surely * kept[part.index];
    const double lasts = its == scene.lasting.end() ? 0 : its->surely * kept[part.index];
    const double without_it = lasts < 1 ? 1 - silent / (1 - lasts) : 1;  // the others keep it up
    const double with_it = lasts + (there - lasts) * without_it;
    if (with_it > 0) left.present.push_back({part.index, std::min(with_it / still, 1.0)});
  }
  return left;
}

}  // namespace

Sample::Sample(const belief::Network& network, const std::vector<belief::Scenario>& scenarios)
    : Sample(network, scenes_of(scenarios)) {}

Sample::Sample(const belief::Network& network, std::vector<Scene> scenes)
    : network_(&network),
      scenes_(std::move(scenes)),
      present_with_(network.causes.size()),
      lasting_with_(network.causes.size()) {
  for (std::uint32_t s = 0; s < scenes_.size(); ++s) {
    for (const Part& part : scenes_[s].present) {
      present_with_[part.index].push_back({s, part.surely});
    }
    double gone = scenes_[s].curable;
    for (const Part& part : scenes_[s].lasting) {
      lasting_with_[part.index].push_back({s, part.surely});
      gone *= 1 - part.surely;
    }
    scenes_[s].gone_by_itself = gone;
  }
}

namespace {

/// Both sensors' word on all their findings.
belief::SoftObservation product(const belief::SoftObservation& a,
                                const belief::SoftObservation& b) {
  belief::SoftObservation both = a;
  for (const std::size_t finding : b.findings) {
    if (std::find(a.findings.begin(), a.findings.end(), finding) == a.findings.end()) {
      both.findings.push_back(finding);
    }
  }
  const auto says = [&](const belief::SoftObservation& one, std::size_t combination) {
    std::size_t index = 0;
    for (std::size_t i = 0; i < one.findings.size(); ++i) {
      const auto at = std::find(both.findings.begin(), both.findings.end(), one.findings[i]);
      index |= (combination >> (at - both.findings.begin()) & 1) << i;
    }
    return one.likelihood[index];
  };
  both.likelihood.clear();
  for (std::size_t c = 0; c < std::size_t{1} << both.findings.size(); ++c) {
    both.likelihood.push_back(says(a, c) * says(b, c));
  }
  return both;
}

/// Sensors that tell of the same findings as one, since what they read is the same.
std::vector<belief::SoftObservation> joined(const std::vector<belief::SoftObservation>& sensors) {
  std::vector<belief::SoftObservation> all;
  for (belief::SoftObservation next : sensors) {
    std::erase_if(all, [&](const belief::SoftObservation& known) {
      const bool ties =
          std::find_first_of(known.findings.begin(), known.findings.end(), next.findings.begin(),
                             next.findings.end()) != known.findings.end();
      if (ties) next = product(known, next);
      return ties;
    });
    all.push_back(std::move(next));
  }
  return all;
}

/// Bits at which the drawing is as quick as what is planned with it, and how many more are tried
/// next where too few draws are left.
constexpr std::size_t kFewBits = 10, kWider = 2;
/// Of the draws, those that must be left to speak.
constexpr double kEnough = 1.0 / 3;

}  // namespace

Sample Sample::draw(const belief::Case& given, const std::vector<std::size_t>& complaint,
                    std::size_t count, const belief::RoughPresent& present, std::size_t most) {
  for (std::size_t widest = kFewBits;; widest = std::min(widest + kWider, most)) {
    const belief::Scenarios source(given, complaint, widest, present);
    const std::vector<std::size_t>& aside = source.set_aside();
    const bool complains = std::any_of(complaint.begin(), complaint.end(), [&](std::size_t f) {
      return std::binary_search(aside.begin(), aside.end(), f);  // what must go is not known then
    });
    const bool last = widest == most;
    if (!last && (complains || !source.unweighed().empty())) continue;
    Sample sample(*given.network, source.draw(count));
    if (last && sample.scenes().empty()) return {*given.network, source.draw_unweighed(count)};
    if (last || aside.empty() || sample.enough(count)) return sample;
  }
}

bool Sample::enough(std::size_t count) const {
  return effective_draws(shares()) >= kEnough * static_cast<double>(count);
}

std::vector<double> Sample::shares() const {
  std::vector<double> all;
  for (const Scene& scene : scenes_) all.push_back(scene.share);
  return all;
}

double Sample::effective_draws(const std::vector<double>& weights) const {
  double sum = 0, squares = 0;
  for (std::size_t s = 0; s < weights.size(); ++s) {
    sum += weights[s];
    squares += weights[s] * weights[s] / scenes_[s].draws;
  }
  return squares > 0 ? sum * sum / squares : 0;
}

/// P(what these inhibitors hide of the finding would show no more than `level` | each scenario).
std::vector<double> Sample::at_most_of(const belief::Finding& finding, const Causes& inhibitors,
                                       std::size_t level) const {
  const bool leaks = finding.leak_inhibitors == inhibitors;
  std::vector<double> all(scenes_.size(),
                          leaks ? belief::draws_no_more_than(level, finding.leak) : 1);
  for (const belief::Link& link : finding.links) {
    if (link.inhibitors != inhibitors) continue;
    const double more = 1 - belief::draws_no_more_than(level, link.strength);
    for (const Part& part : present_with_[link.cause]) all[part.index] *= 1 - part.surely * more;
  }
  return all;
}

/// P(the finding shows no more than `level` | each scenario).
std::vector<double> Sample::at_most(std::size_t finding, std::size_t level) const {
  const belief::Finding& f = network_->findings[finding];
  std::vector<double> all = at_most_of(f, {}, level);
  if (!f.inhibited()) return all;
  std::set<Causes> sets = {f.leak_inhibitors};
  for (const belief::Link& link : f.links) sets.insert(link.inhibitors);
  sets.erase(Causes{});
  for (const Causes& inhibitors : sets) {
    std::vector<double> open(scenes_.size(), 1);  // P(none of them is present)
    for (const std::size_t cause : inhibitors) {
      for (const Part& part : present_with_[cause]) open[part.index] *= 1 - part.surely;
    }
    const std::vector<double> shown = at_most_of(f, inhibitors, level);
    for (std::size_t s = 0; s < all.size(); ++s) all[s] *= 1 - open[s] * (1 - shown[s]);
  }
  return all;
}

/// Of several things that may be seen; what findings show at most is worked out once.
class Likelihoods {
 public:
  explicit Likelihoods(const Sample& sample) : sample_(sample), scenes_(sample.scenes().size()) {}

  std::vector<double> of(const belief::Case& seen) {
    std::vector<double> all;
    for (const belief::LevelObservation& one : seen.levels) multiply_in(of(one), all);
    for (const belief::SoftObservation& one : joined(seen.soft)) multiply_in(of(one), all);
    for (const belief::CauseObservation& one : seen.seen) multiply_in(of(one), all);
    if (all.empty()) all.assign(scenes_, 1.0);
    return all;
  }

 private:
  const std::vector<double>& at_most(std::size_t finding, std::size_t level) {
    const auto [at, fresh] = known_.try_emplace({finding, level});
    if (fresh) at->second = sample_.at_most(finding, level);
    return at->second;
  }

  std::vector<double> of(const belief::LevelObservation& one) {
    std::vector<double> share = at_most(one.finding, one.level);
    if (one.level > 0) {
      add_scaled(share.data(), at_most(one.finding, one.level - 1).data(), scenes_, -1);
    }
    return share;
  }

  /// Sums out bit after bit of the table.
  std::vector<double> of(const belief::SoftObservation& one) {
    const std::vector<double>& first = at_most(one.findings.front(), 0);
    std::vector<std::vector<double>> tables;
    for (std::size_t c = 0; c < one.likelihood.size(); c += 2) {
      std::vector<double>& table = tables.emplace_back(first);
      for (double& p : table) p = p * one.likelihood[c] + (1 - p) * one.likelihood[c + 1];
    }
    for (std::size_t f = 1; f < one.findings.size(); ++f) {
      const std::vector<double>& absent = at_most(one.findings[f], 0);
      for (std::size_t c = 0; c < tables.size(); c += 2) {
        for (std::size_t s = 0; s < scenes_; ++s) {
          tables[c / 2][s] = absent[s] * tables[c][s] + (1 - absent[s]) * tables[c + 1][s];
        }
      }
      tables.resize(tables.size() / 2);
    }
    return std::move(tables.front());
  }

  std::vector<double> of(const belief::CauseObservation& one) const {
    std::vector<double> share(scenes_, one.absent);
    for (const Sample::Part& part : sample_.present_with()[one.cause]) {
      share[part.index] += part.surely * (one.present - one.absent);
    }
    return share;
  }

  void multiply_in(std::vector<double> share, std::vector<double>& all) const {
    if (all.empty()) {
      all = std::move(share);
    } else {
      multiply(all.data(), share.data(), scenes_);
    }
  }

  const Sample& sample_;
  const std::size_t scenes_;
  std::map<std::pair<std::size_t, std::size_t>, std::vector<double>> known_;
};

std::vector<std::vector<double>> Sample::likelihoods(const std::vector<belief::Case>& seen) const {
  Likelihoods likelihoods(*this);
  std::vector<std::vector<double>> all;
  for (const belief::Case& one : seen) all.push_back(likelihoods.of(one));
  return all;
}

std::vector<double> Sample::likelihood(const belief::Case& seen) const {
  return Likelihoods(*this).of(seen);
}

Sample Sample::after_failure(const std::vector<belief::Removal>& removals,
                             std::vector<double>& weights) const {
  std::vector<double> kept(causes(), 1.0);
  for (const belief::Removal& removal : removals) kept[removal.cause] *= 1 - removal.success;
  std::vector<Scene> left;
  std::vector<double> left_weights;
  for (std::size_t s = 0; s < scenes_.size(); ++s) {
    const double still = 1 - scenes_[s].gone(kept);
    if (!(weights[s] * still > 0)) continue;
    left.push_back(left_over(scenes_[s], kept, still));
    left_weights.push_back(weights[s] * still);
  }
  weights = std::move(left_weights);
  return Sample(*network_, std::move(left));
}

void Remainder::start() {
  std::fill(kept_.begin(), kept_.end(), 1.0);
  std::fill(changed_.begin(), changed_.end(), false);
  which_.clear();
}

void Remainder::remove(const belief::Removal& removal) {
  kept_[removal.cause] *= 1 - removal.success;
  for (const Sample::Part& part : sample_.lasting_with()[removal.cause]) {
    if (changed_[part.index]) continue;
    changed_[part.index] = true;
    which_.push_back(part.index);
  }
}

SampleCures::SampleCures(const Sample& sample, const std::vector<double>& weights)
    : sample_(sample),
      weights_(weights),
      present_(sample.causes(), 0.0),
      remainder_(sample),
      begin_(weights.size()) {
  for (std::size_t s = 0; s < weights.size(); ++s) {
    const Sample::Scene& scene = sample.scenes()[s];
    total_ += weights[s];
    curable_ += weights[s] * scene.curable;
    for (const Sample::Part& part : scene.present) present_[part.index] += weights[s] * part.surely;
    begin_[s] = weights[s] * scene.gone_by_itself;
  }
  for (double& p : present_) p = of_total(p);
  begin_cured_ = sum(begin_.data(), begin_.size());
  start();
}

std::vector<double> SampleCures::culprits() {
  std::vector<double> all(sample_.causes(), 0.0);
  for (std::size_t s = 0; s < weights_.size(); ++s) {
    const Sample::Scene& scene = sample_.scenes()[s];
    const double curable = weights_[s] * scene.curable;
    for (const Sample::Part& part : scene.lasting) all[part.index] += curable * part.surely;
  }
  for (double& p : all) p = of_total(p);
  return all;
}

void SampleCures::start() {
  remainder_.start();
  cures_ = begin_;
  cured_ = begin_cured_;
}

void SampleCures::remove(const belief::Removal& removal) { remainder_.remove(removal); }

double SampleCures::cured() {
  remainder_.tell([&](std::uint32_t scene, double gone) {
    const double now = weights_[scene] * gone;
    cured_ += now - cures_[scene];
    cures_[scene] = now;
  });
  return of_total(cured_);
}

}  // namespace tickover::plan
