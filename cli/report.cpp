#include "cli/report.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <nlohmann/json.hpp>

#include "cli/alike.hpp"
#include "cli/cautions.hpp"
#include "cli/choices.hpp"
#include "cli/forecasts.hpp"
#include "cli/instructions.hpp"
#include "cli/print.hpp"
#include "engine/belief/weigh.hpp"
#include "engine/foundation/text.hpp"
#include "engine/plan/choices.hpp"
#include "engine/trail/describe.hpp"

namespace tickover::cli {
namespace {

std::string numbers_in_words(const std::vector<Place>& places) {
  std::vector<std::string> numbers;
  for (const Place place : places) numbers.push_back(std::to_string(place.number));
  return join_words(numbers);
}

const pack::Finding& finding_of(const Model& model, const plan::Proposal& proposal) {
  const std::size_t finding = proposal.kind == plan::ActionKind::check
                                  ? model.pack.checks[proposal.index].finding
                                  : proposal.index;
  return model.pack.findings[finding];
}

/// True for a course of more than one look or repair.
bool begins_longer(const plan::Proposal& proposal) {
  return !proposal.batch.steps.empty() &&
         plan::first_steps(proposal.batch).size() < proposal.batch.steps.size();
}

/// Empty where looking farther ahead adds less than a minute.
std::string with_what_follows(const plan::Shop& shop, const plan::Advice& advice,
                              const plan::Proposal& proposal) {
  if (proposal.farther < 1) return {};
  const double spared = advice.course_now.expected_minutes - proposal.expected_minutes;
  return ", with the checks that can follow it " + price_in_words(shop, spared);
}

/// For who goes on all the same; empty where nothing tells anything.
std::string most_telling_in_words(const Model& model, const plan::Advice& advice) {
  constexpr std::size_t kNamed = 3;
  std::vector<std::string> named;
  for (const std::size_t i : plan::most_telling(advice, kNamed)) {
    named.push_back(headline(model, advice.proposals[i]));
  }
  if (named.empty()) return {};
  return " To go on all the same, begin with what tells most for its time: " +
         join_words(named, "; ", "; ") + ".";
}

std::string why(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
                const plan::Proposal& proposal) {
  const Model& model = job.model();
  if (proposal.kind == plan::ActionKind::course) {
    const bool asking_is_cheaper = std::any_of(
        advice.proposals.begin(), advice.proposals.end(), [&](const plan::Proposal& one) {
          return one.expected_minutes < proposal.expected_minutes;
        });
    return fmt::format(
        "{} the complaint is gone {}; {}.",
        begins_longer(proposal)
            ? fmt::format("It comes first in the plan below. After the {} of its first part, road "
                          "test included,",
                          minutes_in_words(proposal.minutes()))
            : "After this",
        odds_in_words(proposal.cured),
        asking_is_cheaper ? "what could be asked first would change nothing of it"
                          : "no single further check would spare more time than it takes");
  }
  if (proposal.kind == plan::ActionKind::verify) {
    return fmt::format("What was repaired ends the complaint {}; running it is the cheapest proof.",
                       odds_in_words(proposal.cured));
  }
  if (proposal.kind == plan::ActionKind::hand_on) {
    return "No check or repair on the list is worth its time against handing the job on." +
           most_telling_in_words(model, advice);
  }
  const auto now = [&](std::size_t cause) {
    return odds_in_words(advice.belief.present_now[cause]);
  };
  std::vector<std::string> causes;
  each_alike(model, proposal.decides, now, [&](const std::vector<std::size_t>& alike) {
    if (causes.size() == 2) return;
    causes.push_back(fmt::format("{} (now {})", causes_in_words(model, alike), now(alike.front())));
  });
  const double spared = plan::spared_by_itself(advice, proposal);
  const std::string worth =
      spared > 0 ? fmt::format("By itself it spares {} on average{}.", price_in_words(shop, spared),
                               with_what_follows(shop, advice, proposal))
                 : "It pays together with what can follow it.";
  return (causes.empty() ? "" : fmt::format("It tells most about: {}. ", join_words(causes))) +
         worth;
}

std::string minutes_line(const plan::Proposal& proposal) {
  std::string line = minutes_in_words(proposal.minutes());
  if (proposal.access.total() > 0) {
    line += fmt::format(" ({} of work, {} to open and close what is needed)",
                        minutes_in_words(proposal.work_minutes),
                        minutes_in_words(proposal.access.total()));
  }
  if (proposal.kind == plan::ActionKind::course && proposal.cured > 0) {
    line += ", opening, closing and road test included";
  }
  return line;
}

/// "CO ..% CO2 ..% HC ..ppm O2 ..%", in quotes: how a sample of exhaust gas is written.
std::string sample_form(const pack::Finding& finding) {
  std::string form;
  for (const pack::Gas& gas : finding.gases) {
    if (gas.needed) form += (form.empty() ? "" : " ") + gas.name + " .." + gas.unit;
  }
  return "\"" + form + "\"";
}

/// The command that records the first answer of a proposal.
std::string record_line(const Model& model, const plan::Proposal& proposal,
                        const std::string& path) {
  const pack::Finding& finding = finding_of(model, proposal);
  std::string answers = finding.unit.empty() ? "" : "VALUE in " + finding.unit;
  if (!finding.gases.empty()) answers = sample_form(finding);
  std::vector<std::string> ids =
      finding.kind == pack::Kind::inspection ? pack::ids_of(finding.outcomes) : finding.levels;
  if (answers.empty()) answers = join_words(ids, " | ");
  for (std::size_t at = answers.find(", "); at != std::string::npos; at = answers.find(", ")) {
    answers.replace(at, 2, " | ");
  }
  const std::string name =
      proposal.kind == plan::ActionKind::check ? model.pack.checks[proposal.index].id : finding.id;
  return fmt::format("tickover record {} {} {}{}{}", path, name,
                     finding.scope == pack::Scope::engine ? "" : "--cyl N ", answers,
                     proposal.kind == plan::ActionKind::ask ? " --asked" : "");
}

Json steps_json(const Model& model, const std::vector<plan::CourseStep>& steps) {
  Json list = Json::array();
  for (const plan::CourseStep& step : steps) {
    Json one;
    if (step.look) one["look"] = model.pack.checks[step.look->check].id;
    one["repair"] = model.pack.repairs[step.repair].id;
    if (step.place) one["place"] = step.place->number;
    list.push_back(one);
  }
  return list;
}

std::string kind_name(plan::ActionKind kind) {
  switch (kind) {
    case plan::ActionKind::ask:
      return "ask";
    case plan::ActionKind::check:
      return "check";
    case plan::ActionKind::course:
      return "course";
    case plan::ActionKind::verify:
      return "verify";
    case plan::ActionKind::hand_on:
      return "hand-on";
  }
  return {};
}

Json layer_ids(const Model& model, const OpenLayers& layers) {
  Json ids = Json::array();
  for (const std::size_t layer : layers) ids.push_back(model.pack.layers[layer].id);
  return ids;
}

Json forecast_json(const Model& model, const plan::Forecast& forecast) {
  Json out;
  out["probability"] = steady(forecast.probability);
  out["answers"] = Json::array();
  for (const auto& [place, id] : forecast.answers) {
    out["answers"].push_back({{"place", place.number}, {"answer", id}});
  }
  out["expected-minutes"] = steady(forecast.expected_minutes);
  out["causes"] = Json::array();
  for (const plan::Suspect& suspect : forecast.suspects) {
    out["causes"].push_back(
        {{"cause", model.causes[suspect.cause].id}, {"probability", steady(suspect.probability)}});
  }
  return out;
}

}  // namespace

void print_json(std::ostream& out, const Json& report) {
  out << report.dump(2, ' ', true, Json::error_handler_t::replace) << "\n";
}

double steady(double number) { return std::stod(fmt::format("{:.12g}", number)); }

std::string places_in_words(const Model& model, const std::vector<Place>& places) {
  if (places.empty() || places.front().scope == pack::Scope::engine) return {};
  const std::size_t all = model.places(places.front().scope).size();
  const bool as_cylinders = places.front().scope == pack::Scope::cylinder ||
                            model.machine.carburettors.size() == model.machine.cylinders.size();
  const std::string noun = as_cylinders ? "cylinder" : "carburettor";
  if (all == 1) return {};
  if (places.size() == all)
    return (all == 2 ? "both" : "all " + std::to_string(all)) + " " + noun + "s";
  return noun + (places.size() > 1 ? "s " : " ") + numbers_in_words(places);
}

std::string steps_in_words(const Model& model, const std::vector<plan::CourseStep>& steps) {
  std::map<std::string, std::vector<Place>> places;
  std::vector<std::string> order;
  for (const plan::CourseStep& step : steps) {
    const std::string name = step.look ? "look: " + model.pack.checks[step.look->check].name
                                       : "repair: " + model.pack.repairs[step.repair].name;
    if (places.count(name) == 0) order.push_back(name);
    if (step.place) places[name].push_back(*step.place);
    places.try_emplace(name);
  }
  std::vector<std::string> parts;
  for (const std::string& name : order) {
    std::vector<Place>& at = places[name];
    std::sort(at.begin(), at.end(), [](Place a, Place b) { return a.number < b.number; });
    const std::string where = places_in_words(model, at);
    parts.push_back(where.empty() ? name : name + " (" + where + ")");
  }
  return join_words(parts, "; ", "; ");
}

std::string headline(const Model& model, const plan::Proposal& proposal) {
  switch (proposal.kind) {
    case plan::ActionKind::verify:
      return proposal.access.close > 0 ? "Close up, run it and road test" : "Run it and road test";
    case plan::ActionKind::hand_on:
      return "Stop and hand the job on";
    case plan::ActionKind::course:
      return steps_in_words(model, proposal.batch.steps);
    default:
      break;
  }
  const std::string where = places_in_words(model, proposal.places);
  const std::string name = proposal.kind == plan::ActionKind::check
                               ? model.pack.checks[proposal.index].name
                               : "Ask the rider: " + model.pack.findings[proposal.index].name;
  if (where.empty()) return name;
  return name.ends_with('?') ? name + " (" + where + ")" : name + ", " + where;
}

std::string head_in_words(const Diagnosis& job, const plan::Shop& shop, const plan::Advice& advice,
                          const plan::Proposal& proposal) {
  return labelled("Next  ", headline(job.model(), proposal), 6) +
         labelled("Time  ", minutes_line(proposal), 6) +
         labelled("Why   ", why(job, shop, advice, proposal), 6);
}

/// Of a course the first look or repair; the rest follows from what it shows.
std::string course_begin_in_words(const Diagnosis& job, const plan::Shop& shop,
                                  const plan::Advice& advice, const plan::Proposal& proposal,
                                  const std::string& path) {
  const Model& model = job.model();
  const plan::Proposal own =
      plan::first_step(job.workshop(), job.evidence().open_layers, proposal.batch);
  const std::string out = labelled("Next  ", headline(model, own), 6) +
                          labelled("Time  ", minutes_line(own), 6) +
                          labelled("Why   ", why(job, shop, advice, proposal), 6) +
                          instructions_in_words(model.pack, instructions(job, own));
  if (own.kind != plan::ActionKind::check) return out;
  return out + "\n" + labelled("Then  ", record_line(model, own, path), 6);
}

std::string proposal_in_words(const Diagnosis& job, const plan::Shop& shop,
                              const plan::Advice& advice, const plan::Proposal& proposal,
                              const std::string& path) {
  if (begins_longer(proposal)) return course_begin_in_words(job, shop, advice, proposal, path);
  const Model& model = job.model();
  const std::string out = head_in_words(job, shop, advice, proposal) +
                          instructions_in_words(model.pack, instructions(job, proposal));
  if (proposal.forecasts.empty()) return out;
  return out + "\n" + forecasts_in_words(job, proposal) + "\n" +
         labelled("Then  ", record_line(model, proposal, path), 6);
}

Json proposal_json(const Diagnosis& job, const plan::Proposal& proposal) {
  const Model& model = job.model();
  Json out;
  out["kind"] = kind_name(proposal.kind);
  if (proposal.kind == plan::ActionKind::check) out["check"] = model.pack.checks[proposal.index].id;
  if (proposal.kind == plan::ActionKind::ask)
    out["symptom"] = model.pack.findings[proposal.index].id;
  out["places"] = Json::array();
  for (const Place place : proposal.places) out["places"].push_back(place.number);
  out["steps"] = steps_json(model, proposal.batch.steps);
  out["minutes"] = {{"work", steady(proposal.work_minutes)},
                    {"open", steady(proposal.access.open)},
                    {"close", steady(proposal.access.close)}};
  out["expected-minutes"] = steady(proposal.expected_minutes);
  out["foresight-minutes"] = steady(proposal.farther);
  out["estimated"] = proposal.estimated;
  out["told"] = steady(proposal.told);
  if (proposal.cured > 0) out["cured"] = steady(proposal.cured);
  out["results"] = Json::array();
  for (const plan::Forecast& forecast : proposal.forecasts) {
    out["results"].push_back(forecast_json(model, forecast));
  }
  const Instructions steps = instructions(job, proposal);
  out["cautions"] = cautions_json(model.pack, steps.cautions);
  out["closes"] = layer_ids(model, steps.closes);
  out["opens"] = layer_ids(model, steps.opens);
  out["tools"] = steps.tools;
  out["parts"] = steps.parts;
  out["how"] = steps.how;
  out["good"] = steps.good;
  out["mistakes"] = steps.mistakes;
  return out;
}

Json course_json(const Model& model, const plan::Course& course) {
  Json out = {{"expected-minutes", steady(course.expected_minutes)},
              {"cured", steady(course.cured)}};
  out["batches"] = Json::array();
  for (const plan::Batch& batch : course.batches) {
    out["batches"].push_back({{"minutes", steady(batch.minutes)},
                              {"cured-after", steady(batch.cured_after)},
                              {"steps", steps_json(model, batch.steps)}});
  }
  return out;
}

std::string contradiction_in_words(const Diagnosis& job, const Journal& journal) {
  std::vector<std::string> lines;
  for (const std::size_t number : belief::conflict(job.given())) {
    lines.push_back(
        fmt::format("entry {}: {}", number, describe(job.model(), journal.entries[number - 1])));
  }
  return wrapped(
             "What was recorded cannot all be true under this knowledge pack. These entries "
             "contradict each other:",
             0) +
         bullets(lines) +
         wrapped(
             "Strike out the one that is mistaken: tickover strike JOB ENTRY "
             "--reason ...",
             0);
}

}  // namespace tickover::cli
