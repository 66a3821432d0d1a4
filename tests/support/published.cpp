#include "tests/support/published.hpp"

#include "engine/uai/uai.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::test {
namespace {

constexpr double kSixDigits = 6e-7;

/// Chest clinic: Lauritzen & Spiegelhalter, Local computations with probabilities on graphical
/// structures, J. R. Statist. Soc. B 50 (1988) 157-224. State 1 is yes. The article prints fewer
/// digits; these were worked out with three programs that are not ours, toulbar2 and bayesjs among
/// them.
enum Chest : std::size_t { asia, tuberculosis, smoker, cancer, bronchitis, either, xray, dyspnoea };

Published chest(const std::vector<belief::tables::Observed>& observed, double evidence,
                const std::vector<double>& yes, const std::vector<std::size_t>& best = {},
                double best_probability = 0) {
  Published one{"chest-clinic", observed, evidence, {}, kSixDigits, best, best_probability};
  for (std::size_t i = 0; i < yes.size(); ++i) one.marginals.push_back({i + 1, 1, yes[i]});
  return one;
}

std::vector<Published> chest_clinic() {
  std::vector<Published> all = {
      chest({}, 1, {.0104, .5, .055, .45, .064828, .110290, .435971}, {0, 0, 0, 0, 0, 0, 0, 0},
            .29036198),
      chest({{asia, 1}, {dyspnoea, 1}}, .0045013750,
            {.087751, .625920, .099525, .811402, .182300, .219539, 1}, {1, 0, 1, 0, 1, 0, 0, 1},
            .00194940),
      chest({{asia, 1}, {dyspnoea, 1}, {xray, 1}}, .0009882267,
            {.391712, .702025, .444271, .628822, .813769, 1, 1}, {1, 0, 1, 1, 1, 1, 1, 1},
            .00025137),
      chest({{asia, 1}, {dyspnoea, 1}, {xray, 0}}, .0035131482,
            {.002249, .604512, .002550, .862761, .004672, 0, 1}),
      chest({{xray, 1}}, .1102900400, {.092411, .687754, .488711, .506326, .576040, 1, .640766}),
      chest({{dyspnoea, 1}}, .4359706000,
            {.018845, .633997, .102759, .833967, .120536, .162098, 1})};
  all[4].marginals.push_back({asia, 1, .013156});
  all[5].marginals.push_back({asia, 1, .010325});
  return all;
}

/// Burglary: Pearl, Probabilistic Reasoning in Intelligent Systems, 1988; with these numbers in
/// Russell & Norvig, AIMA, chapter "Probabilistic reasoning", which prints 0.284 and 0.000628.
enum Burglary : std::size_t { burglary, earthquake, alarm, john, mary };

std::vector<Published> burglaries() {
  return {{"burglary",
           {{john, 1}, {mary, 1}},
           .0020841002,
           {{burglary, 1, .284172}, {alarm, 1, .760692}, {earthquake, 1, .176067}},
           kSixDigits},
          {"burglary", {{john, 1}}, .052138976, {{burglary, 1, .016284}}, kSixDigits},
          {"burglary",
           {{john, 1}, {mary, 1}, {alarm, 1}, {burglary, 0}, {earthquake, 0}},
           .00062811,
           {},
           kSixDigits}};
}

/// Car start: Jensen & Nielsen, Bayesian Networks and Decision Graphs, 2nd ed. 2007, chapter 2.
enum Car : std::size_t { fuel, plugs, meter, starts };

std::vector<Published> car_starts() {
  return {
      {"car-start", {}, 1, {{meter, 0, .38222}, {meter, 1, .58802}, {meter, 2, .02976}}, 6e-6},
      {"car-start", {{starts, 0}}, .068216, {{fuel, 0, .293186}, {plugs, 0, .580626}}, kSixDigits},
      {"car-start",
       {{starts, 0}, {meter, 1}},
       0,
       {{fuel, 0, .000690856}, {plugs, 0, .804350}},
       kSixDigits},
      {"car-start",
       {{starts, 0}, {meter, 2}},
       0,
       {{fuel, 0, .976413}, {plugs, 0, .058041}},
       kSixDigits},
      {"car-start",
       {{starts, 0}, {meter, 0}},
       0,
       {{fuel, 0, .001062}, {plugs, 0, .804065}},
       kSixDigits}};
}

/// Fever from cold, flu, malaria: Russell & Norvig, AIMA, chapter "Probabilistic reasoning", the
/// noisy-OR example: inhibition 0.6, 0.2, 0.1, no leak. Causes of even odds here.
std::vector<Published> fevers() {
  const std::vector<double> fever = {0, .9, .8, .98, .4, .94, .88, .988};
  std::vector<Published> all;
  for (std::size_t i = 0; i < 8; ++i) {
    all.push_back(
        {"fever", {{0, i >> 2 & 1}, {1, i >> 1 & 1}, {2, i & 1}}, .125, {{3, 1, fever[i]}}, 1e-12});
  }
  return all;
}

}  // namespace

const std::vector<Published>& published() {
  static const std::vector<Published> all = [] {
    std::vector<Published> out;
    for (const auto& some : {chest_clinic(), burglaries(), car_starts(), fevers()}) {
      out.insert(out.end(), some.begin(), some.end());
    }
    return out;
  }();
  return all;
}

belief::tables::FactorGraph published_network(const std::string& name) {
  const std::string path = "tests/outside/networks/" + name + ".uai";
  return uai::read_network(source_text(path), path);
}

}  // namespace tickover::test
