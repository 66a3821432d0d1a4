/// @file
/// No reading, however wild, moves a cause by more than the cap that 'explain' states.
#include <catch2/catch.hpp>
#include <cmath>
#include <set>

#include "engine/belief/weigh.hpp"
#include "engine/evidence/reading.hpp"
#include "engine/foundation/text.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::evidence_cap_test {
namespace {

using test::JobWriter;

JobWriter with_siblings() {
  JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear").record("speed-hangs", "slight");
  job.record("idle-vacuum", "28 kPa", {1}).record("compression", "1150 kPa", {1, 3});
  return job.record("header-temperature", "210 degC", {1, 4});
}

JobWriter with(const std::string& what, const std::string& value, const test::Cylinders& where) {
  JobWriter job = with_siblings();
  Entry entry;
  entry.event = Event::record;
  entry.what = what;
  entry.value = value;
  entry.cylinders = where;
  entry.confirmed = true;
  return job.add(entry);
}

double decibans_of(double p) { return belief::decibans(p / (1 - p)); }

/// The largest change of any cause's odds by the last entry.
double moved_by(const JobWriter& job, const belief::Belief& before) {
  const belief::Belief after = test::diagnose(job).infer();
  REQUIRE(after.exact);
  double most = 0;
  for (std::size_t c = 0; c < before.present_now.size(); ++c) {
    most = std::max(
        most, std::abs(decibans_of(after.present_now[c]) - decibans_of(before.present_now[c])));
  }
  return most;
}

}  // namespace

TEST_CASE("no reading however wild moves a cause by more than its cap", "[evidence][reading]") {
  const Diagnosis job = test::diagnose(with_siblings());
  const belief::Belief before = job.infer();
  std::set<std::size_t> tried;
  double most = 0;
  for (const FindingInstance& instance : job.model().findings) {
    const pack::Finding& finding = job.model().pack.findings[instance.finding];
    if (finding.kind != pack::Kind::reading || !tried.insert(instance.finding).second) continue;
    CAPTURE(finding.id);
    const test::Cylinders where =
        finding.scope == pack::Scope::engine ? test::Cylinders{} : test::Cylinders{2};
    std::vector<std::string> values = {"CO 0% CO2 2.1% HC 0ppm O2 18%",
                                       "CO 0% CO2 12% HC 0ppm O2 4%",
                                       "CO 13% CO2 6% HC 900ppm O2 0%"};
    if (finding.gases.empty()) {
      values.clear();
      for (const double part : {0.0, 0.02, 0.2, 0.5, 0.9, 1.0}) {
        const double range = finding.plausible_high - finding.plausible_low;
        values.push_back(shortest(finding.plausible_low + part * range) + " " + finding.unit);
      }
    }
    for (const std::string& value : values) {
      CAPTURE(value);
      const double moved = moved_by(with(finding.id, value, where), before);
      CHECK(moved <= cap_decibans(finding));
      most = std::max(most, moved);
    }
  }
  CHECK(tried.size() >= 12);
  CHECK(most > 10);  // some of them do speak
}

}  // namespace tickover::evidence_cap_test
