#include <algorithm>
#include <cmath>
#include <stdexcept>

#include "engine/plan/carried.hpp"
#include "tests/support/optimum.hpp"

namespace tickover::test {
namespace {

constexpr double kNoMass = 1e-12;
constexpr std::size_t kMostDecisions = 20000;

/// A job in the planner's hands: the state, and the journal that it reads.
struct Hands {
  SmallJob::State state;
  JobWriter journal;
  std::string so_far = {};  ///< what came of what was done
};

struct Decision {
  plan::Proposal first;
  belief::Belief belief = {};  ///< that it rests on, where that is told
};
/// What is done first in a state, for the journal so far.
using Decide =
    std::function<Decision(const plan::Workshop&, const Journal&, const SmallJob::State&)>;

class Follower {
 public:
  Follower(const SmallJob& small, const Decide& decide, bool told)
      : small_(small), decide_(decide), told_(told) {}

  PlannerCost run(const Journal& journal) {
    Hands hands{small_.start(), JobWriter(plain_sheet())};
    for (std::size_t i = 1; i < journal.entries.size(); ++i) hands.journal.add(journal.entries[i]);
    cost_.minutes = act(hands);
    return cost_;
  }

 private:
  /// What may not be done again is barred, as a mechanic would with --without.
  plan::Workshop workshop(const SmallJob::State& state) const {
    plan::Shop shop;
    for (std::size_t c = 0; c < small_.pack().checks.size(); ++c) {
      if (!small_.can_check(state, c)) bar(shop, small_.pack().checks[c].id);
    }
    for (std::size_t r = 0; r < small_.pack().repairs.size(); ++r) {
      if (!small_.can_repair_yet(state, r)) bar(shop, small_.pack().repairs[r].id);
    }
    return plan::Workshop(small_.job().model(), shop);
  }
  static void bar(plan::Shop& shop, const std::string& id) {
    shop.constraints.without.push_back(id);
  }

  /// Expected minutes from here, times the state's mass.
  double act(const Hands& hands) {
    const double mass = sum_of(hands.state.masses);
    if (mass < kNoMass) return 0;
    if (++cost_.decisions > kMostDecisions) throw std::runtime_error("no end to it");
    const plan::Workshop there = workshop(hands.state);
    const Decision decision = decide_(there, hands.journal.journal(), hands.state);
    compare(decision.belief, hands.state.masses);
    const plan::Proposal& first = decision.first;
    tell(hands, mass, first);
    if (first.kind == plan::ActionKind::hand_on) {
      return mass * small_.minutes_to_hand_on(hands.state);
    }
    if (first.kind != plan::ActionKind::check) return carry_out(hands, first.batch);
    double minutes = mass * small_.minutes_of_check(hands.state, first.index);
    for (std::size_t answer = 0; answer < small_.answers(first.index); ++answer) {
      minutes += act(seen(hands, first.index, answer));
    }
    return minutes;
  }

  void compare(const belief::Belief& belief, const Masses& masses) {
    for (std::size_t c = 0; c < belief.present_now.size(); ++c) {
      const double off = std::abs(belief.present_now[c] - small_.present(masses, c));
      cost_.worst_belief = std::max(cost_.worst_belief, off);
    }
  }

  Hands seen(const Hands& hands, std::size_t check, std::size_t answer) const {
    const pack::Check& what = small_.pack().checks[check];
    const pack::Finding& finding = small_.pack().findings[what.finding];
    const std::string word = finding.kind == pack::Kind::inspection ? finding.outcomes[answer].id
                                                                    : finding.levels[answer];
    Hands then{small_.checked(hands.state, check, answer), hands.journal, hands.so_far};
    then.journal.record(what.id, word);
    then.so_far += " " + what.id + "=" + word;
    return then;
  }

  /// Minutes of the repair times mass; `hands` move on.
  double repair(Hands& hands, std::size_t index) const {
    const double minutes =
        sum_of(hands.state.masses) * small_.minutes_of_repair(hands.state, index);
    hands.state = small_.repaired(hands.state, index);
    hands.journal.repair(small_.pack().repairs[index].id);
    hands.so_far += " " + small_.pack().repairs[index].id;
    return minutes;
  }

