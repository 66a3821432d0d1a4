/// @file
/// A journal read as it grows says what the whole read at once says.
#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::evidence_reader_test {
namespace {

/// Symptoms, readings against siblings place by place, a look replaced, repairs, a road test.
test::JobWriter long_job() {
  test::JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear").record("speed-hangs", "slight");
  job.record("compression", "1150 kPa", {1}).record("compression", "900 kPa", {2});
  job.record("compression", "1120 kPa", {3}).record("compression", "1100 kPa", {4});
  job.strip({"carburettors"}).record("rubber-check-off", "sound", {2});
  job.record("rubber-check-off", "split", {2}).repair("renew-intake-rubber", {2});
  job.repair("renew-intake-rubber", {2}).verify("changed", {"speed-hangs"});
  job.record("speed-hangs", "clear").record("compression", "950 kPa", {2});
  return job;
}

void check_same(const Evidence& grown, const Evidence& whole) {
  REQUIRE(grown.observations.size() == whole.observations.size());
  for (std::size_t i = 0; i < whole.observations.size(); ++i) {
    const Observation &a = grown.observations[i], &b = whole.observations[i];
    CHECK(a.entry == b.entry);
    CHECK(a.finding == b.finding);
    CHECK(a.level == b.level);
    CHECK(a.sibling == b.sibling);
    CHECK(a.likelihood.table == b.likelihood.table);
  }
  REQUIRE(grown.repairs.size() == whole.repairs.size());
  for (std::size_t i = 0; i < whole.repairs.size(); ++i) {
    CHECK(grown.repairs[i].success == whole.repairs[i].success);
    CHECK(grown.repairs[i].seen == whole.repairs[i].seen);
  }
  CHECK(grown.complaint == whole.complaint);
  CHECK(grown.appeared == whole.appeared);
  CHECK(grown.open_layers == whole.open_layers);
  CHECK(grown.verdict == whole.verdict);
}

}  // namespace

TEST_CASE("a journal read entry by entry says what it says as a whole", "[evidence][reader]") {
  const test::JobWriter job = long_job();
  const Diagnosis& whole = test::diagnose(job);
  EvidenceReader reader(whole.model());
  Journal so_far;
  for (const Entry& entry : job.journal().entries) {
    so_far.entries.push_back(entry);
    so_far.struck.push_back(false);
    reader.take(entry);
    CAPTURE(entry.number);
    check_same(reader.evidence(), collect_evidence(whole.model(), so_far, "grown"));
  }
}

TEST_CASE("what came in after a repair was not repaired in vain", "[evidence][attempts]") {
  test::JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear").record("overrun-popping", "none");
  job.repair("renew-intake-rubber", {2}).verify("still");
  test::JobWriter later = job;
  later.record("overrun-popping", "clear");
  const auto success = [](test::JobWriter& writer) {
    return test::diagnose(writer.repair("tighten-clamp", {2})).evidence().repairs.back().success;
  };
  CHECK(success(job) < 0.7);
  CHECK(success(later) == Approx(0.95));
}

}  // namespace tickover::evidence_reader_test
