/// @file
/// Decisions over scenarios that are carried along.
#include "engine/plan/carried.hpp"

#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_carried_test {
namespace {

/// Two causes, one as likely as the other; the look at the first is sure and takes a minute, either
/// repair takes half an hour.
test::SmallPack either() {
  test::SmallPack small(20, 600);
  small.cause(0.2);
  small.cause(0.2);
  small.symptom(0, {{0, 1}, {1, 1}});
  small.repair({{{0, 1}}, {30, 0}, {}});
  small.repair({{{1, 1}}, {30, 0}, {}});
  small.look({0, 1, 0, {1, 0}, {}});
  return small;
}

class Job {
 public:
  Job() : small_(either()), writer_(test::plain_sheet()) {
    writer_.record(small_.pack.findings[0].id, small_.pack.findings[0].levels.back());
  }

  test::JobWriter& writer() { return writer_; }
  const pack::Pack& pack() const { return small_.pack; }

  /// What comes first now, decided by the one who has seen all that came before.
  std::optional<plan::Proposal> first() {
    job_.emplace(small_.pack, writer_.journal(), test::machine_schema(), "test");
    if (!carried_) {
      begun_.emplace(small_.pack, writer_.journal(), test::machine_schema(), "test");
      carried_.emplace(begun_->workshop(), begun_->ground(), evidence_);
    }
    evidence_ = job_->evidence();
    return carried_->first();
  }

 private:
  test::SmallPack small_;
  test::JobWriter writer_;
  Evidence evidence_;
  std::optional<Diagnosis> begun_, job_;
  std::optional<plan::Carried> carried_;
};

}  // namespace

TEST_CASE("quick decisions look, and act on what is seen", "[plan][carried]") {
  for (const bool present : {true, false}) {
    CAPTURE(present);
    Job job;
    const auto look = job.first();
    REQUIRE(look);
    REQUIRE(look->kind == plan::ActionKind::check);
    const pack::Check& check = job.pack().checks[look->index];
    const pack::Finding& finding = job.pack().findings[check.finding];
    const bool first_speaks = finding.outcomes[0].present.value > finding.outcomes[0].absent.value;
    job.writer().record(check.id, finding.outcomes[first_speaks == present ? 0 : 1].id);
    const auto then = job.first();
    REQUIRE(then);
    REQUIRE(then->kind == plan::ActionKind::course);
    CHECK(then->batch.steps.front().repair == (present ? 0u : 1u));
    job.writer().repair(job.pack().repairs[present ? 0 : 1].id);
    const auto after = job.first();
    REQUIRE(after);
    CHECK(after->kind == plan::ActionKind::verify);
  }
}

}  // namespace tickover::plan_carried_test
