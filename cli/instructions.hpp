/// @file
/// What is told of how an action is carried out.
#pragma once

#include <string>
#include <vector>

#include "engine/diagnosis.hpp"

namespace tickover::cli {

/// The steps of one look or repair among those of a course.
struct Stretch {
  std::string of;         ///< its name
  std::size_t first = 0;  ///< index into Instructions::how
};

/// Of a check also what is seen when all is well, and what goes wrong with it; else empty.
struct Instructions {
  pack::Cautions cautions;  ///< its own, and those of the layers it opens
  std::vector<std::string> tools, parts, how;
  std::string good = {};
  std::vector<std::string> mistakes = {};
  std::vector<Stretch> stretches = {};  ///< of a course; empty else
  OpenLayers opens = {}, closes = {};   ///< against how the machine stands now
};

Instructions instructions(const Diagnosis& job, const plan::Proposal& proposal);
/// Of a repair by itself.
Instructions repair_instructions(const Diagnosis& job, std::size_t repair);

/// Cautions first, then what must come off or go on again, tools, parts, steps; an empty line
/// before each of these.
std::string instructions_in_words(const pack::Pack& pack, const Instructions& steps);

/// "Side panels and seat; Airbox off".
std::string layers_in_words(const pack::Pack& pack, const OpenLayers& layers);

}  // namespace tickover::cli
