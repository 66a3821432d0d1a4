/// @file
/// Money in plans: a bill that adds up, and advice that depends on ratios of prices alone.
#include "engine/plan/shop.hpp"

#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_shop_test {
namespace {

using plan::Advice;
using plan::Shop;
using test::JobWriter;

JobWriter surging() {
  JobWriter job(test::shipped_sheet("twin-v"));
  job.record("idle-hunts", "clear").record("steady-surge", "slight");
  return job;
}

/// One piece of every part costs `part`, an hour `hour`.
Shop priced(double hour, double part, double hand_on) {
  Shop shop;
  shop.prices = Shop::Prices{"EUR", hour / 60, hand_on, 0, {}, {}};
  for (const pack::Repair& repair : test::shipped_pack().repairs) {
    for (const std::string& text : repair.parts) shop.prices->parts.emplace_back(text, part);
  }
  return shop;
}

TEST_CASE("without prices a shop changes nothing", "[plan][shop]") {
  const Diagnosis& job = test::diagnose(surging());
  const Advice plain = job.advise(), again = job.advise(Shop{});
  CHECK(plain.course_now.expected_minutes == again.course_now.expected_minutes);
  CHECK(plain.course_now.expected_parts == again.course_now.expected_parts);
  CHECK(plain.course_now.expected_hand_on ==
        Approx((1 - plain.course_now.cured) * job.workshop().hand_on_minutes()));
}

TEST_CASE("other money, the same plan", "[plan][shop]") {
  const Diagnosis& job = test::diagnose(surging());
  const Advice crowns = job.advise(priced(600, 200, 8000)), euros = job.advise(priced(60, 20, 800));
  REQUIRE(crowns.proposals.size() == euros.proposals.size());
  for (std::size_t i = 0; i < euros.proposals.size(); ++i) {
    CHECK(crowns.proposals[i].index == euros.proposals[i].index);
    CHECK(crowns.proposals[i].expected_minutes == Approx(euros.proposals[i].expected_minutes));
  }
}

TEST_CASE("a bill is work, parts and the price of handing on", "[plan][shop]") {
  const Diagnosis& job = test::diagnose(surging());
  const Shop shop = priced(60, 5, 2000);  // an hour costs 60: a minute is worth 1
  const plan::Workshop workshop(job.model(), shop);
  const plan::Course course = job.advise(shop).course_now;
  REQUIRE_FALSE(course.batches.empty());
  REQUIRE(course.expected_parts > 0);
  double work = 0, parts = 0, reached = 1;
  for (const plan::Batch& batch : course.batches) {
    work += reached * batch.minutes;
    parts += reached * batch.parts;
    reached = 1 - batch.cured_after;
    double at_most = 0;  // each step's parts fitted, whatever a look says
    for (const plan::CourseStep& step : batch.steps) {
      at_most += 5 * static_cast<double>(job.model().pack.repairs[step.repair].parts.size());
    }
    CHECK(batch.parts <= at_most + 1e-9);
  }
  CHECK(course.expected_parts == Approx(parts));
  CHECK(course.expected_hand_on == Approx((1 - course.cured) * 2000));
  CHECK(course.expected_comebacks == 0);  // this shop does not say what one costs
  CHECK(course.expected_minutes == Approx(work + parts + course.expected_hand_on));
}

TEST_CASE("comebacks are on the bill as often as the road test misses what is still there",
          "[plan][shop]") {
  const Diagnosis& job = test::diagnose(surging());
  Shop shop = priced(60, 5, 2000);
  const plan::Course careless = job.advise(shop).course_now;
  CHECK(careless.expected_comebacks == 0);
  shop.prices->comeback = 400;
  const plan::Course course = job.advise(shop).course_now;
  double still_there = 0;
  for (const plan::Batch& batch : course.batches) still_there += 1 - batch.cured_after;
  const double misses = job.model().pack.frame.verify_misses.value;
  CHECK(misses > 0);
  CHECK(course.expected_comebacks == Approx(misses * 400 * still_there));
  CHECK(course.expected_minutes > careless.expected_minutes);
}

TEST_CASE("who pays dearly for comebacks proves a cure less often in vain", "[plan][shop]") {
  const Diagnosis& job = test::diagnose(surging());
  const auto in_vain = [&](double comeback) {
    Shop shop = priced(60, 5, 2000);
    shop.prices->comeback = comeback;
    double still_there = 0;
    for (const plan::Batch& batch : job.advise(shop).course_now.batches) {
      still_there += 1 - batch.cured_after;
    }
    return still_there;
  };
  CHECK(in_vain(20000) < in_vain(0));
}

TEST_CASE("dear parts are fitted for better reasons", "[plan][shop]") {
  const Diagnosis& job = test::diagnose(surging());
  const auto blind = [&](double part) {
    std::size_t count = 0;
    const Shop shop = priced(60, part, 900);
    for (const plan::Batch& batch : job.advise(shop).course_now.batches) {
      for (const plan::CourseStep& step : batch.steps) {
        const bool fits = !job.model().pack.repairs[step.repair].parts.empty();
        count += !step.look && fits ? 1 : 0;
      }
    }
    return count;
  };
  CHECK(blind(0) > 0);
  CHECK(blind(300) == 0);
}

TEST_CASE("the longest words of the price list name a part", "[plan][shop]") {
  pack::Repair repair;
  repair.parts = {"Main jet", "bowl gasket"};
  Shop shop;
  shop.prices = Shop::Prices{"EUR", 0.5, {}, 0, {{"jet", 1}, {"main jet", 4}, {"needle", 9}}, {}};
  CHECK(shop.parts_of(repair) == 8);  // 4 of money at 0.5 a minute; the gasket is not listed
  CHECK(shop.hand_on_minutes(900) == 900);
  shop.prices->hand_on = 100;
  CHECK(shop.hand_on_minutes(900) == 200);
  CHECK(Shop().parts_of(repair) == 0);
}

TEST_CASE("parts without a price count as the pack has it", "[plan][shop]") {
  pack::Repair repair;
  repair.parts = {"Main jet", "bowl gasket"};
  repair.parts_minutes = 7;
  CHECK(Shop().parts_of(repair) == 7);
  Shop shop;
  shop.prices = Shop::Prices{"EUR", 0.5, {}, 0, {{"needle", 9}}, {}};
  CHECK(shop.parts_of(repair) == 7);
  shop.prices->parts.emplace_back("gasket", 1);
  CHECK(shop.parts_of(repair) == 7);  // the jet has none yet
  shop.prices->parts.emplace_back("main jet", 4);
  CHECK(shop.parts_of(repair) == 10);  // 5 of money at 0.5 a minute
  shop.prices->parts = {{"gasket", 1}, {"main jet", 0.5}};
  CHECK(shop.parts_of(repair) == 3);  // cheaper than the pack has it
}

}  // namespace
}  // namespace tickover::plan_shop_test
