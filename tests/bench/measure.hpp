/// @file
/// Time and memory of functions and of whole processes.
#pragma once

#include <cstddef>
#include <functional>
#include <string>
#include <vector>

namespace tickover::bench {

/// Median over many runs of the time this thread was on a processor: other load on the machine
/// hardly shows in it. Unit: ms. Runs at least 5 times, and until `budget` ms are spent.
double milliseconds(const std::function<void()>& work, double budget = 150);

/// One run of a program.
struct Process {
  bool ran = false;         ///< it ended with status 0
  double milliseconds = 0;  ///< user and system time
  double mebibytes = 0;     ///< most memory in use at once
};

/// Median time of `runs` runs in `folder`, output thrown away. Call it while this process itself is
/// small: the system counts a child's memory from before it became the program.
Process run(const std::vector<std::string>& words, const std::string& folder, int runs = 7);

/// A line about the machine: processor, cores, compiler, optimisation, load.
std::string machine_line();

/// The slope of ln y over x by least squares: y grows by exp(slope) for each 1 of x.
double growth(const std::vector<double>& x, const std::vector<double>& y);

}  // namespace tickover::bench
