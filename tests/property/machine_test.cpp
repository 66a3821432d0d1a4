/// @file
/// The shipped knowledge on the shipped machines: every instance at its place, nothing the machine
/// lacks, and the same bytes each time a journal is replayed.
#include <algorithm>
#include <catch2/catch.hpp>

#include "engine/foundation/json_document.hpp"
#include "engine/trail/trail.hpp"
#include "tests/support/sheet.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::property_machine_test {
namespace {

using test::JobWriter;

JobWriter twin() {
  JobWriter job(test::shipped_sheet("twin-parallel"));
  job.record("idle-hunts", "clear").record("better-with-choke", "clear");
  return job;
}

bool linked(const FindingInstance& finding, std::size_t cause) {
  return std::any_of(finding.links.begin(), finding.links.end(),
                     [&](const LinkInstance& link) { return link.cause == cause; });
}

std::size_t instances_of(const Model& model, const std::string& id) {
  return static_cast<std::size_t>(std::count_if(
      model.causes.begin(), model.causes.end(),
      [&](const CauseInstance& one) { return model.pack.causes[one.cause].id == id; }));
}

/// True when the proposal asks for nothing that this machine lacks.
bool possible(const Model& model, const plan::Proposal& proposal) {
  using plan::ActionKind;
  bool fine = true;
  for (const std::size_t layer : proposal.open_after) {
    fine = fine && model.applies(model.pack.layers[layer].needs);
  }
  if (proposal.kind == ActionKind::check) {
    const pack::Check& check = model.pack.checks[proposal.index];
    fine = fine && model.applies(check.needs) &&
           model.applies(model.pack.findings[check.finding].needs);
  }
  if (proposal.kind == ActionKind::ask) {
    fine = fine && model.applies(model.pack.findings[proposal.index].needs);
  }
  for (const plan::CourseStep& step : proposal.batch.steps) {
    fine = fine && model.applies(model.pack.repairs[step.repair].needs);
    if (step.look) fine = fine && model.applies(model.pack.checks[step.look->check].needs);
  }
  return fine;
}

/// A job that has something of everything, on the four in line.
JobWriter long_job() {
  JobWriter job(test::shipped_sheet("four-inline"), {"long-storage"}, "hunts <b>& hangs</b>");
  job.record("idle-hunts", "clear").record("steady-surge", "slight");
  job.record("cold-header", "cooler", {2}).record("screw-turns-count", "3.1 turns", {2});
  job.record("unlit-gas", "none", {1, 2, 3, 4}).note("warm day");
  job.strip({"bowls"}).record("pilot-jet-look", "shut", {2}).record("compression", "1100 kPa", {4});
  job.strike(job.last()).repair("clean-pilot", {2}).refit().verify("changed", {"idle-hunts"});
  job.record("float-height", "17.2 mm", {3});
  return job;
}

/// The journal as it reads after being written to a file.
Journal written_and_read(const Journal& journal) {
  std::string text, last_sum;
  for (const Entry& entry : journal.entries) {
    const std::string line = to_line(entry, last_sum);
    const std::string mark = "\"sum\":\"";
    last_sum = line.substr(line.rfind(mark) + mark.size(), 64);
    text += line;
  }
  return parse_journal(text, JsonSchema(test::source_text("knowledge/schema/job.schema.json")),
                       "test");
}

std::pair<std::string, std::string> trail_of(const Journal& journal) {
  const Diagnosis job = test::diagnose(test::shipped_pack(), journal);
  const Trail trail = make_trail(job, journal);
  return {trail_json(job, journal, trail), test::sheet_as_markdown(job, journal, trail)};
}

}  // namespace

TEST_CASE("one carburettor for two cylinders is one place for its faults", "[property][machine]") {
  const Diagnosis job = test::diagnose(twin());
  const Model& model = job.model();
  CHECK(instances_of(model, "pilot-jet-blocked") == 1);
  CHECK(instances_of(model, "intake-rubber-cracked") == 2);
  const std::size_t jet = test::cause_instance(model, "pilot-jet-blocked@1");
  const std::size_t left = test::cause_instance(model, "intake-rubber-cracked@1");
  const std::size_t right = test::cause_instance(model, "intake-rubber-cracked@2");
  const FindingInstance& left_header = test::finding_instance(model, "cold-header@1");
  const FindingInstance& right_header = test::finding_instance(model, "cold-header@2");
  CHECK(linked(left_header, jet));
  CHECK(linked(right_header, jet));
  CHECK(linked(left_header, left));
  CHECK_FALSE(linked(left_header, right));
  CHECK(linked(right_header, right));
  CHECK_FALSE(linked(right_header, left));
  CHECK(model.describe(model.causes[jet].place) == "carburettor 1 (cylinders 1 and 2)");
  CHECK(model.describe_cause(jet).ends_with("partly blocked"));  // there is no other carburettor
  CHECK(model.describe_cause(right).ends_with("cylinder 2"));
}

