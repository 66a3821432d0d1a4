/// @file
/// What a person types at 'record' and 'note', through the program.
#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

#include "tests/support/program.hpp"
#include "tests/support/scratch.hpp"
#include "tests/support/single_bench.hpp"

namespace tickover::cli_record_test {
namespace {

using Catch::Contains;

class Bench {
 public:
  Bench() { CHECK(run({"open", "bike.job", "--machine", "four-inline"}).status == 0); }

  test::ProgramResult run(const std::vector<std::string>& words) const {
    return test::run_program(
        {words, scratch_.folder(), std::string(TICKOVER_SOURCE) + "/knowledge"});
  }
  test::ProgramResult record(const std::string& what, const std::string& cylinder,
                             const std::string& value) const {
    return run({"record", "bike.job", what, "--cyl", cylinder, value});
  }
  std::string journal() const { return scratch_.read("bike.job"); }

 private:
  test::Scratch scratch_;
};

}  // namespace

TEST_CASE("a look at what was repaired since may be at the old part", "[cli][record]") {
  const test::SingleBench bench;
  CHECK(bench.run({"repair", "bike.job", "renew-intake-rubber"}).status == 0);
  const std::string old = bench.run({"record", "bike.job", "rubber-check-off", "split"}).out;
  CHECK(old.find("Taken as what it looks like since entry 3.") != std::string::npos);
  CHECK(bench.run({"verify", "bike.job", "still"}).status == 1);
  const std::string later = bench.run({"record", "bike.job", "rubber-check-off", "split"}).out;
  CHECK(later.find("Taken as what it looks like") == std::string::npos);
}

TEST_CASE("a plug that has not seen the repair is questioned", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "speed-hangs", "clear"}).status == 0);
  CHECK(bench.run({"repair", "bike.job", "clean-pilot", "--cyl", "3"}).status == 0);
  const auto early = bench.record("plug-look-pale", "3", "pale");
  CHECK(early.status == 2);
  CHECK_THAT(early.err, Contains("has run since the repair of entry 3") && Contains("--confirm"));
  CHECK(bench.record("plug-look-pale", "2", "pale").status == 0);  // nothing was repaired there
  CHECK(bench.run({"record", "bike.job", "plug-look-pale", "--cyl", "3", "pale", "--confirm"})
            .status == 0);
}

TEST_CASE("cylinders are said one by one or from one to another", "[cli][record]") {
  const Bench bench;
  const auto record = [&](const std::string& cylinders) {
    return bench.run({"record", "bike.job", "cold-header", "none", "--cyl=" + cylinders});
  };
  CHECK(bench.run({"record", "bike.job", "speed-hangs", "clear"}).status == 0);
  CHECK_THAT(record("2-4,1").out, Contains("cyl 1, 2, 3 and 4"));
  for (const std::string wrong : {"4-2", "2-", "-3", "1-x"}) {
    CAPTURE(wrong);
    CHECK(record(wrong).status == 2);
  }
  CHECK(record("2 - 3").status == 0);
  CHECK_THAT(record("3-7").err, Contains("no cylinder 7"));
}

TEST_CASE("cylinders go by the names of the machine's sheet too", "[cli][record]") {
  const Bench bench;
  const auto opened = bench.run({"open", "vee.job", "--machine", "four-v"});
  CHECK_THAT(opened.out, Contains("Cylinders: 1 rear left, 2 front left, 3 rear right"));
  CHECK(bench.run({"record", "vee.job", "cold-header", "--cyl", "Rear Left, 4", "cold"}).status ==
        0);
  CHECK_THAT(bench.run({"sheet", "vee.job"}).out, Contains("cylinders 1 and 4"));
  CHECK_THAT(bench.run({"sheet", "vee.job"}).out, Contains("4 (1 rear left, 2 front left"));
  const auto unknown = bench.run({"record", "vee.job", "cold-header", "--cyl", "middle", "cold"});
  CHECK(unknown.status == 2);
  CHECK_THAT(unknown.err, Contains("here 1 rear left, 2 front left"));
}

