#include "cli/sitting/task_text.hpp"

#include <fmt/format.h>

#include <algorithm>

#include "cli/choices.hpp"
#include "cli/finishing.hpp"
#include "cli/instructions.hpp"
#include "cli/print.hpp"
#include "cli/report.hpp"
#include "engine/evidence/answers.hpp"
#include "engine/evidence/confirmed.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/foundation/text.hpp"

namespace tickover::cli {
namespace {

constexpr std::size_t kOtherWaysShown = 6;

const pack::Finding& finding_of(const Model& model, const Task& task) {
  return model.pack.findings[finding_named(model, task.what)];
}

/// A check done by hand or as a look of a course, as the planner would put it.
plan::Proposal as_proposal(const Diagnosis& job, const Task& task) {
  const Model& model = job.model();
  const OpenLayers& open = job.evidence().open_layers;
  if (const auto check = pack::find(model.pack.checks, task.what)) {
    return plan::check_at(job.workshop(), open, *check, task.places);
  }
  plan::Proposal question;
  question.kind = plan::ActionKind::ask;
  question.index = finding_named(model, task.what);
  question.places = task.places;
  question.work_minutes = model.pack.frame.ask_minutes;
  question.open_after = open;
  return question;
}

std::string head(const std::string& what, double minutes, const std::string& why) {
  return labelled("Next  ", what, 6) + labelled("Time  ", minutes_in_words(minutes), 6) +
         labelled("Why   ", why, 6);
}

/// Why a step of a course is taken.
std::string of_course(const Plan& plan) {
  return fmt::format(
      "It is a step of the cheapest way on from here; after all of its steps the complaint is gone "
      "{}.",
      odds_in_words(plan.advice->proposals.front().cured));
}

std::string observation_in_words(const Diagnosis& job, const Plan& plan) {
  const Task& task = plan.task;
  const plan::Proposal own = as_proposal(job, task);
  const bool ask = own.kind == plan::ActionKind::ask;
  const bool advised = task.proposal && !task.begun &&
                       plan.advice->proposals[*task.proposal].kind != plan::ActionKind::course;
  std::string out;
  if (advised) {
    out = head_in_words(job, plan.shop, *plan.advice, plan.advice->proposals[*task.proposal]);
  } else {
    const std::string why = task.begun      ? "It was begun at another place; this is what is left."
                            : task.proposal ? of_course(plan)
                            : ask           ? "The rider's words may mean it, or you chose it."
                                            : "You chose it.";
    out = head(headline(job.model(), own), own.minutes(), why);
  }
  return ask ? out : out + instructions_in_words(job.model().pack, instructions(job, own));
}

std::string to_order_in_words(const Task& task) {
  if (task.to_order.empty()) return {};
  return labelled("Order ",
                  join_words(task.to_order) +
                      ": not in stock. 'skip' goes on with what can be done until it is here.",
                  6);
}

std::string repair_in_words(const Diagnosis& job, const Plan& plan) {
  const Model& model = job.model();
  const std::size_t index = *pack::find(model.pack.repairs, plan.task.what);
  const pack::Repair& repair = model.pack.repairs[index];
  const Access& access = job.workshop().access();
  const OpenLayers& open = job.evidence().open_layers;
  const double minutes = repair.minutes.once +
                         repair.minutes.each * static_cast<double>(plan.task.places.size()) +
                         access.minutes(open, access.after(open, access.need_of(repair))).total();
  const std::string where = places_in_words(model, plan.task.places);
  return head("Repair: " + repair.name + (where.empty() ? "" : ", " + where), minutes,
              plan.task.proposal ? of_course(plan) : "You chose it.") +
         to_order_in_words(plan.task) +
         instructions_in_words(model.pack, repair_instructions(job, index));
}

std::string verification_in_words(const Diagnosis& job) {
  const pack::Frame& frame = job.model().pack.frame;
  const double closing = job.workshop().access().minutes(job.evidence().open_layers, {}).close;
  Instructions how{frame.verify_cautions, {}, {}, frame.verify_how};
  how.closes = job.evidence().open_layers;
  return head("Close up, run it and road test", frame.verify_minutes + closing,
              "Only the running machine tells whether the complaint is gone.") +
         instructions_in_words(job.model().pack, how);
}

std::vector<Choice> answers(const pack::Finding& finding) {
  std::vector<Choice> choices;
  if (finding.kind == pack::Kind::reading) return choices;
  for (const pack::Outcome& outcome : finding.outcomes) {
    choices.push_back({outcome.id, outcome.name});
  }
  if (!choices.empty()) return choices;
  for (const std::string& level : finding.levels) choices.push_back({level, ""});
  return choices;
}

std::vector<Choice> causes_to_confirm(const Diagnosis& job) {
  std::vector<Choice> choices;
  for (const std::size_t cause : confirmable(job)) {
    choices.push_back({cause_word(job.model(), cause), job.model().describe_cause(cause)});
  }
  return choices;
}

/// The complaint, then what else was there: what may have gone.
std::vector<Choice> symptoms_told(const Diagnosis& job) {
  std::vector<Choice> choices;
  const auto add = [&](std::size_t instance) {
    const pack::Finding& finding =
        job.model().pack.findings[job.model().findings[instance].finding];
    const bool known = std::any_of(choices.begin(), choices.end(),
                                   [&](const Choice& one) { return one.word == finding.id; });
    if (finding.kind == pack::Kind::symptom && !known) {
      choices.push_back({finding.id, finding.name});
    }
  };
  for (const std::size_t instance : job.evidence().complaint) add(instance);
  for (const Observation& seen : job.evidence().observations) {
    if (seen.level > 0) add(seen.finding);
  }
  return choices;
}

std::vector<Choice> other_ways(const Diagnosis& job, const Plan& plan) {
  std::vector<Choice> choices;
  const pack::Pack& pack = job.model().pack;
  const auto add = [&](const std::string& id, const std::string& text) {
    const bool known = std::any_of(choices.begin(), choices.end(),
                                   [&](const Choice& one) { return one.word == id; });
    if (!known && choices.size() < kOtherWaysShown) choices.push_back({id, text});
  };
  if (!plan.advice) return choices;
  for (const plan::Proposal& one : plan.advice->proposals) {
    if (one.kind == plan::ActionKind::check)
      add(pack.checks[one.index].id, headline(job.model(), one));
    if (one.kind == plan::ActionKind::ask)
      add(pack.findings[one.index].id, headline(job.model(), one));
    if (one.kind != plan::ActionKind::course) continue;
    for (const plan::CourseStep& step : one.batch.steps) {
      const std::string& id =
          step.look ? pack.checks[step.look->check].id : pack.repairs[step.repair].id;
      add(id, steps_in_words(job.model(), {step}));
    }
  }
  return choices;
}

std::string in_capital(std::string text) {
  text[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(text[0])));
  return text;
}

/// How one answer is given for all the places left.
std::string at_others(const Task& task) {
  if (task.places.size() < 2) return {};
  return " ('all' after the answer: at the " + std::to_string(task.places.size()) + " places left)";
}

std::string observation_question(const Diagnosis& job, const Task& task) {
  const pack::Finding& finding = finding_of(job.model(), task);
  const Place place = task.places.front();
  const bool one_place =
      place.scope == pack::Scope::engine || job.model().places(place.scope).size() == 1;
  std::string out = finding.ask.empty() ? finding.name : finding.ask;
  if (!finding.gases.empty()) {
    out += ": the gases with their units, as in CO 0.4% CO2 12% HC 300ppm O2 3.5%";
  } else if (finding.kind == pack::Kind::reading) {
    out += ": a value in " + (finding.unit == "1" ? "plain numbers" : finding.unit) +
           "; wanted: " + wanted_text(job.model(), finding) +
           "; limits: " + limit_text(job.model(), finding);
  }
  out = wrapped(in_capital(out), 0);
  return one_place ? out
                   : out + wrapped(in_capital(job.model().describe(place)) + at_others(task), 0);
}

std::string listed(const std::vector<Choice>& choices) {
  std::string out;
  std::size_t widest = 0;
  for (const Choice& choice : choices) widest = std::max(widest, columns_of(choice.word));
  const std::size_t indent = 7 + std::min<std::size_t>(widest, 28);
  for (std::size_t i = 0; i < choices.size(); ++i) {
    const std::string label = fmt::format("{:>3}  {}", i + 1, choices[i].word);
    out += choices[i].text.empty()
               ? label + "\n"
               : labelled(padded(label, indent - 1) + " ", choices[i].text, indent);
  }
  return out;
}

}  // namespace

