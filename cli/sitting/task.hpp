/// @file
/// Guided work: what is to be done now. It follows from the job alone, and from what was put aside
/// in this sitting, so that whoever leaves and comes back stands at the same place.
#pragma once

#include <optional>
#include <string>
#include <vector>

#include "cli/session.hpp"
#include "engine/plan/advise.hpp"

namespace tickover::cli {

enum class TaskKind {
  words,    ///< what does the rider complain of?
  observe,  ///< a question, a check or a look: one place after the other
  repair,
  verify,   ///< close up, run it, road test
  changed,  ///< which symptoms have gone
  finish,   ///< which causes were confirmed
  strike,   ///< entries contradict each other
  choose,   ///< something else than what was advised
  hand_on,  ///< nothing on the list is worth its time
  finished,
};

struct Task {
  TaskKind kind = TaskKind::words;
  std::string what = {};           ///< observe: a check or symptom; repair: the repair
  std::vector<Place> places = {};  ///< observe: not told yet, in order; repair: where
  bool begun = false;              ///< taken up at other places, though others come before it now
  bool asked = false;              ///< observe: a question of ours, not what the rider came with
  std::optional<std::size_t> proposal = {};  ///< index into Advice::proposals that it is, or is of
  std::vector<std::string> to_order = {};    ///< repair: its parts that are not in stock
};

/// What a sitting knows beside the job file, and forgets when it ends.
struct Sitting {
  plan::Shop shop;     ///< with what was skipped
  std::string chosen;  ///< id of what is done instead of what is advised
  /// Everything of it was told before: it is done once more, by entries after this one.
  std::optional<std::size_t> again_after;
  std::optional<TaskKind> asked;  ///< a question that comes before all else: changed, choose
};

/// The advice that a task follows from; none where it follows without.
struct Plan {
  Task task;
  std::optional<plan::Advice> advice;
  plan::Shop shop = {};  ///< that it reckons with
};

/// The planner's first proposal, put into single steps: the places of a check one by one; of a
/// course the first look or repair. What was begun at some places is finished first, and the
/// rider's own words are gone through before anything else is asked.
///
/// `told` are the ids of the symptoms that the rider's words may mean.
Plan plan_task(const Session& session, const Sitting& sitting,
               const std::vector<std::string>& told);

/// Instances of a finding of which nothing is known in the present epoch; with `after`, of which no
/// later entry tells.
std::vector<Place> unheard(const Diagnosis& job, std::size_t finding,
                           std::optional<std::size_t> after = {});

/// The cylinders a place stands for, as --cyl takes them; "" for the engine.
std::string cylinders_at(const Model& model, const std::vector<Place>& places);

}  // namespace tickover::cli