TEST_CASE("a new plug shows nothing before the engine has run", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "misfire-under-load", "yes"}).status == 0);
  CHECK(bench.run({"repair", "bike.job", "renew-plugs", "--cyl", "1"}).status == 0);
  const auto early = bench.record("plug-look-pale", "1", "pale");
  CHECK(early.status == 2);
  CHECK_THAT(early.err, Contains("has nothing to show yet") && Contains("entry 3"));
  const auto offered = [&] {  // cylinders at which the look is proposed
    const auto told =
        nlohmann::json::parse(bench.run({"next", "bike.job", "--top", "300", "--json"}).out);
    for (const auto& one : told["proposals"]) {
      if (one.value("check", "") == "plug-look-pale") return one["places"].dump();
    }
    return std::string("none");
  };
  CHECK(offered() == "[2,3,4]");
  CHECK(bench.record("plug-look-pale", "2", "pale").status == 0);  // that plug is the old one
  CHECK(bench.record("plug-gap", "1", "0.8mm").status == 0);       // what is set before it runs
  CHECK(bench.run({"record", "bike.job", "plug-look-pale", "--cyl", "1", "pale", "--confirm"})
            .status == 0);
  CHECK(bench.run({"verify", "bike.job", "still"}).status == 1);
  CHECK(bench.record("plug-look-pale", "1", "normal").status == 0);
  CHECK(bench.run({"repair", "bike.job", "renew-plugs", "--cyl", "3"}).status == 0);
  CHECK(bench.record("plug-look-pale", "3", "pale").status == 2);
  CHECK(bench.record("cut-out-test", "3", "normal-drop").status == 0);  // it has run
  CHECK(bench.record("plug-look-pale", "3", "pale").status == 0);
}

TEST_CASE("what is repaired again is not out of limits as it stands", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  const std::string told = "Out of limits as it stands";
  for (const std::string height : {"14mm", "15mm"}) {
    CHECK(bench.record("float-height", "2", height).status == 0);
    CHECK_THAT(bench.run({"next", "bike.job"}).out, Contains(told));
    CHECK(bench.run({"repair", "bike.job", "set-float", "--cyl", "2"}).status == 0);
    CHECK(bench.run({"next", "bike.job"}).out.find(told) == std::string::npos);
  }
}

TEST_CASE("changed is not said where all of the complaint is gone", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  CHECK(bench.run({"record", "bike.job", "speed-hangs", "clear"}).status == 0);
  CHECK(bench.run({"repair", "bike.job", "clean-pilot", "--cyl", "all"}).status == 0);
  const auto all =
      bench.run({"verify", "bike.job", "changed", "--gone", "idle-hunts", "--gone", "speed-hangs"});
  CHECK(all.status == 2);
  CHECK_THAT(all.err, Contains("verify JOB gone"));
  CHECK(bench.run({"verify", "bike.job", "changed", "--gone", "idle-hunts"}).status == 1);
}

TEST_CASE("a reading that turns with nothing repaired between is asked about", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  CHECK(bench.record("float-height", "2", "14mm").status == 0);
  const auto next = bench.run({"next", "bike.job"});
  CHECK_THAT(next.out, Contains("Out of limits as it stands") && Contains("14 mm"));
  CHECK_THAT(bench.record("float-height", "2", "17.5mm").out, Contains("It differs from entry 3"));
  CHECK_THAT(bench.run({"review", "bike.job"}).out, Contains("In limits once and once not"));
  CHECK_THAT(bench.record("float-height", "2", "17.6mm").out, Contains("It differs from entry 3"));
  CHECK(bench.run({"strike", "bike.job", "3", "--reason", "read upside down"}).status == 0);
  const auto after = bench.run({"review", "bike.job"});
  CHECK(after.out.find("In limits once and once not") == std::string::npos);
  CHECK(bench.record("float-height", "3", "14mm").status == 0);
  CHECK(bench.run({"repair", "bike.job", "set-float", "--cyl", "3"}).status == 0);
  const auto mended = bench.record("float-height", "3", "17.5mm");
  CHECK(mended.out.find("It differs from entry") == std::string::npos);
}

TEST_CASE("what is set on the running engine closes what stops it", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  CHECK(bench.run({"strip", "bike.job", "bowls"}).status == 0);
  CHECK_THAT(bench.run({"repair", "bike.job", "balance-carburettors"}).out,
             Contains("Taken as closed up before it: ") && Contains("Carburettors off"));
}

