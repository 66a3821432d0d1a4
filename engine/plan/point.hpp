/// @file
/// The nodes of the tree that looking ahead grows. Inside Lookahead only.
#pragma once

#include "engine/plan/lookahead.hpp"

namespace tickover::plan {

/// One thing done at a point, with the points that its results lead to.
struct Lookahead::Branching {
  std::size_t option = 0;          ///< index into options(), at the present point
  double fixed = 0;                ///< minutes of doing it, and of results not followed
  double nothing = 0;              ///< P(nothing is learnt, or too little to be followed)
  double one_step = 0;             ///< of doing it, then a course
  double price = 0, expected = 0;  ///< as of Point
  std::vector<std::pair<double, std::shared_ptr<Point>>> results = {};  ///< with probabilities
};

/// What may be known at one moment, and what is planned from there.
struct Lookahead::Point {
  std::shared_ptr<const Sample> sample;
  std::shared_ptr<Replies> replies;  ///< of the sample
  std::vector<double> weights;
  double total = 0;                   ///< sum of weights
  std::vector<std::size_t> looked;    ///< as Situation::looked
  std::vector<std::size_t> answered;  ///< besides the evidence, ascending
  bool asking = true;                 ///< the machine is as the rider brought it
  OpenLayers open = {};
  bool unverified = false;  ///< as Situation::unverified
  Course course = {};
  double free = 0;      ///< what a cure would cost on average if what is wrong were known
  double price = 0;     ///< of the cheapest plan from here that the tree holds
  double expected = 0;  ///< what it will cost once looked at further, as far as is foreseen
  bool expanded = false;
  std::vector<Branching> branchings = {};
  std::vector<std::pair<OpenLayers, double>> elsewhere = {};  ///< answers of nothing_learnt
};

}  // namespace tickover::plan
