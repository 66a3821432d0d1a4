#include "tests/support/small_job.hpp"

#include <algorithm>
#include <numeric>

namespace tickover::test {
namespace {

constexpr char kVerified = 'v';

char name_of_repair(std::size_t repair) { return static_cast<char>('A' + repair); }
char name_of_answer(std::size_t check, std::size_t answer) {
  return static_cast<char>('0' + 2 * check + answer);
}

}  // namespace

double sum_of(const Masses& masses) { return std::accumulate(masses.begin(), masses.end(), 0.0); }

void History::add(const Done& done) {
  const auto depends = [&](const Done& other) {
    return other.repairs != done.repairs && (other.causes & done.causes) != 0;
  };
  std::size_t at = blocks_.size();
  while (at > 0 && std::none_of(blocks_[at - 1].begin(), blocks_[at - 1].end(), depends)) --at;
  if (at == blocks_.size()) blocks_.emplace_back();
  std::vector<Done>& block = blocks_[at];
  const auto after = [](const Done& a, const Done& b) { return a.name < b.name; };
  block.insert(std::upper_bound(block.begin(), block.end(), done, after), done);
}

std::string History::written() const {
  std::string text;
  for (const std::vector<Done>& block : blocks_) {
    for (const Done& done : block) text += done.name;
    text += '|';
  }
  return text;
}

std::string SmallJob::State::key() const {
  std::string text = history.written() + (unproven != 0 ? '!' : '.');
  for (const std::size_t layer : open) text += static_cast<char>('a' + layer);
  return text;
}

SmallJob::SmallJob(const Diagnosis& job, const Repeats& repeats)
    : job_(job), repeats_(repeats), access_(job.model()) {
  std::size_t count = 1;
  for (std::size_t c = 0; c < pack().causes.size(); ++c) {
    place_.push_back(count);
    count *= 3;
  }
  for (std::size_t i = 0; i < 2 * count; ++i) {
    unsigned must = 0;
    for (std::size_t c = 0; c < place_.size(); ++c) must |= digit(i % count, c) == 2 ? 1U << c : 0U;
    must_go_.push_back(must);
  }
  for (const pack::Check& check : pack().checks) {
    of_check_.emplace_back();
    for (std::size_t answer = 0; answer < 2; ++answer) {
      of_check_.back().push_back(likelihood(check.finding, answer));
    }
  }
}

std::size_t SmallJob::digit(std::size_t possibility, std::size_t cause) const {
  return possibility / place_[cause] % 3;
}

Masses SmallJob::likelihood(std::size_t finding, std::size_t answer) const {
  const pack::Finding& what = pack().findings[finding];
  Masses all;
  for (std::size_t i = 0; i < must_go_.size(); ++i) {
    const std::size_t possibility = i % (must_go_.size() / 2);
    if (what.kind == pack::Kind::inspection) {
      const pack::Outcome& outcome = what.outcomes[answer];
      all.push_back((digit(possibility, what.cause) > 0 ? outcome.present : outcome.absent).value);
      continue;
    }
    double absent = 1 - what.leak[0].value;
    for (const pack::Link& link : what.links) {
      if (digit(possibility, link.cause) > 0) absent *= 1 - link.strength[0].value;
    }
    all.push_back(answer == 0 ? absent : 1 - absent);
  }
  return all;
}

/// Without any evidence but that the complaint is there.
Masses SmallJob::priors() const {
  const pack::Finding& complaint = pack().findings[0];
  Masses all;
  for (std::size_t i = 0; i < must_go_.size(); ++i) {
    const double leak = complaint.leak[0].value;
    double mass = incurable(i) ? leak : 1 - leak;
    for (std::size_t c = 0; c < place_.size(); ++c) {
      double strength = 0;
      for (const pack::Link& link : complaint.links) {
        if (link.cause == c) strength = link.strength[0].value;
      }
      const double prior = pack().causes[c].prior.value;
      const std::array<double, 3> chance = {1 - prior, prior * (1 - strength), prior * strength};
      mass *= chance[digit(i % (must_go_.size() / 2), c)];
    }
    all.push_back(must_go_[i] != 0 || incurable(i) ? mass : 0);
  }
  return all;
}

SmallJob::State SmallJob::start() const {
  State state;
  state.masses = priors();
  for (const Observation& seen : job_.evidence().observations) {
    if (job_.evidence().complaint.front() == seen.finding) continue;
    const Masses share = likelihood(job_.model().findings[seen.finding].finding, seen.level);
    for (std::size_t i = 0; i < share.size(); ++i) state.masses[i] *= share[i];
  }
  const double total = sum_of(state.masses);
  for (double& mass : state.masses) mass /= total;
  state.checked.assign(pack().checks.size(), 0);
  state.repaired.assign(pack().repairs.size(), 0);
  state.open = job_.evidence().open_layers;
  return state;
}

bool SmallJob::can_repair(const State& state, std::size_t repair) const {
  if (!repeats_.at_once && (state.unproven >> repair & 1U) != 0) return false;
  return can_repair_yet(state, repair);
}

bool SmallJob::can_repair_yet(const State& state, std::size_t repair) const {
  const std::vector<pack::Removal>& removes = pack().repairs[repair].removes;
  const bool sure = std::all_of(removes.begin(), removes.end(),
                                [](const pack::Removal& one) { return one.success.value >= 1; });
  return state.repaired[repair] < (sure ? 1 : repeats_.times);
}

double SmallJob::minutes_of_check(const State& state, std::size_t check) const {
  const pack::Check& what = pack().checks[check];
  const OpenLayers then = access_.after(state.open, access_.need_of(what));
  return what.minutes.once + what.minutes.each + access_.minutes(state.open, then).total();
}

double SmallJob::minutes_of_repair(const State& state, std::size_t repair) const {
  const pack::Repair& what = pack().repairs[repair];
  const OpenLayers then = access_.after(state.open, access_.need_of(what));
  return what.minutes.once + what.minutes.each + access_.minutes(state.open, then).total();
}

double SmallJob::minutes_to_verify(const State& state) const {
  return access_.minutes(state.open, {}).total() + pack().frame.verify_minutes;
}

double SmallJob::minutes_to_hand_on(const State& state) const {
  return access_.minutes(state.open, {}).total() + pack().frame.hand_on_minutes;
}

std::size_t SmallJob::answers(std::size_t check) const { return of_check_[check].size(); }

SmallJob::State SmallJob::checked(const State& state, std::size_t check, std::size_t answer) const {
  State then = state;
  const Masses& share = of_check_[check][answer];
  for (std::size_t i = 0; i < share.size(); ++i) then.masses[i] *= share[i];
  then.open = access_.after(state.open, access_.need_of(pack().checks[check]));
  ++then.checked[check];
  const pack::Finding& finding = pack().findings[pack().checks[check].finding];
  unsigned causes = finding.kind == pack::Kind::inspection ? 1U << finding.cause : 0U;
  for (const pack::Link& link : finding.links) causes |= 1U << link.cause;
  then.history.add({name_of_answer(check, answer), false, causes});
  return then;
}

SmallJob::State SmallJob::repaired(const State& state, std::size_t repair) const {
  State then = state;
  unsigned causes = 0;
  for (const pack::Removal& one : pack().repairs[repair].removes) {
    causes |= 1U << one.cause;
    for (std::size_t i = 0; i < then.masses.size(); ++i) {
      const std::size_t there = digit(i % (must_go_.size() / 2), one.cause);
      if (there == 0) continue;
      const double gone = then.masses[i] * one.success.value;
      then.masses[i] -= gone;
      then.masses[i - there * place_[one.cause]] += gone;
    }
  }
  then.open = access_.after(state.open, access_.need_of(pack().repairs[repair]));
  then.unproven |= 1U << repair;
  ++then.repaired[repair];
  then.history.add({name_of_repair(repair), true, causes});
  return then;
}

SmallJob::State SmallJob::verified_still(const State& state) const {
  State then = state;
  for (std::size_t i = 0; i < then.masses.size(); ++i) {
    if (must_go_[i] == 0 && !incurable(i)) then.masses[i] = 0;
  }
  then.open = {};
  then.unproven = 0;
  then.history.add({kVerified, false, ~0U});
  return then;
}

double SmallJob::present(const Masses& masses, std::size_t cause) const {
  double sum = 0;
  for (std::size_t i = 0; i < masses.size(); ++i) {
    if (digit(i % (must_go_.size() / 2), cause) > 0) sum += masses[i];
  }
  return sum / sum_of(masses);
}

}  // namespace tickover::test
