/// @file
/// What cannot be done here, what is worth doing as the machine stands, and why one thing comes
/// before another.
#include "engine/plan/choices.hpp"

#include <catch2/catch.hpp>

#include "cli/shop.hpp"
#include "engine/foundation/error.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::plan_choices_test {
namespace {

using plan::ActionKind;
using plan::Advice;
using plan::Constraints;
using plan::Proposal;
using test::JobWriter;

constexpr auto kEvery = static_cast<std::size_t>(-1);

JobWriter surging(const std::string& machine) {
  JobWriter job(test::shipped_sheet(machine), {"long-storage"});
  job.record("idle-hunts", "clear").record("steady-surge", "slight");
  return job;
}

/// Checks that are proposed or that the course looks by.
std::vector<const pack::Check*> checks_in(const Diagnosis& job, const Advice& advice) {
  std::vector<const pack::Check*> checks;
  const pack::Pack& pack = job.model().pack;
  for (const Proposal& one : advice.proposals) {
    if (one.kind == ActionKind::check) checks.push_back(&pack.checks[one.index]);
  }
  for (const plan::Batch& batch : advice.course_now.batches) {
    for (const plan::CourseStep& step : batch.steps) {
      if (step.look) checks.push_back(&pack.checks[step.look->check]);
    }
  }
  return checks;
}

std::string refusal(const Constraints& constraints) {
  try {
    cli::checked(constraints, test::shipped_pack());
  } catch (const InputError& error) {
    CHECK(error.fault() == InputFault::usage);
    return error.rule();
  }
  return {};
}

/// What was once credited with a better course than the present one, by mechanics of a bench: a
/// look that can only turn out one way.
JobWriter half_repaired() {
  JobWriter job(test::shipped_sheet("four-inline"), {"old-rubber", "long-storage"});
  job.record("idle-hunts", "clear").record("speed-hangs", "clear").record("stalls-at-stop", "yes");
  job.record("cold-header", "none", {1, 2, 4}).record("cold-header", "cold", {3});
  job.record("throttle-lazy", "no");
  job.record("pilot-jet-check", "clear", {1, 2}).record("pilot-jet-check", "shut", {3});
  job.record("pilot-jet-check", "partly", {4}).record("mixture-screw-turns", "0.5", {4});
  job.repair("clean-pilot", {3, 4}).repair("reset-pilot-screw", {4});
  job.verify("changed", {"idle-hunts", "stalls-at-stop"});
  return job;
}

TEST_CASE("what was absent before a repair is asked for again only if it came", "[plan][choices]") {
  const Diagnosis& job = test::diagnose(half_repaired());
  const Advice advice = job.advise({}, kEvery);
  // one that came after a repair is asked for again; asked for, it is not of the complaint
  Entry came;
  came.event = Event::record;
  came.what = "throttle-lazy";
  came.value = "yes";
  came.asked = true;
  const Diagnosis& back = test::diagnose(
      half_repaired().add(came).repair("renew-intake-rubber", {1, 2, 3, 4}).verify("still"));
  const auto asks = [](const Diagnosis& of) {
    const std::vector<Proposal> all = of.advise({}, 1).proposals;
    return std::any_of(all.begin(), all.end(), [&](const Proposal& one) {
      const pack::Pack& pack = of.model().pack;
      return one.kind == ActionKind::check &&
             pack.findings[pack.checks[one.index].finding].id == "throttle-lazy";
    });
  };
  CHECK(asks(back));
  CHECK_FALSE(asks(job));
  for (const Proposal& one : advice.proposals) {  // no symptom, absent before, is asked for again
    if (one.kind != ActionKind::check) continue;
    const pack::Pack& pack = job.model().pack;
    CHECK(pack.findings[pack.checks[one.index].finding].id != "throttle-lazy");
  }
}

TEST_CASE("nothing is set on a running engine where it cannot run", "[plan][constraints]") {
  const Diagnosis& job = test::diagnose(surging("four-inline"));
  plan::Shop shop;
  const auto sets = [&] {
    const Advice advice = job.advise(shop);
    std::size_t count = 0;
    for (const plan::Batch& batch : advice.course_now.batches) {
      bool running = false;
      for (const plan::CourseStep& step : batch.steps) {
        const bool set_now = !step.look && job.model().pack.repairs[step.repair].running;
        CHECK((!running || set_now));  // last, before the road test
        running = set_now;
        if (set_now) ++count;
      }
    }
    return count;
  };
  CHECK(sets() > 0);
  shop.constraints.running = false;
  CHECK(sets() == 0);
}

TEST_CASE("a tool is barred by its words, not by letters", "[plan][constraints]") {
  CHECK(plan::any_named({"test lamp"}, {"lamp"}));
  CHECK(plan::any_named({"vacuum gauges"}, {"Vacuum gauge"}));
  CHECK_FALSE(plan::any_named({"hose clamp"}, {"lamp"}));
}

TEST_CASE("what is begun by a step that fits is not too long", "[plan][constraints]") {
  JobWriter writer(test::shipped_sheet("four-inline"), {"long-storage"});
  writer.record("idle-hunts", "clear").record("speed-hangs", "clear");
  for (std::size_t cylinder = 1; cylinder <= 4; ++cylinder) {
    writer.record("pilot-jet-check", "shut", {cylinder});
  }
  const Diagnosis& job = test::diagnose(writer);
  plan::Shop shop;
  const Advice advice = job.advise(shop);
  const Proposal& first = advice.proposals.front();
  REQUIRE(first.kind == ActionKind::course);
  const double begins = plan::minutes_to_begin(job.workshop(), job.evidence().open_layers, first);
  REQUIRE(begins < first.minutes());
  shop.constraints.minutes = begins;
  CHECK(job.advise(shop).proposals.front().kind == ActionKind::course);
  shop.constraints.minutes = begins - 1;
  const Advice shorter = job.advise(shop);
  CHECK(std::none_of(shorter.proposals.begin(), shorter.proposals.end(),
                     [](const Proposal& one) { return one.kind == ActionKind::course; }));
}

TEST_CASE("what is barred is in no proposal and no course", "[plan][constraints]") {
  const Diagnosis& job = test::diagnose(surging("four-inline"));
  const auto looked = [](const Advice& advice) -> const plan::CourseStep& {
    for (const plan::CourseStep& step : advice.course_now.batches.front().steps) {
      if (step.look) return step;
    }
    FAIL("the course looks at nothing");
    throw;
  };
  const plan::CourseStep first_look = looked(job.advise());
  Constraints barred;
  barred.without = {job.model().pack.checks[first_look.look->check].id};
  barred.tools = {"Propane"};
  barred.running = false;
  const Advice advice = job.advise({barred});
  CHECK(checks_in(job, advice).size() > 10);
  for (const pack::Check* check : checks_in(job, advice)) {
    CAPTURE(check->id);
    CHECK(check->id != barred.without.front());
    CHECK_FALSE(check->running);
    for (const std::string& tool : check->tools) CHECK(tool.find("propane") == std::string::npos);
  }
}

TEST_CASE("a part that is not in stock is to be ordered, and the course stays",
          "[plan][constraints]") {
  const Diagnosis& job = test::diagnose(surging("four-inline"));
  const auto fits_one = [&](const Advice& advice, const std::string& part) {
    std::size_t count = 0;
    for (const plan::Batch& batch : advice.course_now.batches) {
      for (const plan::CourseStep& step : batch.steps) {
        for (const std::string& one : job.model().pack.repairs[step.repair].parts) {
          count += one.find(part) != std::string::npos ? 1 : 0;
        }
      }
    }
    return count;
  };
  REQUIRE(fits_one(job.advise(), "pilot jet") > 0);
  // not in stock: it is ordered, so the plan stays as it is
  Constraints ordered;
  ordered.parts = {"Pilot jet"};
  const Advice all = job.advise(), same = job.advise({ordered});
  CHECK(fits_one(same, "pilot jet") == fits_one(all, "pilot jet"));
  CHECK(same.course_now.expected_minutes == all.course_now.expected_minutes);
  std::size_t to_order = 0;
  for (const pack::Repair& repair : job.model().pack.repairs) {
    for (const std::string& part : ordered.to_order(repair)) {
      CHECK_THAT(part, Catch::Contains("pilot jet", Catch::CaseSensitive::No));
      ++to_order;
    }
  }
  CHECK(to_order > 0);
}

TEST_CASE("what takes longer than the time left is told apart", "[plan][constraints]") {
  const Diagnosis& job = test::diagnose(surging("four-inline"));
  const Advice all = job.advise();
  Constraints short_of_time;
  short_of_time.minutes = 15;
  const Advice advice = job.advise({short_of_time});
  CHECK(advice.proposals.size() + advice.too_long.size() == all.proposals.size());
  REQUIRE(advice.proposals.size() > 3);
  REQUIRE(advice.too_long.size() > 3);
  const auto begins = [&](const Proposal& one) {
    return plan::minutes_to_begin(job.workshop(), job.evidence().open_layers, one);
  };
  for (const Proposal& one : advice.proposals) CHECK(begins(one) <= 15);
  for (const Proposal& one : advice.too_long) CHECK(begins(one) > 15);
}

// What comes first is known exactly; a question that takes its place was not.
TEST_CASE("what comes first in the time left is told in full", "[plan][constraints]") {
  test::JobWriter writer(test::shipped_sheet("four-inline"), {"old-rubber"});
  writer.record("idle-hunts", "clear");
  for (std::size_t c = 1; c <= 4; ++c) writer.record("pilot-jet-check", "shut", {c});
  const Diagnosis job = test::diagnose(writer);
  Constraints short_of_time;
  short_of_time.minutes = 1.5;  // for a question
  const Proposal first = job.advise({short_of_time}).proposals.front();
  CHECK_FALSE(first.estimated);
  CHECK_FALSE(first.forecasts.empty());
  CHECK_FALSE(first.decides.empty());
}

TEST_CASE("names that the pack does not know are refused", "[plan][constraints]") {
  Constraints constraints;
  constraints.without = {"blip-tset"};
  CHECK(refusal(constraints) == "no check, question or repair named 'blip-tset'");
  constraints = {};
  constraints.tools = {"tachymeter"};
  CHECK(refusal(constraints) == "no tool named 'tachymeter'");
  constraints = {};
  constraints.parts = {""};
  CHECK(refusal(constraints) == "no part named ''");
  constraints = {};
  constraints.tools = {"TACHOMETER"};
  CHECK(refusal(constraints).empty());
}

TEST_CASE("before refitting: what is open now and worth its time", "[plan][choices]") {
  const Diagnosis& closed = test::diagnose(surging("four-inline"));
  CHECK(plan::before_refit(closed.workshop(), closed.evidence(), closed.advise()).empty());
  const Diagnosis& open = test::diagnose(surging("four-inline").strip({"bowls"}));
  const Advice advice = open.advise();
  const auto worth = plan::before_refit(open.workshop(), open.evidence(), advice);
  REQUIRE_FALSE(worth.empty());
  for (const plan::Worthwhile& one : worth) {
    const Proposal& proposal = advice.proposals[one.proposal];
    CAPTURE(open.model().pack.checks[proposal.index].id);
    CHECK(proposal.access.total() == 0);
    CHECK(one.later_minutes > 0);
    CHECK(one.spares == Approx(advice.course_now.expected_minutes - proposal.expected_minutes -
                               proposal.farther));
    CHECK((one.planned || one.spares >= plan::kLeastSpared));
    CHECK((one.planned || !proposal.estimated));
  }
}

TEST_CASE("before stripping: only checks with the engine running", "[plan][choices]") {
  const Diagnosis& job = test::diagnose(surging("four-inline"));
  Advice advice = job.advise();
  const auto course = std::find_if(advice.proposals.begin(), advice.proposals.end(),
                                   [](const auto& one) { return one.kind == ActionKind::course; });
  REQUIRE(course != advice.proposals.end());
  std::rotate(advice.proposals.begin(), course, course + 1);
  const auto worth = plan::before_strip(job.workshop(), job.evidence(), advice);
  REQUIRE_FALSE(worth.empty());
  for (const plan::Worthwhile& one : worth) {
    CHECK(job.model().pack.checks[advice.proposals[one.proposal].index].running);
  }
  const Diagnosis& apart = test::diagnose(surging("four-inline").strip({"bowls"}));
  CHECK(plan::before_strip(apart.workshop(), apart.evidence(), apart.advise()).empty());
}

/// The pack with the prior odds of a cause multiplied.
pack::Pack with_odds(pack::Pack pack, std::size_t cause, double factor) {
  double& prior = pack.causes[cause].prior.value;
  prior = prior * factor / (prior * factor + 1 - prior);
  return pack;
}

// On one cylinder each cause stands for one instance, so that its odds can be moved in the pack.
TEST_CASE("where one thing would come before another, it does", "[plan][choices]") {
  const JobWriter writer = surging("single");
  const Diagnosis& job = test::diagnose(writer);
  const Advice advice = job.advise({}, kEvery);
  const Proposal& first = advice.proposals[1];  // the first is ahead by too much to be caught up
  std::size_t compared = 0;
  for (std::size_t i = 2; i < 10; ++i) {
    const Proposal& other = advice.proposals[i];
    const plan::Comparison told = job.compare({}, advice, first, other);
    const double by_itself = other.expected_minutes - first.expected_minutes;
    const double besides =
        other.minutes() + other.consumables +
        job.workshop().access().minutes(other.open_after, {}).total();  // all is closed now
    CHECK(told.more_minutes == Approx(std::min(by_itself, besides)).margin(1e-6));
    CHECK(told.besides == (besides < by_itself));
    if (!told.cause) continue;
    const auto odds = [](double p) { return p / (1 - p); };
    const pack::Pack moved = with_odds(test::shipped_pack(), job.model().causes[*told.cause].cause,
                                       odds(told.at_draw) / odds(told.now));
    const Diagnosis& there = test::diagnose(moved, writer.journal());
    CHECK(there.infer().present_now[*told.cause] == Approx(told.at_draw).margin(0.01));
    const plan::Comparison then = there.compare({}, advice, first, other);
    CHECK(then.more_minutes < told.more_minutes);
    CHECK(then.more_minutes < 0.5);
    ++compared;
  }
  CHECK(compared > 2);
}

TEST_CASE("what is left over adds up to no more than certainty", "[plan][choices]") {
  const Diagnosis& job = test::diagnose(surging("four-inline"));
  const Advice advice = job.advise();
  REQUIRE_FALSE(advice.left_over.empty());
  double sum = advice.unlisted_left_over;
  for (const plan::Suspect& one : advice.left_over) sum += one.probability;
  CHECK(sum <= 1 + 1e-9);
  CHECK(advice.unlisted_left_over ==
        Approx((1 - advice.cured_if_all) / (1 - advice.course_now.cured)).epsilon(0.15));
}

}  // namespace
TEST_CASE("parts said to be renewed unseen are neither looked at by the plan nor likely",
          "[plan][choices]") {
  JobWriter writer(test::shipped_sheet("four-inline"));
  writer.record("speed-hangs", "clear");
  const Diagnosis& job = test::diagnose(writer);
  const Advice advice = job.advise();
  const std::vector<plan::Unseen> unseen = plan::renewed_unseen(job.model(), advice);
  REQUIRE_FALSE(unseen.empty());
  for (const plan::Unseen& one : unseen) {
    CHECK(one.needed < 0.5);
    CHECK_FALSE(job.model().pack.repairs[one.repair].parts.empty());
    bool repaired = false, looked = false;
    for (const plan::Batch& batch : advice.course_now.batches) {
      for (const plan::CourseStep& step : batch.steps) {
        const bool same = step.repair == one.repair && step.place == one.place;
        looked = looked || (same && step.look && !repaired);
        repaired = repaired || (same && !step.look);
      }
    }
    CAPTURE(job.model().pack.repairs[one.repair].id);
    CHECK(repaired);
    CHECK_FALSE(looked);
  }
}

