#include "engine/evidence/density.hpp"

#include <numbers>

namespace tickover {
namespace {

/// Log of the complementary error function; the asymptotic series where erfc underflows
/// (Abramowitz & Stegun 7.1.23).
double log_erfc(double x) {
  if (x < 20) return std::log(std::erfc(x));
  const double inverse = 1 / (2 * x * x);
  return -x * x - std::log(x * std::sqrt(std::numbers::pi)) +
         std::log1p(-inverse + 3 * inverse * inverse);
}

}  // namespace

double normal_density(double x, double mean, double deviation) {
  const double z = (x - mean) / deviation;
  return std::exp(-0.5 * z * z) / (deviation * std::sqrt(2 * std::numbers::pi));
}

double modified_gaussian(double x, double deviation, double tail) {
  const double rate = 1 / tail;
  const double argument = (rate * deviation * deviation - x) / (deviation * std::numbers::sqrt2);
  return rate / 2 *
         std::exp(rate / 2 * (rate * deviation * deviation - 2 * x) + log_erfc(argument));
}

}  // namespace tickover
