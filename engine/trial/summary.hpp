/// @file
/// Many jobs in a few numbers.
#pragma once

#include <string>
#include <vector>

#include "engine/trial/play.hpp"

namespace tickover::trial {

/// A mean with its 95 % percentile-bootstrap interval (Efron & Tibshirani 1993, ch. 13).
struct Estimate {
  double mean = 0, low = 0, high = 0;
};

struct PolicySummary {
  std::string name;
  Estimate minutes;  ///< to a verified cure, or until handed on with its price
  double median = 0, ninetieth = 0;
  double cured_minutes = 0;    ///< mean of the jobs cured; 0 without any
  double curable_minutes = 0;  ///< mean of the jobs that can be cured at all; 0 without any
  double cured_first = 0, handed_on = 0, contradicted = 0, left = 0;  ///< shares of all jobs
  double needless = 0, repairs = 0, checks = 0, questions = 0, verifications = 0;  ///< a job
  Estimate ahead;    ///< minutes by which the first policy is quicker, job by job
  double ratio = 1;  ///< mean minutes of the first policy over those of this one
};

struct Summary {
  std::size_t jobs = 0;
  double complain = 0;  ///< share of machines whose rider complains
  /// Share of jobs cured by kTruth, which knows the faults: in the others what is behind the
  /// complaint is not on the list, and every policy hands them on. 0 where it did not play.
  double curable = 0;
  std::vector<double> faults;  ///< share of jobs with 0, 1, 2, 3, and more faults
  std::vector<PolicySummary> policies;
};

/// `results` in the order of their jobs; at least one. `names` are the policies.
Summary summarize(const std::vector<JobResult>& results, const std::vector<std::string>& names,
                  std::uint64_t seed);

/// Linear interpolation between order statistics (Hyndman & Fan 1996, type 7).
double quantile(std::vector<double> values, double share);

}  // namespace tickover::trial
