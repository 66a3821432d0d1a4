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

}  // namespace tickover::trail_review_test
