/// @file
/// The nodes of the tree that looking ahead grows. Inside Lookahead only.
#pragma once

#include <algorithm>
#include <map>

#include "engine/plan/lookahead.hpp"
#include "engine/plan/repertoire.hpp"

namespace tickover::plan {

inline void add_sorted(std::vector<std::size_t>& to, std::size_t item) {
  to.insert(std::upper_bound(to.begin(), to.end(), item), item);
}

/// What is the same at all points between two repairs.
struct Lookahead::Basis {
  std::shared_ptr<const Sample> sample;
  Repertoire repertoire;
  Done done;                 ///< when it begins
  bool asking = true;        ///< the machine is as the rider brought it
  bool unverified = false;   ///< as Situation::unverified
  std::vector<double> free;  ///< per scenario: what a cure costs if what is wrong is known
  std::map<std::size_t, Replies> replies = {};  ///< by instance, as far as asked for
};

/// A joint result, and where it leads to.
struct Lookahead::Outcome {
  double probability = 0;
  std::vector<std::uint8_t> replies;  ///< per place
  std::shared_ptr<Point> then;
};

/// One thing done at a point, with the points that its results lead to.
struct Lookahead::Branching {
  std::size_t option = 0;          ///< index into options(), at the present point
  OpenLayers open = {};            ///< after it
  double minutes = 0;              ///< of doing it
  double getting_there = 0;        ///< of those, opening and closing
  double nothing = 0;              ///< P(nothing is learnt, or too little to be followed)
  double fixed = 0;                ///< minutes of doing it, and of results not followed
  double one_step = 0;             ///< of doing it, then a course
  double price = 0, expected = 0;  ///< as of Point
  std::vector<Outcome> outcomes = {};
  bool planned = false;  ///< courses were planned for its results
};

/// What may be known at one moment, and what is planned from there.
struct Lookahead::Point {
  std::shared_ptr<Basis> basis;
  std::vector<double> weights;        ///< per scenario
  double total = 0;                   ///< sum of weights
  std::vector<std::size_t> answered;  ///< since the basis began, ascending
  OpenLayers open = {};
  std::size_t known = 0;           ///< courses of the repertoire that were compared, or kFixed
  Repertoire::Choice course = {};  ///< the cheapest of them
  double free = 0;      ///< what a cure would cost on average if what is wrong were known
  double price = 0;     ///< of the cheapest plan from here that the tree holds
  double expected = 0;  ///< what it will cost once looked at further, as far as is foreseen
  bool expanded = false;
  std::vector<Branching> branchings = {};
};

}  // namespace tickover::plan
