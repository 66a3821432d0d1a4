/// @file
/// Densities and sums that the likelihoods of readings are made of. Inside evidence only.
#pragma once

#include <algorithm>
#include <cmath>

namespace tickover {

/// Beyond so many deviations nothing is left of a normal density, nor beyond so many means of an
/// exponential one.
constexpr double kDeviations = 9, kShifts = 36;

double normal_density(double x, double mean, double deviation);

/// Density of a normal deviate plus an exponential one of mean `tail`, at `x` beyond the start
/// (exponentially modified Gaussian, Grushka 1972).
double modified_gaussian(double x, double deviation, double tail);

/// A node of a quadrature: the sum of weight * f(at) is the integral of f.
struct Node {
  double at = 0, weight = 0;
};

/// Calls `use` with the nodes of the five-point Gauss-Legendre rule on each of the panels, not
/// wider than `width` and at most kMostPanels, into which [from, to] is cut. Source of the nodes:
/// Abramowitz & Stegun, table 25.4.
template <class Use>
void for_nodes(double from, double to, double width, const Use& use) {
  constexpr double kMostPanels = 4000;
  constexpr Node kRule[] = {{-0.9061798459386640, 0.2369268850561891},
                            {-0.5384693101056831, 0.4786286704993665},
                            {0.0, 0.5688888888888889},
                            {0.5384693101056831, 0.4786286704993665},
                            {0.9061798459386640, 0.2369268850561891}};
  if (!(to > from)) return;
  const double panels = std::clamp(std::ceil((to - from) / width), 1.0, kMostPanels);
  const double half = (to - from) / panels / 2;
  for (double panel = 0; panel < panels; ++panel) {
    const double middle = from + (2 * panel + 1) * half;
    for (const Node& node : kRule) use(Node{middle + half * node.at, half * node.weight});
  }
}

}  // namespace tickover
