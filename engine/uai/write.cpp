#include <fmt/format.h>

#include "engine/foundation/text.hpp"
#include "engine/uai/uai.hpp"

namespace tickover::uai {
namespace {

using belief::tables::Factor;

/// Entries on a line: those of a few rows, so that a person can read it.
constexpr std::size_t kEntriesALine = 8;

void add_table(const Factor& factor, std::string& out) {
  out += "\n" + std::to_string(factor.values.size());
  for (std::size_t i = 0; i < factor.values.size(); ++i) {
    out += (i % kEntriesALine == 0 ? "\n " : " ") + shortest(factor.values[i]);
  }
  out += "\n";
}

}  // namespace

std::string network_text(const belief::tables::FactorGraph& graph) {
  std::string out = "BAYES\n" + std::to_string(graph.cardinality.size()) + "\n";
  for (std::size_t v = 0; v < graph.cardinality.size(); ++v) {
    out += (v == 0 ? "" : " ") + std::to_string(graph.cardinality[v]);
  }
  out += "\n" + std::to_string(graph.factors.size()) + "\n";
  for (const Factor& factor : graph.factors) {
    out += std::to_string(factor.scope.size());
    for (const std::size_t variable : factor.scope) out += " " + std::to_string(variable);
    out += "\n";
  }
  for (const Factor& factor : graph.factors) add_table(factor, out);
  return out;
}

std::string evidence_text(const std::vector<belief::tables::Observed>& observed) {
  std::string out = std::to_string(observed.size());
  for (const belief::tables::Observed& one : observed) {
    out += fmt::format(" {} {}", one.variable, one.state);
  }
  return out + "\n";
}

}  // namespace tickover::uai