std::string task_in_words(const Session& session, const Plan& plan) {
  const Diagnosis& job = *session.diagnosis;
  switch (plan.task.kind) {
    case TaskKind::observe:
      return observation_in_words(job, plan);
    case TaskKind::repair:
      return repair_in_words(job, plan);
    case TaskKind::verify:
      return verification_in_words(job);
    case TaskKind::strike:
      return contradiction_in_words(job, session.journal);
    case TaskKind::hand_on:
      if (!plan.task.to_order.empty()) {
        return wrapped(
            "Nothing else is worth its time until this is here: " + join_words(plan.task.to_order) +
                ". 'quit' leaves the job open; 'tickover work' goes on with it then.",
            0);
      }
      if (plan.advice && plan.advice->proposals.empty() && !plan.advice->too_long.empty()) {
        return nothing_fits_in_words(job, *plan.advice, *plan.shop.constraints.minutes) +
               "'quit' leaves the job open; 'tickover work' goes on with it.\n";
      }
      return wrapped("No check or repair on the list is worth its time against handing the job on.",
                     0);
    case TaskKind::finish:
      return job.evidence().verdict == "gone"
                 ? "The complaint is gone.\n"
                 : "No road test has found the complaint gone yet. 'back' leaves the job open.\n";
    default:
      return {};
  }
}

