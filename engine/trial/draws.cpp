#include "engine/trial/draws.hpp"

#include <cmath>
#include <numbers>

#include "engine/foundation/random.hpp"

namespace tickover::trial {
namespace {

std::uint64_t at(std::uint64_t state, Purpose purpose, Key key) {
  for (const std::uint64_t part : {static_cast<std::uint64_t>(purpose), key.a, key.b, key.c}) {
    state = mixed(state ^ mixed(part));
  }
  return state;
}

}  // namespace

Draws::Draws(std::uint64_t seed, std::uint64_t stream, std::uint64_t attempt)
    : state_(mixed(mixed(mixed(seed) ^ stream) ^ attempt)) {}

double Draws::uniform(Purpose purpose, Key key) const { return unit(at(state_, purpose, key)); }

/// Box & Muller 1958.
double Draws::normal(Purpose purpose, Key key) const {
  const std::uint64_t first = at(state_, purpose, key);
  return std::sqrt(-2 * std::log(unit(first))) *
         std::cos(2 * std::numbers::pi * unit(mixed(first)));
}

double Draws::exponential(Purpose purpose, Key key) const {
  return -std::log(uniform(purpose, key));
}

bool Draws::chance(double probability, Purpose purpose, Key key) const {
  return uniform(purpose, key) < probability;
}

std::size_t Draws::pick(const std::vector<double>& shares, Purpose purpose, Key key) const {
  double left = uniform(purpose, key);
  for (std::size_t i = 0; i < shares.size(); ++i) {
    if (left < shares[i]) return i;
    left -= shares[i];
  }
  return shares.size();
}

}  // namespace tickover::trial
