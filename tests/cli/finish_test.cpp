/// @file
/// Closing a job: what it was and where, and the machine that comes back.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"

namespace tickover::cli_finish_test {
namespace {

using Catch::Contains;

/// An invented four with a blocked pilot jet: heard, looked at, cleaned, and gone.
class Cured {
 public:
  explicit Cured(const std::string& where = "3") {
    CHECK(run("open bike.job --machine four-inline --risk old-rubber --complaint 'it hangs'")
              .status == 0);
    CHECK(run("record bike.job speed-hangs clear").status == 0);
    CHECK(run("record bike.job idles-only-propped yes --asked").status == 0);
    CHECK(run("record bike.job pilot-jet-check --cyl 3 shut").status == 0);
    CHECK(run("repair bike.job clean-pilot --cyl " + where).status == 0);
    gone = run("verify bike.job gone");
  }

  test::ProgramResult run(const std::string& line) const {
    return test::run_program(
        {test::words_of_line(line), scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  std::string sheet(const std::string& options = "") const {
    return run("sheet bike.job " + options).out;
  }

  test::Scratch scratch;
  test::ProgramResult gone;
};

}  // namespace

TEST_CASE("the line that closes a job names what was found", "[cli][finish]") {
  const Cured job;
  CHECK_THAT(job.gone.out, Contains("tickover finish bike.job --cause") &&
                               Contains("pilot-jet-blocked@3") && !Contains("..."));
  CHECK(job.run("finish bike.job --cause pilot-jet-blocked@3").status == 0);
}

TEST_CASE("what the mechanic confirms is the cause on every sheet", "[cli][finish]") {
  const Cured job;
  CHECK_THAT(job.sheet(), !Contains("confirmed by the mechanic"));
  // improbable as it is after all that was seen
  CHECK(job.run("finish bike.job --cause vacuum-port-open@2").status == 0);
  const std::string named =
      "Vacuum take-off open: cap off, screw missing or hose split, cylinder 2";
  CHECK_THAT(job.sheet(), Contains("- " + named + ": confirmed by the mechanic"));
  CHECK_THAT(job.sheet("--html -"), Contains(named + ": confirmed by the mechanic"));
  const std::string rider = job.sheet("--for rider");
  CHECK_THAT(rider, Contains("- " + named) && !Contains("- Pilot jet or pilot passage"));
  CHECK(nlohmann::json::parse(job.sheet("--json")).at("named") ==
        nlohmann::json{"vacuum-port-open@2"});
  CHECK_THAT(job.run("review bike.job").out,
             Contains("though what was recorded hardly speaks for it\n  - Vacuum take-off open"));
}

TEST_CASE("a cause of one cylinder is named with it, unless it was repaired at one alone",
          "[cli][finish]") {
  const Cured everywhere("all");
  const std::string before = everywhere.scratch.read("bike.job");
  const auto refused = everywhere.run("finish bike.job --cause pilot-jet-blocked");
  CHECK(refused.status == 2);
  CHECK_THAT(refused.err, Contains("any of 4 places where it was repaired") &&
                              Contains("--cause pilot-jet-blocked@1"));
  CHECK(everywhere.scratch.read("bike.job") == before);
  CHECK(everywhere.run("finish bike.job --cause stale-fuel --cyl 2").status == 2);
  CHECK_THAT(everywhere.run("finish bike.job --cause pilot-jet-blocked@5").err,
             Contains("names no place") && Contains("@1 to --cause pilot-jet-blocked@4"));
  CHECK(everywhere.run("finish bike.job --cause pilot-jet-blocked --cyl 1,3").status == 0);
  CHECK_THAT(everywhere.sheet(), Contains("blocked, cylinder 1: confirmed") &&
                                     Contains("blocked, cylinder 3: confirmed"));
  const Cured one;
  CHECK(one.run("finish bike.job --cause pilot-jet-blocked").status == 0);
  CHECK_THAT(one.sheet(), Contains("blocked, cylinder 3: confirmed"));
}

TEST_CASE("a job finished without a cause says so", "[cli][finish]") {
  const Cured job;
  const auto finished = job.run("finish bike.job");
  CHECK(finished.status == 0);
  CHECK_THAT(finished.out,
             Contains("No cause is named") && Contains("tickover strike bike.job 7 --reason"));
  CHECK_THAT(job.sheet(), Contains("finished without naming a cause"));
  const Cured named;
  CHECK_THAT(named.run("finish bike.job --cause pilot-jet-blocked").out,
             !Contains("No cause is named"));
  CHECK_THAT(named.run("review bike.job").out, !Contains("hardly speaks for it"));
}

TEST_CASE("a machine that comes back has a job of its own that knows the one before",
          "[cli][finish]") {
  const Cured job;
  CHECK_THAT(job.run("open new.job --after bike.job").err, Contains("not finished"));
  CHECK(job.run("finish bike.job --cause pilot-jet-blocked").status == 0);
  const std::string before = job.scratch.read("bike.job");
  for (const std::string line : {"record bike.job idle-hunts clear", "next bike.job",
                                 "open bike.job --machine four-inline"}) {
    CAPTURE(line);
    const auto told = job.run(line);
    CHECK_THAT(told.out + told.err, Contains("tickover open NEW.job --after bike.job"));
  }
  const auto opened =
      job.run("open new.job --after bike.job --risk tank-recently-off --complaint x");
  CHECK(opened.status == 0);
  CHECK_THAT(opened.out, Contains("It came back after bike.job") && Contains("\"it hangs\"") &&
                             Contains("Clean pilot jet and passages, cyl 3") &&
                             Contains("passage partly blocked, cylinder 3"));
  const auto opening = nlohmann::json::parse(job.scratch.read("new.job")).at("opening");
  CHECK(opening.at("risks") ==
        nlohmann::json{"old-rubber", "carburettors-recently-off", "tank-recently-off"});
  CHECK_THAT(opened.out, Contains("Carburettors off or apart") && Contains("Tank off lately") &&
                             Contains("Left then"));
  CHECK(opening.at("machine").at("id") == "four-inline");
  // which job it was, and how it stood, is proved by its last checksum
  const std::string last = before.substr(before.rfind('{'));
  CHECK(opening.at("earlier").at("sum") == nlohmann::json::parse(last).at("sum"));
  CHECK(job.run("record new.job speed-hangs clear").status == 0);
  const std::string sheet = job.run("sheet new.job").out;
  CHECK_THAT(sheet, Contains("## The job before this one") &&
                        Contains("Repaired then: Clean pilot jet and passages, cylinder 3") &&
                        Contains("After the road test: the complaint is gone."));
  CHECK_THAT(job.run("sheet new.job --html -").out, Contains("Repaired then:"));
  CHECK(job.scratch.read("bike.job") == before);
}

TEST_CASE("work leaves its risks where it cured, and not for ever", "[cli][finish]") {
  const Cured never;
  CHECK(never.run("verify bike.job still").status == 1);
  CHECK(never.run("finish bike.job").status == 0);
  CHECK(never.run("open new.job --after bike.job").status == 0);
  const auto risks = [](const Cured& job, const std::string& name) {
    return nlohmann::json::parse(job.scratch.read(name)).at("opening").at("risks");
  };
  CHECK(risks(never, "new.job") == nlohmann::json{"old-rubber"});
  const Cured cured;
  CHECK(cured.run("finish bike.job").status == 0);
  CHECK(cured.run("open second.job --after bike.job").status == 0);
  CHECK(risks(cured, "second.job") ==
        nlohmann::json{"old-rubber", "carburettors-recently-off", "tank-recently-off"});
  CHECK(cured.run("record second.job speed-hangs clear").status == 0);
  CHECK(cured.run("repair second.job tighten-clamp --cyl 1").status == 0);
  CHECK(cured.run("verify second.job gone").status == 0);
  CHECK(cured.run("finish second.job").status == 0);
  CHECK(cured.run("open third.job --after second.job").status == 0);
  CHECK(risks(cured, "third.job") == nlohmann::json{"old-rubber"});
}

TEST_CASE("a risk of the job before that holds no more is left out", "[cli][finish][errors]") {
  const Cured job;
  CHECK(job.run("finish bike.job").status == 0);
  const auto refused = [&](const std::string& more) {
    const auto told = job.run("open new.job " + more);
    CHECK(told.status == 2);
    CHECK(job.scratch.files().count("new.job") == 0);
    return told.err;
  };
  CHECK_THAT(refused("--after bike.job --no-risk old-ruber"),
             Contains("--no-risk: no risk named 'old-ruber'") && Contains("nearest: old-rubber"));
  CHECK_THAT(refused("--after bike.job --no-risk long-storage"),
             Contains("'long-storage' is none that the job before leaves") &&
                 Contains("old-rubber, carburettors-recently-off and tank-recently-off"));
  CHECK_THAT(refused("--after bike.job --risk old-rubber --no-risk old-rubber"),
             Contains("'old-rubber' is said with --risk too"));
  CHECK_THAT(refused("--machine four-inline --no-risk old-rubber"),
             Contains("--no-risk") && Contains("--after"));
  const auto opened =
      job.run("open new.job --after bike.job --no-risk old-rubber --no-risk tank-recently-off");
  CHECK(opened.status == 0);
  CHECK_THAT(opened.out, Contains("Carburettors off or apart") && !Contains("Tank off lately"));
  CHECK(nlohmann::json::parse(job.scratch.read("new.job")).at("opening").at("risks") ==
        nlohmann::json{"carburettors-recently-off"});
}

TEST_CASE("a machine that comes back is the same machine", "[cli][finish][errors]") {
  const Cured job;
  CHECK(job.run("finish bike.job --cause pilot-jet-blocked").status == 0);
  const auto other = job.run("open new.job --after bike.job --machine single");
  CHECK(other.status == 2);
  CHECK_THAT(other.err, Contains("was done on 'four-inline', and this is 'single'"));
  CHECK(job.run("open new.job --after bike.job --machine four-inline").status == 0);
}

TEST_CASE("a cause that is named and was not repaired is told", "[cli][finish]") {
  const Cured job;
  const std::string told = "Named, though no entry repairs it: Vacuum take-off open";
  CHECK_THAT(job.run("finish bike.job --cause vacuum-port-open@2").out, Contains(told));
  const Cured repaired;
  CHECK_THAT(repaired.run("finish bike.job --cause pilot-jet-blocked@3").out,
             !Contains("no entry repairs it"));
}

TEST_CASE("a road test that found it gone still counts when more is done after it",
          "[cli][finish]") {
  const Cured job;
  CHECK(job.run("repair bike.job balance-carburettors").status == 0);
  const std::string told = "the complaint was gone; what was done since is not proven";
  CHECK_THAT(job.sheet(), Contains("After the road test of entry 6 " + told));
  CHECK_THAT(job.sheet("--for rider"), Contains(told));
  CHECK_THAT(job.sheet("--html -"), Contains(told));
  CHECK_THAT(job.run("finish bike.job --cause pilot-jet-blocked@3").out,
             Contains("The road test of entry 6 found the complaint gone;"));
  const Cured back;
  CHECK(back.run("record bike.job speed-hangs clear").status == 0);
  CHECK(back.run("repair bike.job balance-carburettors").status == 0);
  CHECK_THAT(back.sheet(), !Contains(told));
  const Cured again;
  CHECK(again.run("verify bike.job still").status == 1);
  CHECK(again.run("repair bike.job balance-carburettors").status == 0);
  CHECK_THAT(again.sheet(), !Contains(told));
}

TEST_CASE("what the rider admitted only when asked can be found gone", "[cli][finish]") {
  const Cured job;
  const auto changed = job.run("verify bike.job changed --gone idles-only-propped");
  CHECK(changed.status == 1);
  CHECK_THAT(changed.out, Contains("verified: changed: idles-only-propped"));
  const auto never = job.run("verify bike.job changed --gone overrun-popping");
  CHECK(never.status == 2);
  CHECK_THAT(never.err, Contains("'overrun-popping' is not recorded as being there") &&
                            Contains("speed-hangs and idles-only-propped"));
}

TEST_CASE("the rider is warned of what is worth it, the next mechanic of all", "[cli][finish]") {
  const Cured job;
  CHECK(job.run("verify bike.job still").status == 1);
  const auto remaining = nlohmann::json::parse(job.sheet("--json")).at("remaining");
  const std::string rider = job.sheet("--for rider"), mechanic = job.sheet();
  std::size_t few = 0;
  for (const auto& one : remaining) few += one.at("probability").get<double>() < 0.2 ? 1 : 0;
  REQUIRE(few > 0);
  const std::size_t told = std::count(rider.begin(), rider.end(), '%');
  CHECK(told == 0);
  CHECK_THAT(rider, Contains("No single cause stands out yet.") && !Contains("If it comes back"));
  CHECK_THAT(mechanic, Contains("Carburettors out of balance with each other: "));
  CHECK_THAT(rider, !Contains("Carburettors out of balance with each other"));
}

TEST_CASE("what the rider spoke of and nobody recorded is told before the job is closed",
          "[cli][finish]") {
  const Cured job;
  const std::string told = "of which nothing is recorded: ask";
  CHECK_THAT(job.gone.out, !Contains(told));
  const auto bench = [](const std::string& more) {
    const test::Scratch scratch;
    std::string out;
    for (const std::string& line :
         {std::string("open two.job --machine four-inline --complaint 'hangs after a blip, pops "
                      "when I shut off'"),
          std::string("record two.job speed-hangs clear"), more,
          std::string("repair two.job clean-pilot --cyl 1-4"), std::string("verify two.job gone"),
          std::string("review two.job"), std::string("finish two.job")}) {
      if (line.empty()) continue;
      out += test::run_program({test::words_of_line(line), scratch.folder(),
                                std::string(TICKOVER_SOURCE) + "/knowledge"})
                 .out;
    }
    return out;
  };
  const std::string left = bench("");
  CHECK_THAT(left, Contains(told) && Contains("(overrun-popping), by \"pops when i shut"));
  std::size_t times = 0;
  for (std::size_t at = left.find(told); at != std::string::npos; at = left.find(told, at + 1)) {
    ++times;
  }
  CHECK(times == 3);  // verify, review, finish
  CHECK_THAT(bench("record two.job overrun-popping none"), !Contains(told));
  CHECK_THAT(bench("record two.job overrun-popping unsure"), !Contains(told));
}

TEST_CASE("a repair that is recorded twice with no road test between is asked about",
          "[cli][finish]") {
  const Cured job;
  CHECK(job.run("strike bike.job 6 --reason 'not tried yet'").status == 0);
  const std::string told = "It is recorded already, by entry 5";
  CHECK_THAT(job.run("repair bike.job clean-pilot --cyl 2").out, !Contains(told));
  const std::string more = job.run("repair bike.job clean-pilot --cyl 3,4").out;
  CHECK_THAT(more, Contains("A part of it is recorded already, by entry 5") &&
                       Contains("for the other cylinders alone"));
  const std::string same = job.run("repair bike.job clean-pilot --cyl 4").out;
  CHECK_THAT(same, Contains("It is recorded already") && !Contains("for the other cylinders"));
  CHECK(job.run("verify bike.job still").status == 1);
  CHECK_THAT(job.run("repair bike.job clean-pilot --cyl 3").out,
             !Contains("It is recorded already"));
}

TEST_CASE("the rider is told of parts as old as the one that was renewed", "[cli][finish]") {
  const Cured job;
  const std::string told = "Intake rubbers that were not renewed are as old";
  CHECK_THAT(job.sheet("--for rider"), !Contains(told));
  CHECK(job.run("repair bike.job renew-intake-rubber --cyl 2").status == 0);
  CHECK_THAT(job.sheet("--for rider"), Contains(told));
  CHECK_THAT(job.sheet("--for rider --html -"), Contains(told));
  CHECK(job.run("record bike.job rubber-check-in-place --cyl 1 sound").status == 0);
  CHECK_THAT(job.sheet("--for rider"), Contains(told));
  CHECK(job.run("record bike.job rubber-check-in-place --cyl 3,4 sound").status == 0);
  CHECK_THAT(job.sheet("--for rider"), !Contains(told));
}

TEST_CASE("a machine that is handed on leaves as it came, with the mechanic's word",
          "[cli][finish]") {
  const test::Scratch scratch;
  const auto run = [&](const std::string& line) {
    return test::run_program(
        {test::words_of_line(line), scratch.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  };
  CHECK(run("open bike.job --machine single --complaint 'it hangs'").status == 0);
  CHECK(run("record bike.job speed-hangs clear").status == 0);
  CHECK_THAT(run("sheet bike.job --for rider").out, Contains("Nothing was repaired yet."));
  CHECK(run("finish bike.job --note 'goes to an engine shop: compression'").status == 0);
  for (const std::string form : {"", " --html -"}) {
    CHECK_THAT(run("sheet bike.job --for rider" + form).out,
               Contains("The machine leaves as it came: nothing was repaired.") &&
                   Contains("goes to an engine shop: compression") &&
                   !Contains("not yet run to prove"));
  }
}

TEST_CASE("hours and minutes can be typed together", "[cli][record]") {
  const Cured job;
  for (const std::string time : {"1h30", "'1 h 30 min'", "1:30", "90"}) {
    CHECK(job.run("record bike.job overrun-popping none --asked --minutes " + time).status == 0);
  }
  const std::string steps = job.run("sheet bike.job --csv -").out;
  std::size_t ninety = 0;
  for (std::size_t at = steps.find("\"90\""); at != std::string::npos;
       at = steps.find("\"90\"", at + 1)) {
    ++ninety;
  }
  CHECK(ninety == 4);
  for (const std::string time : {"1h75", "1:5"}) {
    const auto got = job.run("record bike.job overrun-popping none --asked --minutes " + time);
    CHECK(got.status == 2);
    CHECK_THAT(got.err, Contains("--minutes"));
  }
}

}  // namespace tickover::cli_finish_test
