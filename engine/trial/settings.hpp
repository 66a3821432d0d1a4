/// @file
/// What a trial is played by, as data: how riders are, and the rules of the simple policies.
#pragma once

#include <string>
#include <vector>

#include "engine/pack/pack.hpp"

namespace tickover::trial {

/// One line of a printed trouble chart: look for it there, and mend it so.
struct OrderStep {
  std::size_t repair = 0;           ///< index into pack.repairs
  std::vector<std::size_t> checks;  ///< indices into pack.checks; none: repaired without looking
};

/// A trouble chart that is followed line by line.
struct PrintedOrder {
  std::string title, source;
  std::vector<OrderStep> steps;
};

struct Settings {
  double risk_share = 0;         ///< P(each risk factor holds of a machine)
  std::vector<double> told;      ///< P(a rider tells of 1, 2, .. symptoms, if as many are present)
  double repair_above = 1;       ///< entropy-greedy: a cause likelier than this is repaired
  double least_information = 0;  ///< entropy-greedy: checks that promise fewer bits are left
  PrintedOrder order;
};

/// Reads settings; `schema` is the text of trial.schema.json, `file` names the text in errors.
/// Throws InputError (data), for an id that the pack lacks with the nearest one.
Settings load_settings(const std::string& text, const std::string& schema, const std::string& file,
                       const pack::Pack& pack);

}  // namespace tickover::trial