std::string question_in_words(const Session& session, const Plan& plan) {
  const Diagnosis& job = *session.diagnosis;
  std::string ask;
  switch (plan.task.kind) {
    case TaskKind::words:
      ask = wrapped("What does the rider complain of, in the rider's own words? Or a symptom's id.",
                    0);
      break;
    case TaskKind::observe:
      ask = observation_question(job, plan.task);
      break;
    case TaskKind::repair:
      ask = plan.task.places.size() > 1
                ? "Done? ('done " + cylinders_at(job.model(), {plan.task.places.back()}) +
                      "': there only)\n"
                : "Done?\n";
      break;
    case TaskKind::verify:
      ask = "How does it run?\n";
      break;
    case TaskKind::changed:
      ask = "Which have gone? Numbers or words, several with commas.\n";
      break;
    case TaskKind::finish:
      ask = wrapped(
          "Which causes were confirmed? Numbers or ids, several with commas; or none. This closes "
          "the job.",
          0);
      break;
    case TaskKind::strike:
      ask = "Which entry is mistaken? Its number, and a reason.\n";
      break;
    case TaskKind::choose:
      ask = wrapped(
          "What will you do? A number; an id or words of the name of any check, symptom or repair; "
          "or verify, or finish. 'back' leaves it as advised.",
          0);
      break;
    default:
      ask = "What will you do?\n";
  }
  return ask + listed(choices_of(session, plan));
}

std::vector<Choice> choices_of(const Session& session, const Plan& plan) {
  const Diagnosis& job = *session.diagnosis;
  switch (plan.task.kind) {
    case TaskKind::observe:
      return answers(finding_of(job.model(), plan.task));
    case TaskKind::repair:
      return {{"done", ""}};
    case TaskKind::verify:
      return {{"gone", "the complaint is gone"},
              {"still", "it is as it was"},
              {"changed", "some of it has gone"}};
    case TaskKind::changed:
      return symptoms_told(job);
    case TaskKind::finish:
      return causes_to_confirm(job);
    case TaskKind::choose:
      return other_ways(job, plan);
    case TaskKind::hand_on:
      return {{"finish", "close the job"}, {"other", "do something else"}};
    default:
      return {};
  }
}

}  // namespace tickover::cli
