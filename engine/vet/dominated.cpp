// Checks that another one, no dearer in any state of the machine, tells at least as much as.

#include <fmt/format.h>

#include <algorithm>
#include <set>

#include "engine/vet/vet.hpp"

namespace tickover::vet {
namespace {

template <class T>
bool within(const std::vector<T>& part, const std::vector<T>& whole) {
  return std::all_of(part.begin(), part.end(), [&](const T& one) {
    return std::find(whole.begin(), whole.end(), one) != whole.end();
  });
}

/// The best share of found faults for each share of false alarms: outcomes by falling likelihood
/// ratio, as points (false alarms, found faults).
std::vector<std::pair<double, double>> operating_points(const pack::Finding& finding) {
  std::vector<std::pair<double, double>> points;
  for (const pack::Outcome& outcome : finding.outcomes) {
    points.emplace_back(outcome.absent.value, outcome.present.value);
  }
  std::sort(points.begin(), points.end(),
            [](const auto& a, const auto& b) { return a.second * b.first > b.second * a.first; });
  double absent = 0, present = 0;
  for (auto& point : points) point = {absent += point.first, present += point.second};
  return points;
}

/// Found faults at a share of false alarms, outcomes mixed by lot where it lies between two points.
double found_at(const std::vector<std::pair<double, double>>& points, double false_alarms) {
  std::pair<double, double> last{0, 0};
  for (const auto& point : points) {
    if (point.first > false_alarms) {
      const double share = (false_alarms - last.first) / (point.first - last.first);
      return last.second + share * (point.second - last.second);
    }
    last = point;
  }
  return last.second;
}

/// One look at a cause tells at least as much as another when it finds as many faults for every
/// share of false alarms: then any use of the other can be imitated (Blackwell 1953, two states).
bool tells_as_much(const pack::Finding& finding, const pack::Finding& as) {
  if (&finding == &as) return true;
  const bool looks = finding.kind == pack::Kind::inspection && as.kind == pack::Kind::inspection;
  if (!looks || finding.cause != as.cause) return false;
  const auto points = operating_points(finding);
  for (const auto& [false_alarms, found] : operating_points(as)) {
    if (found_at(points, false_alarms) < found - 1e-9) return false;
  }
  return true;
}

/// Wherever the machine stands: no longer at any number of places, no more to open, and no need to
/// close up or to run the engine where the other has none.
bool no_dearer(const pack::Pack& pack, const pack::Check& check, const pack::Check& than) {
  return check.minutes.once <= than.minutes.once && check.minutes.each <= than.minutes.each &&
         within(pack::with_prerequisites(pack, check.open),
                pack::with_prerequisites(pack, than.open)) &&
         (!check.running || than.running) && (than.running || within(check.shut, than.shut)) &&
         within(check.needs, than.needs);
}

}  // namespace

std::vector<Remark> about_dominated(const pack::Pack& pack) {
  std::vector<Remark> remarks;
  for (std::size_t i = 0; i < pack.checks.size(); ++i) {
    const pack::Check& check = pack.checks[i];
    for (std::size_t j = 0; j < pack.checks.size(); ++j) {
      const pack::Check& other = pack.checks[j];
      const auto beats = [&](const pack::Check& a, const pack::Check& b) {
        return no_dearer(pack, a, b) &&
               tells_as_much(pack.findings[a.finding], pack.findings[b.finding]);
      };
      if (i == j || !beats(other, check) || (beats(check, other) && j > i)) continue;
      remarks.push_back({Severity::warning,
                         "dominated-check",
                         {check.id, other.id},
                         place_in("checks", i),
                         "'" + other.id + "' tells at least as much and is nowhere dearer"});
      break;
    }
  }
  return remarks;
}

}  // namespace tickover::vet