TEST_CASE("no is the lowest answer, but not where another begins with it", "[cli][record]") {
  const Bench bench;
  CHECK(bench.record("cold-header", "1", "no").status == 0);
  const auto doubtful = bench.record("cut-out-test", "1", "no");
  CHECK(doubtful.status == 2);
  CHECK_THAT(doubtful.err, Contains("answers: normal-drop, small-drop or no-drop"));
}

// "no repair named 'balance-carburettors', nearest: balance-carburettors" was the answer.
TEST_CASE("what only other machines have is not called unknown", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"open", "single.job", "--machine", "single"}).status == 0);
  CHECK(bench.run({"record", "single.job", "idle-hunts", "clear"}).status == 0);
  const auto repair = bench.run({"repair", "single.job", "balance-carburettors"});
  CHECK(repair.status == 2);
  CHECK(repair.err ==
        "tickover: 'balance-carburettors' does not apply to this machine\n  it needs: multi\n");
}

TEST_CASE("a decimal comma and a comma in a remark stay what they are", "[cli][record]") {
  const Bench bench;
  const auto height = bench.record("float-height", "3", "17,5 mm");
  CAPTURE(height.err);
  CHECK(height.status == 0);
  CHECK_THAT(bench.journal(), Contains("17,5 mm"));
  CHECK(bench.record("exhaust-gas", "1", "CO 0,3%, CO2 13%, HC 180ppm, O2 2,6%").status == 0);
  CHECK(bench.run({"note", "bike.job", "wet, then dry,", "a,b"}).status == 0);
  CHECK_THAT(bench.journal(), Contains("wet, then dry, a,b"));
  CHECK(
      bench
          .run({"open", "two.job", "--machine", "four-inline", "--risk", "long-storage,old-rubber"})
          .status == 0);
}

// Jets are chosen for the whole engine, though they sit in single carburettors.
TEST_CASE("a repair of something of the engine is done everywhere unless it is said where",
          "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  const auto everywhere = bench.run({"repair", "bike.job", "rejet"});
  CAPTURE(everywhere.err);
  CHECK(everywhere.status == 0);
  CHECK(bench.run({"repair", "bike.job", "rejet", "--cyl", "2"}).status == 0);
  CHECK(bench.run({"repair", "bike.job", "clean-pilot"}).status == 2);  // of single carburettors
}

TEST_CASE("a value without unit is refused with what to type", "[cli][record]") {
  const Bench bench;
  const std::string before = bench.journal();
  const auto bare = bench.record("float-height", "3", "17");
  CHECK(bare.status == 2);
  CHECK(bare.err == "tickover: '17' has no unit\n  write it with its unit, such as 17 mm\n");
  const auto gas = bench.record("exhaust-gas", "1", "CO 3 CO2 12.9 HC 200 O2 0.6");
  CHECK_THAT(gas.err, Contains("CO: '3' has no unit") && Contains("such as 3 %"));
  CHECK(bench.journal() == before);
  const auto screw =
      bench.run({"record", "bike.job", "mixture-screw-turns", "--cyl", "2", "2", "3/4"});
  CHECK(screw.status == 0);
  CHECK_THAT(screw.out, Contains("2.75 turns"));  // told back with its unit
  CHECK_THAT(bench.record("compression", "1", "167psi").out, Contains("1151 kPa"));
}

TEST_CASE("a value hardly possible is questioned with the probable slip", "[cli][record]") {
  const Bench bench;
  const std::string before = bench.journal();
  const auto refused = [&](const std::string& what, const std::string& value) {
    const auto result = bench.record(what, "1", value);
    CHECK(result.status == 2);
    return result.err;
  };
  CHECK_THAT(refused("float-height", "146mm"), Contains("did you mean 14.6 mm?"));
  CHECK_THAT(refused("compression", "167 kPa"),
             Contains("did you mean 167 psi? if it is as written, add --confirm"));
  CHECK_THAT(refused("compression", "12 kPa"), Contains("did you mean 12 bar?"));
  CHECK_THAT(refused("compression", "115 kPa"), Contains("did you mean 1150 kPa?"));
  CHECK(bench.journal() == before);
}

