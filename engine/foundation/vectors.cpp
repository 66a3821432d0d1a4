#include "engine/foundation/vectors.hpp"

#include <algorithm>
#include <cmath>

#include "engine/foundation/wide.hpp"

namespace tickover {

// Eight sums side by side, added in a fixed order: as fast as the machine allows and the same
// everywhere.

TICKOVER_WIDE double sum(const double* v, std::size_t size) {
  double sums[8] = {0, 0, 0, 0, 0, 0, 0, 0};
  std::size_t t = 0;
  for (; t + 8 <= size; t += 8) {
    for (std::size_t i = 0; i < 8; ++i) sums[i] += v[t + i];
  }
  for (; t < size; ++t) sums[t % 8] += v[t];
  return ((sums[0] + sums[4]) + (sums[1] + sums[5])) + ((sums[2] + sums[6]) + (sums[3] + sums[7]));
}

TICKOVER_WIDE double inner(const double* a, const double* b, std::size_t size) {
  double sums[8] = {0, 0, 0, 0, 0, 0, 0, 0};
  std::size_t t = 0;
  for (; t + 8 <= size; t += 8) {
    for (std::size_t i = 0; i < 8; ++i) sums[i] += a[t + i] * b[t + i];
  }
  for (; t < size; ++t) sums[t % 8] += a[t] * b[t];
  return ((sums[0] + sums[4]) + (sums[1] + sums[5])) + ((sums[2] + sums[6]) + (sums[3] + sums[7]));
}

TICKOVER_WIDE double mean_distance(const double* weights, const double* v, std::size_t size,
                                   double middle) {
  double sums[8] = {0, 0, 0, 0, 0, 0, 0, 0};
  std::size_t t = 0;
  for (; t + 8 <= size; t += 8) {
    for (std::size_t i = 0; i < 8; ++i) sums[i] += weights[t + i] * std::abs(v[t + i] - middle);
  }
  for (; t < size; ++t) sums[t % 8] += weights[t] * std::abs(v[t] - middle);
  return ((sums[0] + sums[4]) + (sums[1] + sums[5])) + ((sums[2] + sums[6]) + (sums[3] + sums[7]));
}

TICKOVER_WIDE void multiply(double* to, const double* from, std::size_t size) {
  for (std::size_t t = 0; t < size; ++t) to[t] *= from[t];
}

TICKOVER_WIDE void scale(double* to, const double* from, std::size_t size, double factor) {
  for (std::size_t t = 0; t < size; ++t) to[t] = factor * from[t];
}

TICKOVER_WIDE void mix(double* to, const double* a, double a_factor, const double* b,
                       double b_factor, std::size_t size) {
  for (std::size_t t = 0; t < size; ++t) to[t] = a_factor * a[t] + b_factor * b[t];
}

double largest(const double* v, std::size_t size) {
  double most[4] = {0, 0, 0, 0};
  std::size_t t = 0;
  for (; t + 4 <= size; t += 4) {
    for (std::size_t i = 0; i < 4; ++i) most[i] = most[i] < v[t + i] ? v[t + i] : most[i];
  }
  for (; t < size; ++t) most[0] = std::max(most[0], v[t]);
  return std::max(std::max(most[0], most[1]), std::max(most[2], most[3]));
}

TICKOVER_WIDE void add_scaled(double* to, const double* from, std::size_t size, double factor) {
  for (std::size_t t = 0; t < size; ++t) to[t] += factor * from[t];
}

}  // namespace tickover
