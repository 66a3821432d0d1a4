/// @file
/// Values on instruments, drawn from the model by which evidence judges them. Inside trial only.
#pragma once

#include <string>

#include "engine/evidence/reading.hpp"
#include "engine/evidence/siblings.hpp"
#include "engine/trial/draws.hpp"

namespace tickover::trial {

/// Which ways something moves a reading.
struct Moves {
  bool low = false, high = false;
};

/// A value (SI, within the plausible range) as `likelihood` of evidence/reading.hpp has it.
/// `part` addresses how far the part lies off, `look` the error of this look.
double drawn_value(const ReadingModel& model, const Moves& moves, const Draws& draws, Key part,
                   Key look);

/// The value as a mechanic writes it, with its unit; held within the plausible range.
std::string written(const pack::Finding& finding, double si);

/// The success that the truth's pack gives a repair of a cause.
double success_of(const Model& truth, const RepairDone& done);

}  // namespace tickover::trial