TEST_CASE("time is given in minutes or with its unit", "[cli][record]") {
  const Bench bench;
  const auto with_time = [&](const std::string& time) {
    return bench.run({"note", "bike.job", "x", "--by", "me"}).status == 0
               ? bench.run({"strip", "bike.job", "carburettors", "--minutes", time})
               : test::ProgramResult{};
  };
  CHECK(with_time("20").status == 0);
  CHECK_THAT(bench.journal(), Contains("\"minutes\":20"));
  CHECK(with_time("1.5h").status == 0);
  CHECK_THAT(bench.journal(), Contains("\"minutes\":90"));
  CHECK(with_time("5kPa").status == 2);
  CHECK_THAT(with_time("5x").err, Contains("--minutes: no unit named 'x'"));
  CHECK_THAT(with_time("soon").err, Contains("--minutes: 'soon' does not begin with a number"));
}

TEST_CASE("what a check takes as opened or closed is told, and only then", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  const auto off = bench.record("rubber-check-off", "2", "split");
  CHECK_THAT(off.out, Contains("Taken as opened for it: ") && Contains("Carburettors off"));
  CHECK_THAT(bench.record("rubber-check-off", "3", "sound").out, !Contains("Taken as"));
  const auto running = bench.record("water-mist", "1", "none");
  CHECK_THAT(running.out, Contains("Taken as closed up before it: ") && !Contains("opened"));
  CHECK_THAT(bench.run({"strip", "bike.job", "carburettors"}).out, !Contains("Taken as"));
}

TEST_CASE("a strike struck out says which entry counts again", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  CHECK(bench.run({"record", "bike.job", "speed-hangs", "clear"}).status == 0);
  const auto struck = bench.run({"strike", "bike.job", "3", "--reason", "other machine"});
  CHECK_THAT(struck.out, !Contains("counts again"));
  const auto undone = bench.run({"strike", "bike.job", "4", "--reason", "it was this one"});
  CHECK_THAT(undone.out, Contains("Entry 3 counts again."));
}

TEST_CASE("nothing is found cured that nobody has repaired", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  const std::string before = bench.journal();
  const auto gone = bench.run({"verify", "bike.job", "gone"});
  CHECK(gone.status == 2);
  CHECK_THAT(gone.err, Contains("nothing was repaired yet") && Contains("tickover note"));
  CHECK(bench.journal() == before);
  CHECK(bench.run({"verify", "bike.job", "changed", "--gone", "idle-hunts"}).status == 2);
  CHECK(bench.run({"verify", "bike.job", "still"}).status == 1);
  CHECK(bench.run({"repair", "bike.job", "renew-fuel"}).status == 0);
  CHECK(bench.run({"verify", "bike.job", "gone"}).status == 0);
}

TEST_CASE("what the last road test still had is not cured without a repair", "[cli][record]") {
  const Bench bench;
  CHECK(bench.run({"record", "bike.job", "idle-hunts", "clear"}).status == 0);
  CHECK(bench.run({"repair", "bike.job", "renew-fuel"}).status == 0);
  CHECK(bench.run({"verify", "bike.job", "still"}).status == 1);
  const std::string before = bench.journal();
  const auto gone = bench.run({"verify", "bike.job", "gone"});
  CHECK(gone.status == 2);
  CHECK_THAT(gone.err, Contains("nothing was repaired since") && Contains("tickover note"));
  CHECK(bench.journal() == before);
  CHECK(bench.run({"verify", "bike.job", "still"}).status == 1);  // tried again, no better
  CHECK(bench.run({"strike", "bike.job", "4", "--reason", "cold engine"}).status == 0);
  CHECK(bench.run({"strike", "bike.job", "5", "--reason", "cold engine"}).status == 0);
  CHECK(bench.run({"verify", "bike.job", "gone"}).status == 0);
}

TEST_CASE("explain names the answer that each strength is for", "[cli]") {
  const Bench bench;
  CHECK_THAT(bench.run({"explain", "cold-header"}).out,
             Contains("With no listed cause: ") && Contains(" cooler and ") && Contains(" cold\n"));
  CHECK_THAT(bench.run({"explain", "rubber-check-off"}).out, Contains("\nAn inspection; one"));
}

}  // namespace tickover::cli_record_test