  /// Something that must be verified before it is repaired again is verified first.
  double carry_out(const Hands& hands, const plan::Batch& batch) {
    for (const plan::CourseStep& step : batch.steps) {
      if (!small_.can_repair(hands.state, step.repair)) return verify(hands);
    }
    std::vector<const plan::CourseStep*> looks;
    for (const plan::CourseStep& step : batch.steps) {
      if (step.look) looks.push_back(&step);
    }
    const auto order = [](const plan::CourseStep* a, const plan::CourseStep* b) {
      const bool first = !a->look->need.shut.empty(), then = !b->look->need.shut.empty();
      if (first != then) return first;
      return a->look->check < b->look->check;
    };
    std::stable_sort(looks.begin(), looks.end(), order);
    return look(hands, batch, looks, 0);
  }

  double look(const Hands& hands, const plan::Batch& batch,
              const std::vector<const plan::CourseStep*>& looks, std::size_t next) {
    if (next == looks.size()) return repair_and_verify(hands, batch);
    const std::size_t check = looks[next]->look->check;
    const pack::Finding& finding = small_.pack().findings[small_.pack().checks[check].finding];
    double minutes = sum_of(hands.state.masses) * small_.minutes_of_check(hands.state, check);
    for (std::size_t answer = 0; answer < small_.answers(check); ++answer) {
      Hands then = seen(hands, check, answer);
      const pack::Outcome& outcome = finding.outcomes[answer];
      if (outcome.present.value > outcome.absent.value) {
        minutes += repair(then, looks[next]->repair);
        minutes += act(then);
      } else {
        minutes += look(then, batch, looks, next + 1);
      }
    }
    return minutes;
  }

  double repair_and_verify(const Hands& hands, const plan::Batch& batch) {
    Hands then = hands;
    double minutes = 0;
    for (const plan::CourseStep& step : batch.steps) {
      if (!step.look) minutes += repair(then, step.repair);
    }
    if (then.state.unproven == 0 && !batch.steps.empty()) return minutes + act(then);
    return minutes + verify(then);
  }

  double verify(Hands hands) {
    const double minutes = sum_of(hands.state.masses) * small_.minutes_to_verify(hands.state);
    hands.state = small_.verified_still(hands.state);
    hands.journal.verify("still");
    hands.so_far += " still";
    return minutes + act(hands);
  }

  void tell(const Hands& hands, double mass, const plan::Proposal& first) {
    if (!told_) return;
    std::string what = "hand on";
    if (first.kind == plan::ActionKind::check) what = small_.pack().checks[first.index].id;
    if (first.kind == plan::ActionKind::course || first.kind == plan::ActionKind::verify) {
      what = "course";
      for (const plan::CourseStep& step : first.batch.steps) {
        what += step.look ? " " + small_.pack().checks[step.look->check].id + "?" : "";
        what += " " + small_.pack().repairs[step.repair].id;
      }
      what += " verify";
    }
    cost_.plan += std::to_string(mass) + hands.so_far + " -> " + what + " (" +
                  std::to_string(first.expected_minutes) + ")\n";
  }

  const SmallJob& small_;
  const Decide& decide_;
  const bool told_;
  PlannerCost cost_;
};

}  // namespace

PlannerCost planner_cost(const SmallJob& small, const Journal& journal, const plan::Effort& effort,
                         bool told, const Watch& watch) {
  const Decide decide = [&](const plan::Workshop& there, const Journal& so_far,
                            const SmallJob::State& state) {
    const Evidence evidence = collect_evidence(small.job().model(), so_far, "test");
    const plan::Advice advice =
        plan::advise(there, small.job().ground(), evidence, watch ? 1 : 0, effort);
    if (watch) watch(state, advice);
    return Decision{advice.proposals.front(), advice.belief};
  };
  return Follower(small, decide, told).run(journal);
}

PlannerCost carried_cost(const SmallJob& small, const Journal& journal) {
  const Decide decide = [&](const plan::Workshop& there, const Journal& so_far,
                            const SmallJob::State&) {
    Evidence evidence;
    plan::Carried carried(there, small.job().ground(), evidence);
    Journal grown;
    Decision decision;
    const std::size_t last = so_far.entries.size();
    for (std::size_t i = 0; i < last; ++i) {
      grown.entries.push_back(so_far.entries[i]);
      grown.struck.push_back(false);
      if (i + 1 < last && i % 2 == 1) continue;  // as where an act makes two entries
      evidence = collect_evidence(small.job().model(), grown, "test");
      if (!evidence.complaint.empty()) decision.first = carried.first().value();
    }
    return decision;
  };
  return Follower(small, decide, false).run(journal);
}

}  // namespace tickover::test