TEST_CASE("a shared carburettor is the same one from either cylinder", "[property][machine]") {
  const auto belief_of = [](const JobWriter& job) { return test::diagnose(job).infer(); };
  JobWriter left = twin(), right = twin(), both = twin();
  left.record("pilot-jet-look", "shut", {1}).repair("clean-pilot", {1});
  right.record("pilot-jet-look", "shut", {2}).repair("clean-pilot", {2});
  both.record("pilot-jet-look", "shut", {1, 2}).repair("clean-pilot", {2, 1});
  const belief::Belief expected = belief_of(left);
  CHECK(belief_of(right).present_now == expected.present_now);
  CHECK(belief_of(both).present_now == expected.present_now);
  // a cylinder's own fault is not shared
  JobWriter rubber_left = twin(), rubber_right = twin();
  rubber_left.record("rubber-in-place", "split", {1});
  rubber_right.record("rubber-in-place", "split", {2});
  CHECK(belief_of(rubber_left).present_now != belief_of(rubber_right).present_now);
}

TEST_CASE("every cylinder has its place on every machine", "[property][machine]") {
  for (const std::string& machine : test::shipped_machines()) {
    CAPTURE(machine);
    JobWriter writer(test::shipped_sheet(machine));
    const Model model = test::diagnose(writer).model();
    CHECK(model.places(pack::Scope::cylinder).size() == model.machine.cylinders.size());
    CHECK(model.places(pack::Scope::carburettor).size() == model.machine.carburettors.size());
    for (std::size_t cylinder = 1; cylinder <= model.machine.cylinders.size(); ++cylinder) {
      const Place place = model.place_at(pack::Scope::carburettor, cylinder);
      const auto& feeds = model.machine.carburettors[place.number - 1].feeds;
      CHECK(std::count(feeds.begin(), feeds.end(), cylinder) == 1);
    }
  }
}

TEST_CASE("a machine has no cause, finding, check or repair of what it lacks",
          "[property][machine]") {
  for (const std::string& machine : test::shipped_machines()) {
    CAPTURE(machine);
    JobWriter writer(test::shipped_sheet(machine));
    writer.record("idle-hunts", "clear");
    const Diagnosis job = test::diagnose(writer);
    const Model& model = job.model();
    for (const CauseInstance& one : model.causes) {
      CHECK(model.applies(model.pack.causes[one.cause].needs));
    }
    for (const FindingInstance& one : model.findings) {
      CHECK(model.applies(model.pack.findings[one.finding].needs));
    }
    for (const plan::CourseStep& step : job.workshop().steps()) {
      CHECK(model.applies(model.pack.repairs[step.repair].needs));
    }
    for (const plan::Proposal& proposal : job.advise().proposals) {
      CAPTURE(proposal.index);
      CHECK(possible(model, proposal));
    }
  }
}

TEST_CASE("what a machine lacks can be left out of the knowledge", "[property][machine]") {
  pack::Pack lean = test::shipped_pack();
  const Model full = test::diagnose(twin()).model();
  std::size_t dropped = 0;
  for (pack::Cause& cause : lean.causes) {
    if (full.applies(cause.needs)) continue;
    cause.prior = test::number(0.9);  // nobody sees what it says
    ++dropped;
  }
  for (pack::Finding& finding : lean.findings) {
    if (full.applies(finding.needs)) continue;
    finding.leak.assign(finding.leak.size(), test::number(0.3));
    ++dropped;
  }
  CHECK(dropped > 3);
  const belief::Belief got = test::diagnose(lean, twin().journal()).infer();
  CHECK(got.present_now == test::diagnose(twin()).infer().present_now);
}

TEST_CASE("the same journal gives the same bytes, replayed or read from a file",
          "[property][machine]") {
  const JobWriter job = long_job();
  const auto first = trail_of(job.journal());
  CHECK(first.first.size() > 1000);
  CHECK(trail_of(job.journal()) == first);
  CHECK(trail_of(written_and_read(job.journal())) == first);
}

}  // namespace tickover::property_machine_test
