/// @file
/// Networks in the text format of the UAI inference competitions (2006 to 2022): blanks part words;
/// "BAYES" or "MARKOV", the number of variables, their cardinalities, the number of factors, their
/// scopes ("2 0 1"), then for each factor the number of its entries and the entries, the last
/// variable of the scope fastest. Of a Bayesian network the child is last. A file of evidence has
/// the number of variables observed, then each with its state: "1 5 0".
#pragma once

#include <string>
#include <vector>

#include "engine/belief/tables/factor.hpp"

namespace tickover::uai {

/// Networks with a conditional table for each variable in turn, as plain_network makes them.
std::string network_text(const belief::tables::FactorGraph& graph);
std::string evidence_text(const std::vector<belief::tables::Observed>& observed);

/// Throw InputError (data) with `file` and line where the text is something else: what stands
/// there and what was expected. A Bayesian network has one table for each variable, with rows that
/// sum to 1 within 1e-6.
belief::tables::FactorGraph read_network(const std::string& text, const std::string& file);
/// For a network with these cardinalities. Also reads the older form, with a line "1" before.
std::vector<belief::tables::Observed> read_evidence(const std::string& text,
                                                    const std::string& file,
                                                    const std::vector<std::size_t>& cardinality);

}  // namespace tickover::uai
