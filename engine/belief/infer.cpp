#include "engine/belief/infer.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

#include "engine/belief/bounds.hpp"
#include "engine/belief/prepared.hpp"

namespace tickover::belief {
namespace {

Belief prior_belief(const Case& given) {
  Belief belief;
  for (std::size_t c = 0; c < given.network->causes.size(); ++c) {
    double now = 0;
    for (const LifeChance& chance : lives(given, c)) {
      if (chance.life.in(given.now)) now += chance.probability;
    }
    belief.present_at_start.push_back(given.network->causes[c].prior);
    belief.present_now.push_back(now);
  }
  return belief;
}

void bound(Belief& belief, const Case& given, std::size_t refinements) {
  Bounding bounding(given);
  while (refinements-- > 0 && bounding.refine()) {
  }
  belief.low = bounding.low();
  belief.high = bounding.high();
  for (std::size_t c = 0; c < belief.present_now.size(); ++c) {
    belief.present_now[c] = std::clamp(belief.present_now[c], belief.low[c], belief.high[c]);
  }
}

/// A mass as a share of P(e); 0 when either is nothing.
double share(const Scaled& mass, double log_evidence) {
  if (!(mass.mantissa > 0) || !std::isfinite(log_evidence)) return 0;
  return std::min(std::exp(mass.log() - log_evidence), 1.0);
}

}  // namespace

Solver::Solver() : ready_(std::make_unique<Prepared>()) {}
Solver::~Solver() = default;

const std::vector<std::size_t>& Solver::set_aside() const { return ready_->set_aside(); }

Belief Solver::infer(const Case& given, std::size_t widest) {
  ready_->pose(given, nullptr, true, widest);
  const Scaled total = ready_->sweep().both_ways();
  Belief belief;
  belief.log_evidence = total.log();
  if (!std::isfinite(belief.log_evidence)) {
    belief = prior_belief(given);
    belief.contradiction = true;
    belief.log_evidence = -std::numeric_limits<double>::infinity();
    return belief;
  }
  belief.width = ready_->schedule().width;
  const Problem& problem = ready_->problem();
  belief.present_at_start.reserve(problem.causes);
  belief.present_now.reserve(problem.causes);
  for (std::size_t c = 0; c < problem.causes; ++c) {
    double start = 0, now = 0;
    for (std::uint32_t s = problem.variables[c].begin; s < problem.variables[c].end; ++s) {
      const Life& life = problem.states[s].life;
      if (!life.in(0) && !life.in(given.now)) continue;
      const double p = ratio(ready_->sweep().mass(s), total);
      if (life.in(0)) start += p;
      if (life.in(given.now)) now += p;
    }
    belief.present_at_start.push_back(std::min(start, 1.0));
    belief.present_now.push_back(std::min(now, 1.0));
  }
  belief.exact = ready_->set_aside().empty();
  return belief;
}

double Solver::log_evidence(const Case& given) {
  ready_->pose(given);
  return ready_->sweep().forward().log();
}

std::optional<double> Solver::log_evidence_within(const Case& given, std::size_t widest) {
  if (ready_->width(given) > widest) return std::nullopt;
  ready_->pose(given, nullptr, true, widest);
  if (!ready_->set_aside().empty()) return std::nullopt;
  return ready_->sweep().forward().log();
}

std::size_t Solver::width(const Case& given) { return ready_->width(given); }

std::vector<std::size_t> largest_first(const std::vector<double>& values, std::size_t count) {
  std::vector<std::size_t> order(values.size());
  std::iota(order.begin(), order.end(), std::size_t{0});
  std::stable_sort(order.begin(), order.end(), [&](std::size_t a, std::size_t b) {
    return static_cast<float>(values[a]) > static_cast<float>(values[b]);
  });
  order.resize(std::min(count, order.size()));
  return order;
}

Belief infer(const Case& given, std::size_t refinements) {
  Belief belief = Solver().infer(given);
  if (!belief.exact) bound(belief, given, refinements);
  return belief;
}

double log_evidence(const Case& given) { return Solver().log_evidence(given); }

Prospects::Prospects() : ready_(std::make_unique<Prepared>()) {}
Prospects::Prospects(const Case& given, const std::vector<std::size_t>& findings,
                     double known_log_evidence)
    : Prospects() {
  pose(given, findings, known_log_evidence);
}
Prospects::~Prospects() = default;

void Prospects::pose(const Case& given, const std::vector<std::size_t>& findings,
                     double known_log_evidence) {
  log_evidence_ = known_log_evidence;
  fade_ = given.fade;
  ready_->pose(given, &findings);
  if (ready_->set_aside().empty()) return;
  // too wide: then a share of what is left, with everything removed, not of the whole evidence
  shares_.assign(ready_->problem().variables.size(), 1.0);
  log_evidence_ = ready_->sweep().forward(&shares_).log();
}

std::size_t Prospects::width() const { return ready_->schedule().width; }

/// P(gone before the prospect) of every variable after `removals`; leaks only fade.
const std::vector<double>& Prospects::shares(const std::vector<Removal>& removals) {
  shares_.assign(ready_->problem().variables.size(), 1 - fade_);
  for (const Removal& removal : removals) shares_[removal.cause] *= 1 - removal.success;
  for (double& share : shares_) share = 1 - share;
  return shares_;
}

double Prospects::cured(const std::vector<Removal>& removals) {
  return share(ready_->sweep().forward_again(shares(removals)), log_evidence_);
}

/// The mass of a cause's states when it is removed with probability `removed`.
Scaled Prospects::mass_of(std::size_t cause, double removed) const {
  const Problem& problem = ready_->problem();
  Scaled sum;
  for (std::uint32_t s = problem.variables[cause].begin; s < problem.variables[cause].end; ++s) {
    const Fate fate = problem.states[s].fate;
    const double counts = fate == Fate::any ? 1 : fate == Fate::removed ? removed : 1 - removed;
    if (counts > 0) sum = sum + ready_->sweep().mass(s) * counts;
  }
  return sum;
}

CureProspects Prospects::with_each(const std::vector<Removal>& removals) {
  CureProspects prospects;
  prospects.base = share(ready_->sweep().both_ways(&shares(removals)), log_evidence_);
  for (std::size_t c = 0; c < ready_->problem().causes; ++c) {
    prospects.with_cause.push_back(share(mass_of(c, 1), log_evidence_));
  }
  return prospects;
}

std::vector<double> Prospects::culprits() {
  shares_.assign(ready_->problem().variables.size(), fade_);
  std::fill_n(shares_.begin(), ready_->problem().causes, 1.0);
  const double all = share(ready_->sweep().both_ways(&shares_), log_evidence_);
  std::vector<double> culprits;
  for (std::size_t c = 0; c < ready_->problem().causes; ++c) {
    const double kept = share(mass_of(c, fade_), log_evidence_);
    culprits.push_back(std::max(all - kept, 0.0));
  }
  return culprits;
}

double Prospects::all_gone() {
  shares_.assign(ready_->problem().variables.size(), fade_);
  std::fill_n(shares_.begin(), ready_->problem().causes, 1.0);
  return share(ready_->sweep().forward(&shares_), log_evidence_);
}

double Prospects::unlisted() {
  shares_.assign(ready_->problem().variables.size(), 0.0);
  std::fill_n(shares_.begin(), ready_->problem().causes, 1.0);
  return 1 - share(ready_->sweep().forward(&shares_), log_evidence_);
}

double cured(const Case& given, const std::vector<std::size_t>& findings,
             const std::vector<Removal>& removals) {
  return Prospects(given, findings, log_evidence(given)).cured(removals);
}

double unlisted(const Case& given, const std::vector<std::size_t>& findings) {
  return Prospects(given, findings, log_evidence(given)).unlisted();
}

}  // namespace tickover::belief
