/// @file
/// The knowledge as it applies to one machine: an instance of every cause and finding at each of
/// its places, with the machine's risk factors and minutes.
#pragma once

#include <optional>
#include <ranges>
#include <string>
#include <vector>

#include "engine/machine/machine.hpp"
#include "engine/pack/pack.hpp"

namespace tickover {

/// Where an instance sits. `number` counts from 1; 0 for the engine.
struct Place {
  pack::Scope scope = pack::Scope::engine;
  std::size_t number = 0;
  bool operator==(const Place&) const = default;
};

struct CauseInstance {
  std::size_t cause = 0;  ///< index into pack.causes
  Place place;
  double prior = 0;  ///< with the risk factors of this machine
  std::string id;    ///< "pilot-jet-blocked@3", or the plain id for the engine
};

struct LinkInstance {
  std::size_t cause = 0;  ///< index into Model::causes
  std::size_t link = 0;   ///< index into the finding's links
  /// Cause instances (indices into Model::causes, ascending) that spoil the finding for this one:
  /// those of Finding::spoiled_by whose place has every cylinder at which the cause can show in it.
  /// So one dead plunger of four hides the faults of its own cylinder alone.
  std::vector<std::size_t> spoilers = {};
  double share = 1;  ///< of the link's strength, see Pack::shown_apart
};

/// P(exactly level 1, 2, ..) that the numbers tell.
std::vector<double> probabilities_of(const std::vector<pack::Number>& numbers);
/// The same of what the instance's cause does to a finding.
std::vector<double> strength_of(const pack::Finding& finding, const LinkInstance& link);

struct FindingInstance {
  std::size_t finding = 0;  ///< index into pack.findings
  Place place;
  std::vector<LinkInstance> links;   ///< all kinds but inspection
  std::optional<std::size_t> cause;  ///< inspections: index into Model::causes
  std::string id;
  /// As LinkInstance::spoilers, of what the pack does not list (the leak).
  std::vector<std::size_t> spoilers = {};
};

/// Pack, machine and known risks together. Fixed once built.
struct Model {
  pack::Pack pack;
  Machine machine;
  std::vector<std::size_t> risks;         ///< indices into pack.risks
  std::vector<CauseInstance> causes;      ///< in the pack's order, then by place
  std::vector<FindingInstance> findings;  ///< likewise

  std::optional<std::size_t> find_cause(std::size_t cause, Place place) const;
  std::optional<std::size_t> find_finding(std::size_t finding, Place place) const;

  /// The instances of a finding of the pack, by its index: indices into findings, ascending.
  std::ranges::iota_view<std::size_t, std::size_t> instances_of(std::size_t finding) const;

  /// All places of a scope, in their order.
  std::vector<Place> places(pack::Scope scope) const;
  /// The place of that scope at cylinder `cylinder` (from 1): itself, its carburettor, or the
  /// engine.
  Place place_at(pack::Scope scope, std::size_t cylinder) const;
  /// The cylinders of a place, from 1: itself, those its carburettor feeds, or all.
  std::vector<std::size_t> cylinders_of(Place place) const;
  /// True when every needed feature is there.
  bool applies(const std::vector<std::string>& needs) const;

  /// "the engine", "cylinder 3", "carburettor 2 (cylinders 3 and 4)".
  std::string describe(Place place) const;
  /// "Pilot jet blocked, cylinder 3"; without the place where it could be nowhere else.
  std::string describe_cause(std::size_t instance) const;
  std::string describe_finding(std::size_t instance) const;
};

/// The refusal of `word`, an id of the pack, where the machine lacks some of what it `needs`.
InputError does_not_apply(const std::string& word, const std::vector<std::string>& needs);
/// Throws that (usage) unless all of it is there.
void require_features(const Model& model, const std::string& word,
                      const std::vector<std::string>& needs);

/// Sets every instance's prior from the pack's numbers and the risks, as build_model does.
void update_priors(Model& model);

/// Ground instances for `machine`. What the machine does not have (features) is left out.
/// `risks` are ids of pack.risks. Throws InputError: an unknown risk (usage), or a machine sheet
/// that lacks a wanted value, gives it another dimension, or names an unknown layer (data).
Model build_model(pack::Pack pack, Machine machine, const std::vector<std::string>& risks);

}  // namespace tickover