TEST_CASE("what tells most for its time comes first, and nothing that tells nothing",
          "[plan][choices]") {
  const Advice advice = test::diagnose(surging("four-inline")).advise();
  const std::vector<std::size_t> most = plan::most_telling(advice, kEvery);
  REQUIRE(most.size() > 3);
  const auto rate = [&](std::size_t i) {
    const Proposal& one = advice.proposals[i];
    return one.told / std::max(one.minutes(), 1.0);
  };
  for (std::size_t i = 1; i < most.size(); ++i) CHECK(rate(most[i - 1]) >= rate(most[i]));
  for (const std::size_t i : most) {
    const ActionKind kind = advice.proposals[i].kind;
    CHECK((kind == ActionKind::check || kind == ActionKind::ask));
    CHECK(advice.proposals[i].told > 0);
  }
  CHECK(plan::most_telling(advice, 2).size() == 2);
}

TEST_CASE("a check tells most of what it looks for, not of what others then explain",
          "[plan][choices]") {
  test::JobWriter writer(test::shipped_sheet("six-inline"));
  writer.record("steady-surge", "clear").record("speed-hangs", "clear");
  writer.record("vacuum-compare", "30 kPa", {1}).record("vacuum-compare", "26 kPa", {5});
  for (const std::size_t c : {2U, 3U, 4U, 6U}) writer.record("vacuum-compare", "30 kPa", {c});
  const Diagnosis job = test::diagnose(writer);
  plan::Effort effort;
  const auto drained = pack::find(job.model().pack.checks, std::string("bowl-drain"));
  REQUIRE(drained);
  effort.asked_about = [&](const Proposal& one) {
    return one.kind == plan::ActionKind::check && one.index == *drained;
  };
  std::size_t told = 0;
  for (const Proposal& one : job.advise({}, 1, effort).proposals) {
    if (!effort.asked_about(one)) continue;
    ++told;
    REQUIRE_FALSE(one.decides.empty());
    const std::size_t first = one.decides.front();
    CHECK(std::any_of(one.places.begin(), one.places.end(), [&](Place place) {
      const FindingInstance& seen = job.model().findings[*job.model().find_finding(
          job.model().pack.checks[*drained].finding, place)];
      return seen.cause == first ||
             std::any_of(seen.links.begin(), seen.links.end(),
                         [&](const LinkInstance& link) { return link.cause == first; });
    }));
  }
  CHECK(told > 0);
}

}  // namespace tickover::plan_choices_test
