#include "engine/trial/summary.hpp"

#include <algorithm>
#include <numeric>

namespace tickover::trial {
namespace {

constexpr std::size_t kResamples = 1000;
constexpr std::size_t kFaultsTold = 5;  // 0, 1, 2, 3, more

double mean(const std::vector<double>& values) {
  if (values.empty()) return 0;
  return std::accumulate(values.begin(), values.end(), 0.0) / static_cast<double>(values.size());
}

/// Mean and interval; all quantities are resampled alike.
Estimate estimate(const std::vector<double>& values, std::uint64_t seed) {
  const Draws draws(seed, 0);
  const auto count = static_cast<double>(values.size());
  std::vector<double> means;
  for (std::size_t r = 0; r < kResamples; ++r) {
    double sum = 0;
    for (std::size_t i = 0; i < values.size(); ++i) {
      const double share = draws.uniform(Purpose::bootstrap, {r, i});
      sum += values[static_cast<std::size_t>(share * count)];
    }
    means.push_back(sum / count);
  }
  return {mean(values), quantile(means, 0.025), quantile(means, 0.975)};
}

template <class Of>
std::vector<double> values_of(const std::vector<JobResult>& results, std::size_t policy,
                              const Of& of) {
  std::vector<double> values;
  for (const JobResult& one : results) {
    values.push_back(static_cast<double>(of(one.outcomes[policy])));
  }
  return values;
}

PolicySummary summary_of(const std::vector<JobResult>& results, std::size_t p) {
  const auto share = [&](const auto& of) { return mean(values_of(results, p, of)); };
  PolicySummary summary;
  summary.cured_first = share([](const Outcome& o) { return o.cured_first; });
  summary.handed_on = share([](const Outcome& o) { return o.handed_on; });
  summary.contradicted = share([](const Outcome& o) { return o.contradiction; });
  summary.left = share([](const Outcome& o) { return o.left; });
  summary.needless = share([](const Outcome& o) { return o.needless; });
  summary.repairs = share([](const Outcome& o) { return o.repairs; });
  summary.checks = share([](const Outcome& o) { return o.checks; });
  summary.questions = share([](const Outcome& o) { return o.questions; });
  summary.verifications = share([](const Outcome& o) { return o.verifications; });
  std::vector<double> cured;
  for (const JobResult& one : results) {
    if (one.outcomes[p].cured) cured.push_back(one.outcomes[p].minutes);
  }
  summary.cured_minutes = mean(cured);
  return summary;
}

/// The jobs that the policy with the truth cures; none where it did not play.
std::vector<JobResult> curable_of(const std::vector<JobResult>& results,
                                  const std::vector<std::string>& names) {
  const auto truth = std::find(names.begin(), names.end(), kTruth);
  if (truth == names.end()) return {};
  const auto policy = static_cast<std::size_t>(truth - names.begin());
  std::vector<JobResult> curable;
  for (const JobResult& one : results) {
    if (one.outcomes[policy].cured) curable.push_back(one);
  }
  return curable;
}

}  // namespace

double quantile(std::vector<double> values, double share) {
  std::sort(values.begin(), values.end());
  const double at = share * static_cast<double>(values.size() - 1);
  const auto below = static_cast<std::size_t>(at);
  const std::size_t above = std::min(below + 1, values.size() - 1);
  return values[below] + (at - static_cast<double>(below)) * (values[above] - values[below]);
}

Summary summarize(const std::vector<JobResult>& results, const std::vector<std::string>& names,
                  std::uint64_t seed) {
  Summary summary;
  summary.jobs = results.size();
  summary.faults.assign(kFaultsTold, 0);
  double drawn = 0;
  for (const JobResult& one : results) {
    drawn += static_cast<double>(one.drawn);
    summary.faults[std::min(one.faults, kFaultsTold - 1)] += 1 / static_cast<double>(summary.jobs);
  }
  summary.complain = static_cast<double>(summary.jobs) / drawn;
  const std::vector<JobResult> curable = curable_of(results, names);
  summary.curable = static_cast<double>(curable.size()) / static_cast<double>(results.size());
  const auto minutes = [](const Outcome& o) { return o.minutes; };
  const std::vector<double> first = values_of(results, 0, minutes);
  for (std::size_t p = 0; p < names.size(); ++p) {
    const std::vector<double> values = values_of(results, p, minutes);
    PolicySummary one = summary_of(results, p);
    one.name = names[p];
    one.minutes = estimate(values, seed);
    one.curable_minutes = mean(values_of(curable, p, minutes));
    one.median = quantile(values, 0.5);
    one.ninetieth = quantile(values, 0.9);
    std::vector<double> ahead;
    for (std::size_t i = 0; i < values.size(); ++i) ahead.push_back(values[i] - first[i]);
    one.ahead = estimate(ahead, seed);
    one.ratio = one.minutes.mean > 0 ? mean(first) / one.minutes.mean : 1;
    summary.policies.push_back(std::move(one));
  }
  return summary;
}

}  // namespace tickover::trial
