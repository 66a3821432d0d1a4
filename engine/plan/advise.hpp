/// @file
/// What to do next: every check with one step of lookahead, against repairing, verifying, handing
/// on.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// A cause instance and how probable it is.
struct Suspect {
  std::size_t cause = 0;  ///< index into Model::causes
  double probability = 0;
};

/// One result a check may have, and what it would mean.
struct Forecast {
  std::vector<std::pair<Place, std::string>>
      answers;  ///< per place: level or outcome id; readings: low, within, high
  std::vector<Observation> observations;
  double probability = 0;
  double expected_minutes = 0;  ///< of the course after it
  std::vector<Suspect>
      suspects;  ///< detailed proposals: most probable causes after it, at most three
  Course course;
};

enum class ActionKind { ask, check, course, verify, hand_on };

/// Something to do now, with what it is expected to lead to.
struct Proposal {
  ActionKind kind = ActionKind::check;
  std::size_t index = 0;      ///< check: pack.checks; ask: pack.findings
  std::vector<Place> places;  ///< check and ask
  Batch batch;                ///< course and verify: the first batch
  double work_minutes = 0;
  AccessMinutes access;  ///< opening and closing before it can be done
  OpenLayers open_after;
  double consumables = 0;            ///< check: what it uses up, as minutes (Shop)
  double expected_minutes = 0;       ///< of this and all that follows, until verified or handed on,
                                     ///< parts and consumables included
  double cured = 0;                  ///< course and verify: P(complaint gone after it)
  std::vector<Forecast> forecasts;   ///< check and ask: most probable first
  double unforeseen = 0;             ///< P(a result too rare to have been looked at)
  std::vector<std::size_t> decides;  ///< detailed check and ask: causes it tells most about

  double minutes() const { return work_minutes + access.total(); }
};

struct Advice {
  std::vector<Proposal> proposals;  ///< least expected minutes first
  std::vector<Proposal> too_long;   ///< take longer than Constraints::minutes; likewise
  Course course_now;                ///< looking and repairing without any further check
  belief::Belief belief;
  double hand_on_minutes = 0;  ///< closing up, and the price of a machine handed on
  double cured_if_all = 0;     ///< P(cured) if every listed cause were removed
  /// If the complaint is still there after all of course_now: P(this cause alone is what is left),
  /// at most three, and P(something not on the list is behind it).
  std::vector<Suspect> left_over;
  double unlisted_left_over = 0;
};

/// Why one proposal comes before another.
struct Comparison {
  double more_minutes = 0;  ///< what the other costs more on average
  /// The cause whose probability would have to move least for the other to come first, its
  /// probability now and there; none when no single one would do.
  std::optional<std::size_t> cause;
  double now = 0, at_draw = 0;
};

/// Joint results of a check rarer than this are valued as if nothing had been learnt.
constexpr double kLeastResult = 0.04;
/// Readings that leave less doubt than this are taken as in order while plans are weighed.
constexpr double kDoubt = 0.01;

/// A symptom can be asked for as long as the rider speaks of the machine as found.
bool can_be_asked(const pack::Finding& finding, const Evidence& evidence);

/// `evidence` must hold a complaint. One step of lookahead with plan_course as leaf value
/// (Heckerman, Breese & Rommelse 1995, expected cost of observation); the joint results of a check
/// done at several places are followed as far as they are likely, the rest is valued as if nothing
/// had been learnt, so no check is thought better than it is. The first `detailed` proposals are
/// told in full (suspects, decides).
Advice advise(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
              std::size_t detailed = 1);

/// Both proposals as advise() told them in full. The probability at a draw is that of the cause on
/// what is known now, its odds changed by a single further observation of it, to about a tenth of a
/// natural log-odd.
Comparison compare(const Workshop& workshop, const belief::Ground& ground, const Evidence& evidence,
                   const Proposal& first, const Proposal& other);

}  // namespace tickover::plan
