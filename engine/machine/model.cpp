#include "engine/machine/model.hpp"

#include <algorithm>
#include <map>

#include "engine/foundation/error.hpp"
#include "engine/foundation/text.hpp"

namespace tickover {
namespace {

using pack::Scope;

std::string instance_id(const std::string& id, Place place) {
  return place.scope == Scope::engine ? id : id + "@" + std::to_string(place.number);
}

/// A cause reaches a finding when their places share a cylinder.
bool touch(const Model& model, Place a, Place b) {
  const std::vector<std::size_t> left = model.cylinders_of(a), right = model.cylinders_of(b);
  return std::any_of(left.begin(), left.end(), [&](std::size_t cylinder) {
    return std::find(right.begin(), right.end(), cylinder) != right.end();
  });
}

/// The cause instances of `spoiled_by` that have every cylinder common to `shown_at` and
/// `cause_at`.
std::vector<std::size_t> spoilers_of(const Model& model, const pack::Finding& finding,
                                     Place shown_at, Place cause_at) {
  std::vector<std::size_t> spoilers;
  if (finding.spoiled_by.empty()) return spoilers;
  std::vector<std::size_t> common;
  const std::vector<std::size_t> left = model.cylinders_of(shown_at),
                                 right = model.cylinders_of(cause_at);
  std::set_intersection(left.begin(), left.end(), right.begin(), right.end(),
                        std::back_inserter(common));
  for (std::size_t c = 0; c < model.causes.size(); ++c) {
    const std::vector<std::size_t>& spoils = finding.spoiled_by;
    if (std::find(spoils.begin(), spoils.end(), model.causes[c].cause) == spoils.end()) continue;
    const std::vector<std::size_t> own = model.cylinders_of(model.causes[c].place);
    if (std::includes(own.begin(), own.end(), common.begin(), common.end())) spoilers.push_back(c);
  }
  return spoilers;
}

double with_odds(double prior, double odds_ratio) {
  return prior * odds_ratio / (1 - prior + prior * odds_ratio);
}

double prior_of(const Model& model, std::size_t cause) {
  double prior = model.pack.causes[cause].prior.value;
  for (const std::size_t risk : model.risks) {
    for (const pack::Raise& raise : model.pack.risks[risk].raises) {
      if (raise.cause == cause) prior = with_odds(prior, raise.odds.value);
    }
  }
  return prior;
}

void ground_causes(Model& model) {
  for (std::size_t i = 0; i < model.pack.causes.size(); ++i) {
    const pack::Cause& cause = model.pack.causes[i];
    if (!model.applies(cause.needs)) continue;
    for (const Place place : model.places(cause.scope)) {
      model.causes.push_back({i, place, prior_of(model, i), instance_id(cause.id, place)});
    }
  }
}

struct ByCause {
  bool operator()(const CauseInstance& one, std::size_t cause) const { return one.cause < cause; }
  bool operator()(std::size_t cause, const CauseInstance& one) const { return cause < one.cause; }
};

/// What one carburettor does to all cylinders of the machine tells none from the others.
double shown_share(const Model& model, const pack::Finding& finding, Place cause) {
  const std::size_t all = model.machine.cylinders.size();
  const bool shared =
      cause.scope != pack::Scope::engine && all > 1 && model.cylinders_of(cause).size() == all;
  return finding.against_siblings && shared ? model.pack.shown_apart.value : 1;
}

FindingInstance ground_finding(const Model& model, std::size_t index, Place place) {
  const pack::Finding& finding = model.pack.findings[index];
  FindingInstance instance{index, place, {}, {}, instance_id(finding.id, place), {}};
  if (finding.kind == pack::Kind::inspection) {
    instance.cause = model.find_cause(finding.cause, place);
    return instance;
  }
  for (std::size_t l = 0; l < finding.links.size(); ++l) {
    const std::size_t cause = finding.links[l].cause;
    const auto [begin, end] = std::equal_range(model.causes.begin(), model.causes.end(), cause,
                                               ByCause{});  // in the order of the pack
    for (auto at = begin; at != end; ++at) {
      if (!touch(model, at->place, place)) continue;
      const auto c = static_cast<std::size_t>(at - model.causes.begin());
      instance.links.push_back({c, l, spoilers_of(model, finding, place, at->place),
                                shown_share(model, finding, at->place)});
    }
  }
  std::stable_sort(instance.links.begin(), instance.links.end(),
                   [](const auto& a, const auto& b) { return a.cause < b.cause; });
  instance.spoilers = spoilers_of(model, finding, place, place);
  return instance;
}

void ground_findings(Model& model) {
  for (std::size_t i = 0; i < model.pack.findings.size(); ++i) {
    const pack::Finding& finding = model.pack.findings[i];
    if (!model.applies(finding.needs)) continue;
    for (const Place place : model.places(finding.scope)) {
      FindingInstance instance = ground_finding(model, i, place);
      // an inspection of something this machine does not have
      if (finding.kind == pack::Kind::inspection && !instance.cause) continue;
      model.findings.push_back(std::move(instance));
    }
  }
}

void take_layer_minutes(Model& model) {
  for (const auto& [id, minutes] : model.machine.layers) {
    const auto layer = pack::find(model.pack.layers, id);
    if (!layer) {
      throw unknown_name(InputFault::data, "machine '" + model.machine.id + "', /layers",
                         "access layer", id, pack::ids_of(model.pack.layers));
    }
    model.pack.layers[*layer].open_minutes = minutes.open;
    model.pack.layers[*layer].close_minutes = minutes.close;
  }
}

void check_wanted(const Model& model) {
  for (const pack::Finding& finding : model.pack.findings) {
    if (finding.kind != pack::Kind::reading || !model.applies(finding.needs)) continue;
    if (finding.nominal.empty()) continue;  // judged by its siblings alone
    const std::string place = "machine '" + model.machine.id + "', /wanted";
    const auto wanted = model.machine.wanted.find(finding.nominal);
    if (wanted == model.machine.wanted.end()) {
      throw InputError(InputFault::data, place, "'" + finding.nominal + "' is missing",
                       "the reading '" + finding.id + "' is judged by it, in " + finding.unit);
    }
    if (wanted->second.value.dimension == dimension_of(finding.unit)) continue;
    throw InputError(InputFault::data, place + "/" + finding.nominal,
                     "'" + wanted->second.unit + "' does not measure '" + finding.id + "'",
                     "a unit like " + finding.unit + " would");
  }
}

std::vector<std::size_t> resolve_risks(const pack::Pack& pack,
                                       const std::vector<std::string>& ids) {
  std::vector<std::size_t> risks;
  for (const std::string& id : ids) {
    const auto risk = pack::find(pack.risks, id);
    if (!risk)
      throw unknown_name(InputFault::usage, "", "risk factor", id, pack::ids_of(pack.risks),
                         "'tickover list risks'");
    if (std::find(risks.begin(), risks.end(), *risk) == risks.end()) risks.push_back(*risk);
  }
  std::sort(risks.begin(), risks.end());
  return risks;
}

/// By halving: they are in order of `what`, those of one side by side.
template <class Instance>
std::optional<std::size_t> find_instance(const std::vector<Instance>& instances,
                                         std::size_t Instance::*what, std::size_t wanted,
                                         Place place) {
  auto at = std::lower_bound(
      instances.begin(), instances.end(), wanted,
      [what](const Instance& one, std::size_t other) { return one.*what < other; });
  for (; at != instances.end() && (*at).*what == wanted; ++at) {
    if (at->place == place) return static_cast<std::size_t>(at - instances.begin());
  }
  return std::nullopt;
}

}  // namespace

std::vector<double> probabilities_of(const std::vector<pack::Number>& numbers) {
  std::vector<double> out;
  for (const pack::Number& number : numbers) out.push_back(number.value);
  return out;
}

std::vector<double> strength_of(const pack::Finding& finding, const LinkInstance& link) {
  std::vector<double> strength = probabilities_of(finding.links[link.link].strength);
  for (double& one : strength) one *= link.share;
  return strength;
}

std::optional<std::size_t> Model::find_cause(std::size_t cause, Place place) const {
  return find_instance(causes, &CauseInstance::cause, cause, place);
}

std::optional<std::size_t> Model::find_finding(std::size_t finding, Place place) const {
  return find_instance(findings, &FindingInstance::finding, finding, place);
}

std::ranges::iota_view<std::size_t, std::size_t> Model::instances_of(std::size_t finding) const {
  const auto [first, end] =
      std::ranges::equal_range(findings, finding, {}, &FindingInstance::finding);
  return {static_cast<std::size_t>(first - findings.begin()),
          static_cast<std::size_t>(end - findings.begin())};
}

std::vector<Place> Model::places(Scope scope) const {
  if (scope == Scope::engine) return {Place{}};
  const std::size_t count =
      scope == Scope::cylinder ? machine.cylinders.size() : machine.carburettors.size();
  std::vector<Place> all;
  for (std::size_t number = 1; number <= count; ++number) all.push_back({scope, number});
  return all;
}

Place Model::place_at(Scope scope, std::size_t cylinder) const {
  if (scope == Scope::engine) return {};
  if (scope == Scope::cylinder) return {scope, cylinder};
  return {scope, machine.carburettor_of(cylinder)};
}

bool Model::applies(const std::vector<std::string>& needs) const {
  return std::all_of(needs.begin(), needs.end(),
                     [&](const std::string& need) { return machine.has(need); });
}

InputError does_not_apply(const std::string& word, const std::vector<std::string>& needs) {
  return InputError(InputFault::usage, "", "'" + word + "' does not apply to this machine",
                    "it needs: " + join_words(needs));
}

void require_features(const Model& model, const std::string& word,
                      const std::vector<std::string>& needs) {
  if (!model.applies(needs)) throw does_not_apply(word, needs);
}

std::vector<std::size_t> Model::cylinders_of(Place place) const {
  if (place.scope == Scope::cylinder) return {place.number};
  if (place.scope == Scope::carburettor) return machine.carburettors[place.number - 1].feeds;
  std::vector<std::size_t> all(machine.cylinders.size());
  for (std::size_t i = 0; i < all.size(); ++i) all[i] = i + 1;
  return all;
}

std::string Model::describe(Place place) const {
  if (place.scope == Scope::engine) return "the engine";
  const std::string number = std::to_string(place.number);
  if (place.scope == Scope::cylinder) return "cylinder " + number;
  std::vector<std::string> fed;
  for (const std::size_t cylinder : cylinders_of(place)) {
    fed.push_back(std::to_string(cylinder));
  }
  if (fed.size() == 1 && machine.carburettors.size() == machine.cylinders.size()) {
    return "cylinder " + fed.front();
  }
  return "carburettor " + number + " (cylinder" + (fed.size() > 1 ? "s " : " ") + join_words(fed) +
         ")";
}

std::string Model::describe_cause(std::size_t instance) const {
  const CauseInstance& cause = causes[instance];
  const std::string& name = pack.causes[cause.cause].name;
  return places(cause.place.scope).size() == 1 ? name : name + ", " + describe(cause.place);
}

std::string Model::describe_finding(std::size_t instance) const {
  const FindingInstance& finding = findings[instance];
  const std::string& name = pack.findings[finding.finding].name;
  return places(finding.place.scope).size() == 1 ? name : name + ", " + describe(finding.place);
}

void update_priors(Model& model) {
  for (CauseInstance& instance : model.causes) instance.prior = prior_of(model, instance.cause);
}

Model build_model(pack::Pack pack, Machine machine, const std::vector<std::string>& risks) {
  Model model{std::move(pack), std::move(machine), {}, {}, {}};
  model.risks = resolve_risks(model.pack, risks);
  take_layer_minutes(model);
  check_wanted(model);
  ground_causes(model);
  ground_findings(model);
  return model;
}

}  // namespace tickover
