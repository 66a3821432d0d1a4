/// @file
/// A fixed course of looking and repairing from a belief and a state of access, and what it is
/// expected to cost: the value that lookahead puts on its leaves.
#pragma once

#include <mutex>
#include <optional>
#include <vector>

#include "engine/belief/ground.hpp"
#include "engine/machine/access.hpp"
#include "engine/plan/cures.hpp"
#include "engine/plan/done.hpp"
#include "engine/plan/results.hpp"
#include "engine/plan/shop.hpp"

namespace tickover::plan {

/// An inspection of one cause instance that a course may do before repairing.
struct Look {
  std::size_t check = 0;     ///< index into pack.checks
  std::size_t instance = 0;  ///< of the finding it obtains: index into Model::findings
  double sensitivity = 0;    ///< P(an answer that speaks for the cause | present)
  double false_alarm = 0;    ///< P(such an answer | absent)
  AccessNeed need;
};

/// A repair at one place: done without looking, or only if a look shows that it is needed.
struct CourseStep {
  std::size_t repair = 0;      ///< index into pack.repairs
  std::optional<Place> place;  ///< none for the engine
  std::vector<belief::Removal>
      removals;  ///< of cause instances; success includes the look's sensitivity
  std::optional<Look> look;
  AccessNeed need;          ///< of the repair
  pack::Work repairing;     ///< minutes of the repair at one place
  double parts = 0;         ///< of the repair, as minutes (Shop)
  pack::Work looking = {};  ///< minutes of the look
  double consumables = 0;   ///< of the look, as minutes
  std::size_t spot = 0;  ///< the same for the same repair at the same place, below steps().size()
};

/// Both are the same repair, or the same check, at different places or for different causes.
inline bool alike(const CourseStep& a, const CourseStep& b) {
  if (a.look.has_value() != b.look.has_value()) return false;
  return a.look ? a.look->check == b.look->check : a.repair == b.repair;
}

/// The same repair, by the same look or without one, at the same place.
bool same(const CourseStep& a, const CourseStep& b);
bool holds(const std::vector<CourseStep>& steps, const CourseStep& step);

/// Steps done in one go, then everything closed and the cure verified.
struct Batch {
  std::vector<CourseStep> steps;  ///< none: only close up and verify what was done before
  double minutes = 0;             ///< looking, expected repairs, opening, closing, verification
  double parts = 0;               ///< expected parts and consumables, as minutes (Shop)
  double cured_after = 0;         ///< P(complaint gone after this batch and all before it)
};

/// Batches, each done only if the complaint is still there, then handing on.
/// Expected minutes = sum of P(not cured before) * minutes + P(not cured after) * price of a
/// comeback missed, plus P(not cured at all) * hand-on price: the expected cost of repair of
/// Heckerman, Breese & Rommelse (1995) with look-then-repair steps, P(cured) from the exact
/// multi-fault belief, and shared access (Ottosen & Jensen 2010). The repair after a look is paid
/// as often as the look may at most speak for it when its batch is reached, false alarms included:
/// the value is never below what the course truly costs.
struct Course {
  std::vector<Batch> batches;
  double expected_minutes = 0;    ///< all of it: work, parts, comebacks, the price of handing on
  double expected_parts = 0;      ///< of that, parts and consumables
  double expected_hand_on = 0;    ///< of that, the price of handing on
  double expected_comebacks = 0;  ///< of that, the price of cures that were none (Shop)
  double cured = 0;               ///< P(complaint gone after all batches)
};

/// What planning needs to know of a model and of the shop, worked out once.
class Workshop {
 public:
  explicit Workshop(const Model& model, Shop shop = {});

