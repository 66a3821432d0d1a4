#include "engine/evidence/exhaust_sample.hpp"

#include <array>
#include <cctype>
#include <cmath>
#include <map>

#include "engine/evidence/density.hpp"
#include "engine/evidence/slip.hpp"
#include "engine/foundation/error.hpp"
#include "engine/foundation/measured.hpp"
#include "engine/foundation/text.hpp"
#include "engine/gas/exhaust.hpp"

namespace tickover {
namespace {

using Shares = std::map<std::string, double>;  ///< by the gas's name, by volume

constexpr double kConfirmBeyond = 4;  // standard deviations of the balance
constexpr double kTrust = 2;          // standard deviations that a lambda is trusted to

[[noreturn]] void refuse(const std::string& what, const std::string& hint) {
  throw InputError(InputFault::usage, "", what, hint);
}

std::vector<std::string> names_of(const pack::Finding& finding) {
  std::vector<std::string> names;
  for (const pack::Gas& gas : finding.gases) names.push_back(gas.name);
  return names;
}

/// "co2" and "NOx" as the pack spells them.
const pack::Gas& gas_named(const pack::Finding& finding, const std::string& word) {
  std::string name;
  for (const char c : word) name += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
  if (name == "NOX") name = "NO";
  for (const pack::Gas& gas : finding.gases) {
    if (gas.name == name) return gas;
  }
  throw unknown_name(InputFault::usage, "", "gas", word, names_of(finding));
}

std::string shown(double share, const std::string& unit) {
  return format_quantity({share, Dimension::fraction}, unit, 4);
}

/// Throws with the gas's name before what is wrong with its value.
double share_of(const pack::Gas& gas, const std::string& text) try {
  const double share = parse_measured(text, gas.unit).si;
  const double low = quantity_in(gas.plausible_low, gas.unit).si;
  const double high = quantity_in(gas.plausible_high, gas.unit).si;
  const auto plausible = [&](double value) { return value >= low && value <= high; };
  if (plausible(share)) return share;
  refuse("it cannot be " + shown(share, gas.unit) + ": real values lie from " +
             shown(low, gas.unit) + " to " + shown(high, gas.unit),
         probable_slip(text, gas.unit, plausible));
} catch (const InputError& error) {
  refuse(gas.name + ": " + error.rule(), error.hint());
}

/// Words of the text; "=", ":" and ";" part like blanks, and so does a comma before a blank.
std::vector<std::string> words_of(const std::string& text) {
  std::vector<std::string> words;
  std::string word;
  const auto end = [&] {
    if (!word.empty() && word.back() == ',') word.pop_back();
    if (!word.empty()) words.push_back(word);
    word.clear();
  };
  for (const char c : text) {
    const bool parts = c == ' ' || c == '\t' || c == '=' || c == ':' || c == ';';
    if (parts) {
      end();
    } else {
      word += c;
    }
  }
  end();
  return words;
}

bool begins_a_gas(const std::string& word) {
  return !word.empty() && std::isalpha(static_cast<unsigned char>(word.front())) != 0;
}

/// Units are letters too: "300 ppm". A word is a gas when it is not a unit after a bare number.
bool is_unit(const std::string& word) {
  return known_unit(word) && dimension_of(word) == Dimension::fraction;
}

Shares parse_shares(const pack::Finding& finding, const std::string& text) {
  const std::string form = "give name and value of each gas: \"CO 3% CO2 12% HC 250ppm O2 0.8%\"";
  const std::vector<std::string> words = words_of(text);
  Shares shares;
  for (std::size_t i = 0; i < words.size();) {
    if (!begins_a_gas(words[i])) refuse("'" + printable(words[i]) + "' follows no gas", form);
    const pack::Gas& gas = gas_named(finding, words[i++]);
    std::string value;
    while (i < words.size() && (!begins_a_gas(words[i]) || is_unit(words[i]))) value += words[i++];
    if (value.empty()) refuse("the value of " + gas.name + " is missing", form);
    if (!shares.emplace(gas.name, share_of(gas, value)).second) {
      refuse(gas.name + " is given twice", form);
    }
  }
  for (const pack::Gas& gas : finding.gases) {
    if (gas.needed && shares.count(gas.name) == 0) refuse(gas.name + " is missing", form);
  }
  return shares;
}

ExhaustCheck checked(const Shares& shares) {
  const auto share = [&](const char* name) {
    const auto found = shares.find(name);
    return Fraction(found == shares.end() ? 0 : found->second);
  };
  try {
    return check_exhaust({share("CO"), share("CO2"), share("O2"), share("HC"), share("NO")},
                         kRegulationPetrol);
  } catch (const InputError& error) {
    throw InputError(InputFault::usage, "", error.rule(), error.hint());
  }
}

/// Adds in quadrature what an error of one cell does, by the difference it makes.
void add_error(const pack::Gas& gas, Shares shares, SampleLambda& sample) {
  double& share = shares.at(gas.name);
  const double error = std::hypot(quantity_in(gas.instrument, gas.unit).si, gas.relative * share);
  share += share >= error ? -error : error;  // no gas leaves its range by that
  const ExhaustCheck there = checked(shares);
  sample.error = std::hypot(sample.error, there.lambda - sample.lambda);
  sample.undiluted_error =
      std::hypot(sample.undiluted_error, there.diluted_lambda - sample.undiluted);
  sample.balance_error = std::hypot(sample.balance_error, there.balance - sample.balance);
}

/// Density of what was measured when the true lambda is `truth`.
double measured(const SampleLambda& sample, double scatter, double truth, double thinning) {
  const double lambda = std::hypot(sample.error, scatter);
  const double undiluted = std::hypot(sample.undiluted_error, scatter);
  const double rise = sample.lambda - truth;
  const double of_lambda =
      thinning > 0 ? modified_gaussian(rise, lambda, thinning) : normal_density(rise, 0, lambda);
  return of_lambda * normal_density(sample.undiluted, std::min(truth, 1.0), undiluted);
}

/// Integral over the true lambda from `from` to `to`, cut at 1, where the burnt gases go mute.
template <class Density>
double over_truth(double from, double to, double width, const Density& density) {
  double sum = 0;
  const auto add = [&](const Node& node) { sum += node.weight * density(node.at); };
  for_nodes(from, std::min(to, 1.0), width, add);
  for_nodes(std::max(from, 1.0), to, width, add);
  return sum;
}

}  // namespace

SampleLambda parse_exhaust_sample(const pack::Finding& finding, const std::string& text) {
  const Shares shares = parse_shares(finding, text);
  const ExhaustCheck check = checked(shares);
  SampleLambda sample;
  sample.lambda = check.lambda;
  sample.undiluted = check.diluted_lambda;
  sample.balance = check.balance;
  for (const pack::Gas& gas : finding.gases) {
    if (shares.count(gas.name) > 0) add_error(gas, shares, sample);
  }
  const double resolution = kTrust * std::max(sample.error, sample.undiluted_error);
  sample.doubtful = lean_reading_doubtful(check, std::min(resolution, 0.2));
  return sample;
}

bool needs_confirmation(const SampleLambda& sample) {
  return std::abs(sample.balance - 1) > kConfirmBeyond * sample.balance_error;
}

SampleModel sample_model(const Model& model, const FindingInstance& instance) {
  const pack::Finding& finding = model.pack.findings[instance.finding];
  return {reading_model(model, instance), mean_shift(finding, pack::Direction::thinned)};
}

double sample_density(const SampleModel& model, const SampleLambda& sample, std::size_t places,
                      const Moved& moved) {
  const ReadingModel& mixture = model.mixture;
  const auto part = [&](std::size_t count) {
    return static_cast<double>(count) / static_cast<double>(places);
  };
  const double thinning = model.thinning * part(moved.thinned);
  const double deviation = mixture.tolerance / 2;
  const double width = std::min(
      std::hypot(std::min(sample.error, sample.undiluted_error), mixture.instrument), deviation);
  const auto seen = [&](double truth) {
    return measured(sample, mixture.instrument, truth, thinning);
  };
  const auto beyond = [&](double share, double side, double shift) {
    const double start = mixture.wanted + side * share * mixture.tolerance;
    const double mean = share * shift, end = start + side * kShifts * mean;
    return over_truth(std::min(start, end), std::max(start, end), std::min(width, mean),
                      [&](double truth) {
                        return std::exp(-std::abs(truth - start) / mean) / mean * seen(truth);
                      });
  };
  double density = 0;
  if (moved.rich == 0 && moved.lean == 0) {
    const double reach = kDeviations * deviation;
    density = over_truth(mixture.wanted - reach, mixture.wanted + reach, width, [&](double truth) {
      return normal_density(truth, mixture.wanted, deviation) * seen(truth);
    });
  }
  if (moved.rich > 0) density += beyond(part(moved.rich), -1, mixture.shift_low);
  if (moved.lean > 0) density += beyond(part(moved.lean), +1, mixture.shift_high);
  if (moved.rich > 0 && moved.lean > 0) density /= 2;  // whichever has the upper hand
  const double floor =
      mixture.slip / (mixture.plausible_high - mixture.plausible_low) / (1 - mixture.plausible_low);
  return (1 - mixture.slip) * density + floor;
}

std::vector<Way> sample_ways(const SampleModel& model, const std::vector<std::size_t>& findings) {
  const std::array<std::pair<pack::Direction, double>, 3> directions = {{
      {pack::Direction::low, model.mixture.shift_low},
      {pack::Direction::high, model.mixture.shift_high},
      {pack::Direction::thinned, model.thinning},
  }};
  std::vector<Way> ways;
  for (const std::size_t finding : findings) {
    for (const auto& [direction, shift] : directions) {
      if (shift > 0) ways.push_back({finding, direction});
    }
  }
  return ways;
}

JointLikelihood sample_likelihood(const SampleModel& model, const SampleLambda& sample,
                                  const std::vector<std::size_t>& findings) {
  JointLikelihood joint{sample_ways(model, findings), {}};
  std::map<std::array<std::size_t, 3>, double> known;  // many sets move as many places
  for (std::size_t set = 0; set < std::size_t{1} << joint.ways.size(); ++set) {
    std::array<std::size_t, 3> moved{};
    for (std::size_t way = 0; way < joint.ways.size(); ++way) {
      if (set >> way & 1) ++moved[static_cast<std::size_t>(joint.ways[way].direction)];
    }
    const auto [found, fresh] = known.try_emplace(moved, 0);
    if (fresh) {
      found->second =
          sample_density(model, sample, findings.size(), {moved[0], moved[1], moved[2]});
    }
    joint.table.push_back(found->second);
  }
  return joint;
}

}  // namespace tickover
