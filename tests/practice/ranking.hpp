/// @file
/// How the pack ranks causes for symptoms alone, against what was expected of it beforehand.
#pragma once

#include <nlohmann/json_fwd.hpp>
#include <string>
#include <vector>

namespace tickover::test {

/// One printed cause of a row of tables.json, and where the pack puts it.
struct Rank {
  std::string row, printed;
  std::string cause;       ///< the best placed of the causes it may mean
  std::size_t place = 0;   ///< from 1, by the number of such faults expected on the machine
  std::size_t rise = 0;    ///< from 1, by that number over what was expected before the symptom
  std::size_t causes = 0;  ///< how many causes the machine can have

  bool in_top_third() const { return 3 * place <= causes; }
};

/// The expectations of tests/practice/`file`.
nlohmann::json practice(const std::string& file);

/// Every printed cause of a row. Fails the test for a cause the pack or the machine lacks.
std::vector<Rank> ranks_of(const nlohmann::json& row);

/// Expected number of faults of each cause of the pack on the shipped machine before any symptom;
/// by index of the pack, 0 where the machine cannot have it.
std::vector<double> expected_before(const std::string& machine);

}  // namespace tickover::test
