/// @file
/// Where the work is done: what cannot be done there, and what money is worth in minutes.
#pragma once

#include <optional>
#include <string>
#include <utility>
#include <vector>

#include "engine/plan/constraints.hpp"

namespace tickover::plan {

/// Plans reckon in minutes; money is turned into minutes at the shop's rate. Without prices only
/// minutes count.
struct Shop {
  struct Prices {
    std::string currency;
    double minute = 1;              ///< what a minute of work costs, above 0
    std::optional<double> hand_on;  ///< money lost with a machine handed on uncured
    double comeback = 0;            ///< and, besides the work, with one that left as cured
    std::vector<std::pair<std::string, double>> parts;        ///< by words of a part's text
    std::vector<std::pair<std::string, double>> consumables;  ///< by a check's id
  };

  Constraints constraints = {};
  std::optional<Prices> prices = {};

  /// What a part costs, as money: the price of the longest words of the list that stand in its
  /// text. None where the list has no such words.
  std::optional<double> price_of(const std::string& part) const;
  /// Minutes of work for whose price the parts of `repair` at one place can be had: by their
  /// prices, but where some part has none no less than what the pack says.
  double parts_of(const pack::Repair& repair) const;
  /// The same for what `check` uses up at one place.
  double consumables_of(const pack::Check& check) const;
  /// Price of handing on, in minutes: the shop's, or else `of_pack`.
  double hand_on_minutes(double of_pack) const;
  /// What each verification costs, in minutes, when the complaint is still there: the price of a
  /// comeback as often as the test of `frame` misses it.
  double comeback_minutes(const pack::Frame& frame) const;
};

}  // namespace tickover::plan
