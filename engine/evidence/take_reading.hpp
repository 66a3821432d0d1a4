/// @file
/// Journal entries of readings as observations. Inside evidence only.
#pragma once

#include <map>
#include <utility>
#include <vector>

#include "engine/evidence/evidence.hpp"

namespace tickover {

/// Reads the value of `entry` into `seen`, whose finding and epoch are known, and, unless siblings
/// are compared, its likelihood. Throws InputError (usage) for what cannot be, or is to be
/// confirmed.
void take_reading(const Model& model, const Evidence& before, const Entry& entry,
                  Observation& seen);

/// Adds one sample of the exhaust gas that all the places blow into one pipe: an observation for
/// each, of which the first carries what the sample tells of all. It takes the place of an earlier
/// sample of the same pipe in the same epoch. Throws as take_reading does.
void take_sample(const Model& model, Evidence& evidence, const Entry& entry, std::size_t finding,
                 const std::vector<Place>& where);

/// What readings of one kind in one epoch told, by finding of the pack and epoch, so that it is
/// worked out again only when one was added.
struct SiblingsTold {
  std::vector<std::size_t> findings;
  std::vector<double> values;
  std::vector<JointLikelihood> added;
};
using AllSiblingsTold = std::map<std::pair<std::size_t, std::size_t>, SiblingsTold>;

/// Gives every reading against siblings what it adds to those recorded before it in its epoch.
void compare_siblings(const Model& model, Evidence& evidence, AllSiblingsTold& told);

/// Gives every repeated reading of one part, taken by itself, what it adds to those before it.
void join_repeated(const Model& model, Evidence& evidence);

/// Sets aside what a fuller reading of the same epoch and place tells already.
void give_way(const Model& model, Evidence& evidence);

}  // namespace tickover
