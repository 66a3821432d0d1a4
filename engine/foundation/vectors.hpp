/// @file
/// Arithmetic on long vectors of numbers, in the widest instructions that the machine has; the same
/// bits on every machine.
#pragma once

#include <cstddef>

namespace tickover {

/// sum of v[t].
double sum(const double* v, std::size_t size);
/// sum of a[t] * b[t].
double inner(const double* a, const double* b, std::size_t size);
/// sum of weights[t] * |v[t] - middle|.
double mean_distance(const double* weights, const double* v, std::size_t size, double middle);

/// to[t] *= from[t].
void multiply(double* to, const double* from, std::size_t size);
/// to[t] = factor * from[t], or added to it.
void scale(double* to, const double* from, std::size_t size, double factor);
void add_scaled(double* to, const double* from, std::size_t size, double factor);
/// to[t] = a_factor * a[t] + b_factor * b[t].
void mix(double* to, const double* a, double a_factor, const double* b, double b_factor,
         std::size_t size);
/// The largest of non-negative entries.
double largest(const double* v, std::size_t size);

}  // namespace tickover