  const Model& model() const { return model_; }
  const Access& access() const { return access_; }
  const Shop& shop() const { return shop_; }
  /// Price of the parts of each repair at one place, as minutes, by the repair's index.
  const std::vector<double>& parts() const { return parts_; }
  /// What each check uses up at one place, as minutes, by the check's index.
  const std::vector<double>& consumables() const { return consumables_; }
  /// Every step that a course may take: each repair at each place, and look-then-repair per cause.
  const std::vector<CourseStep>& steps() const { return steps_; }
  /// Those that may remove the cause (of Model::causes), by index, ascending.
  const std::vector<std::size_t>& steps_with(std::size_t cause) const { return steps_with_[cause]; }

  /// The checks that this machine and shop allow, by index, ascending, and what each needs.
  const std::vector<std::size_t>& checks() const { return checks_; }
  const AccessNeed& need_of(std::size_t check) const { return check_needs_[check]; }
  /// The symptoms (pack.findings) that a rider may be asked for, likewise.
  const std::vector<std::size_t>& questions() const { return questions_; }

  /// answers_of at epoch 0, worked out when first asked for.
  const std::vector<Answer>& answers(std::size_t instance) const;

  /// The repair of `cause` (of pack.causes) that costs least per success, and its success.
  std::optional<std::pair<std::size_t, double>> best_repair(std::size_t cause) const;

  double verify_minutes() const { return model_.pack.frame.verify_minutes; }
  double hand_on_minutes() const { return hand_on_minutes_; }
  /// Of each verification while the complaint is still there; see Shop.
  double comeback_minutes() const { return comeback_minutes_; }

 private:
  void add_repairs(std::size_t repair);
  void add_look_then_repairs();
  std::vector<std::vector<std::size_t>> inspecting_checks() const;
  void add_look_then_repairs(std::size_t cause, const std::vector<std::size_t>& checks,
                             std::pair<std::size_t, double> repair);

  const Model& model_;
  const Access access_;
  const Shop shop_;
  const double hand_on_minutes_, comeback_minutes_;
  std::vector<double> parts_, consumables_;
  std::vector<std::size_t> repairs_, checks_;  ///< that this machine and shop allow
  std::vector<std::size_t> questions_;
  std::vector<AccessNeed> check_needs_;  ///< by the check's index
  std::vector<CourseStep> steps_;
  std::vector<std::vector<std::size_t>> steps_with_;  ///< per cause
  mutable std::once_flag answers_known_;
  mutable std::vector<std::vector<Answer>> answers_;
};

/// A course gives up when so many kinds of steps one after the other did not make it cheaper. Steps
/// that pay only together are found as long as they are no more.
constexpr int kPatience = 10;

/// What a course is planned from: a belief and the state of the machine.
struct Situation {
  Cures& cures;
  const Done& done;
  OpenLayers open;
  /// Repairs were made that no verification has proven: only then is there anything to verify
  /// before the next repair. What fades does so at repairs.
  bool unverified = false;
};

/// Greedy p/c with P(cured) of each beginning: each time the step that takes away most of the cause
/// for fewest minutes, access and closing counted; steps share a batch where verifying between them
/// would cost more; the course ends where handing on is cheapest. Ties by the order of
/// Workshop::steps.
Course plan_course(const Workshop& workshop, const Situation& situation);

/// The cheapest from this belief of courses made from others, as far as they can still be gone, and
/// of handing on at once.
Course cheapest_course(const Workshop& workshop, const Situation& situation,
                       const std::vector<const Course*>& known);

/// A course that begins with `steps` whatever that costs, verified by themselves, and goes on as
/// `known` as far as that pays. `steps` are repairs.
Course begun_apart(const Workshop& workshop, const Situation& situation,
                   const std::vector<CourseStep>& steps, const Course& known);

/// The cheaper of two courses that begin with `steps` whatever that costs, verified by themselves
/// or together with the first batch of `known`, and go on as `known` as far as that pays. `steps`
/// are repairs.
Course begun_with(const Workshop& workshop, const Situation& situation,
                  const std::vector<CourseStep>& steps, const Course& known);

/// One course from a case in which nothing was inspected yet.
Course plan_course(const Workshop& workshop, const belief::Case& given,
                   const std::vector<std::size_t>& complaint, const OpenLayers& open);

}  // namespace tickover::plan
