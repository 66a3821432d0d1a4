/// @file
/// Something to do now, with what it is expected to lead to.
#pragma once

#include <optional>
#include <string>
#include <utility>
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
  Course course;
  std::vector<double> present;  ///< P(present) of each cause after it, where that is known exactly
  std::vector<Suspect> suspects;  ///< detailed proposals: most probable of them, at most three
};

/// P(one of them comes).
double foreseen(const std::vector<Forecast>& forecasts);
/// Where some results are known exactly, what scenarios say of the others is a share of what those
/// leave. `missing`: P(none of all) by the scenarios.
void share_what_is_left(std::vector<Forecast>& forecasts, double missing);

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
  double told = 0;                   ///< check and ask: how much of the probability the answers
                                     ///< move (mean total variation distance), from scenarios
  double unforeseen = 0;             ///< P(a result too rare to have been looked at)
  bool estimated = false;            ///< expected_minutes is from scenarios, without forecasts
  double farther = 0;                ///< minutes that looking more than a step ahead takes off (in
                                     ///< expected_minutes already), from scenarios
  std::vector<std::size_t> decides;  ///< detailed check and ask: causes it tells most about

  double minutes() const { return work_minutes + access.total(); }
};

/// Check and question: the instances (of Model::findings) that it obtains, place by place.
std::vector<std::size_t> instances_of(const Model& model, const Proposal& proposal);

/// A check at `places` with `open` layers open, as a bare proposal: what it is, where, its minutes.
Proposal check_at(const Workshop& workshop, const OpenLayers& open, std::size_t check,
                  std::vector<Place> places);

/// The steps of a batch that are the same as its first, at all their places. The batch has steps.
std::vector<CourseStep> first_steps(const Batch& batch);

/// Those steps as something to do by themselves: the check that they look by, or a course of the
/// repair alone, with its minutes.
Proposal first_step(const Workshop& workshop, const OpenLayers& open, const Batch& batch);
/// The first batch of a course: look and repair, verify what was done, or hand on.
Proposal to_begin(const Workshop& workshop, const OpenLayers& open, const Course& course);
/// Of a course its first step, else all of it: nobody has to end today what is begun.
double minutes_to_begin(const Workshop& workshop, const OpenLayers& open, const Proposal& proposal);

/// What something costs more than what comes first.
struct More {
  double minutes = 0;
  bool besides = false;  ///< less than by itself, with what comes first done after it
};

/// `by_itself` is what `proposal` costs more where the first is not done after it. A check or
/// question costs no more than doing it besides, and going back to what is `open` now.
More more_than_first(const Workshop& workshop, const OpenLayers& open, const Proposal& proposal,
                     double by_itself);

/// Every check and question that can be done with `open` layers open, as a bare proposal: what it
/// is, where, its minutes. `answered` (Model::findings, ascending) are taken as answered besides
/// what `evidence` has. What takes a step each at several places is a proposal for each place.
std::vector<Proposal> options(const Workshop& workshop, const Evidence& evidence,
                              const OpenLayers& open, const std::vector<std::size_t>& answered);

}  // namespace tickover::plan
