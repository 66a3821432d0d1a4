/// @file
/// A job read by a second mechanic.
#include "engine/trail/review.hpp"

#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::trail_review_test {
namespace {

/// Hunting; rubber 3 renewed in vain; jet 2 seen shut and cleaned, and the hunting gone.
test::JobWriter cured_by_the_second() {
  test::JobWriter job(test::shipped_sheet("four-inline"));
  job.record("idle-hunts", "clear");
  job.repair("renew-intake-rubber", {3}).verify("still");
  job.record("pilot-jet-look", "shut", {2}).repair("clean-pilot", {2}).verify("gone");
  return job;
}

}  // namespace

TEST_CASE("a repair that met nothing is told, one that met the fault is not", "[trail][review]") {
  const test::JobWriter job = cured_by_the_second();
  const Review review = make_review(test::diagnose(job), job.journal());
  REQUIRE(review.needless.size() == 1);
  CHECK(review.needless.front().entry == 3);
  CHECK(review.needless.front().met < kInQuestion);
}

TEST_CASE("what was named at the end was not repaired for nothing", "[trail][review]") {
  test::JobWriter job = cured_by_the_second();
  Entry end;
  end.event = Event::finish;
  end.items = {"intake-rubber-cracked@3"};
  job.add(end);
  CHECK(make_review(test::diagnose(job), job.journal()).needless.empty());
}

TEST_CASE("what came after a repair is not accounted for by what was known before",
          "[trail][review]") {
  test::JobWriter job(test::shipped_sheet("single"));
  job.record("weak-wide-open", "clear").repair("clean-main-jet").record("overflow-drips", "yes");
  job.verify("changed", {"weak-wide-open"});
  const Diagnosis& read = test::diagnose(job);
  CHECK(read.evidence().complaint.size() == 2);  // it must go too
  CHECK(make_review(read, job.journal()).complaint.size() == 1);
}

}  // namespace tickover::trail_review_test
