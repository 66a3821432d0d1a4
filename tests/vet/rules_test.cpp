/// @file
/// Each rule of vet on the smallest pack that breaks it, and on one that just does not.
#include <algorithm>
#include <catch2/catch.hpp>

#include "engine/vet/exceptions.hpp"
#include "tests/support/small_pack.hpp"

namespace tickover::vet_rules_test {
namespace {

using test::SmallPack;
using vet::Remark;
using vet::Severity;

std::vector<Remark> of_rule(const std::vector<Remark>& all, const std::string& rule) {
  std::vector<Remark> found;
  for (const Remark& remark : all) {
    if (remark.rule == rule) found.push_back(remark);
  }
  return found;
}

std::vector<Remark> on_machine(const SmallPack& small, const std::string& rule) {
  return of_rule(vet::about_machine(test::small_model(small)), rule);
}

/// Two causes behind one symptom; the first can be looked at with that sensitivity and false alarm.
SmallPack one_look(double sensitivity, double false_alarm) {
  SmallPack small(10, 500);
  const std::size_t seen = small.cause(0.05), other = small.cause(0.05);
  small.symptom(0.001, {{seen, 0.8}, {other, 0.8}});
  small.look({seen, sensitivity, false_alarm, {1, 0}});
  return small;
}

using Names = std::vector<std::string>;

}  // namespace

// From even odds a look raises to s / (s + f) and lowers to (1 - s) / (1 - s + 1 - f).
TEST_CASE("a cause is a blind spot when no check takes it beyond 90 % or below 1 %",
          "[vet][rules]") {
  const auto seen_is_blind = [](double sensitivity, double false_alarm) {
    for (const Remark& remark : on_machine(one_look(sensitivity, false_alarm), "blind-spot")) {
      if (remark.about == Names{"cause-0"}) return true;
    }
    return false;
  };
  CHECK(seen_is_blind(0.88, 0.1));
  CHECK_FALSE(seen_is_blind(0.92, 0.1));
  CHECK(seen_is_blind(0.95, 0.4));
  CHECK_FALSE(seen_is_blind(0.995, 0.4));
}

TEST_CASE("what cannot be looked at at all is a blind spot", "[vet][rules]") {
  SmallPack small(10, 500);
  const std::size_t cause = small.cause(0.05);
  small.symptom(0.001, {{cause, 0.8}});
  const std::vector<Remark> blind = on_machine(small, "blind-spot");
  REQUIRE(blind.size() == 1);
  CHECK(blind[0].severity == Severity::warning);
  CHECK(blind[0].place == "causes.json#/causes/0");
  CHECK(blind[0].text.find("50 %") != std::string::npos);
}

// Right guesses after the look: (1 + sensitivity - false alarm) / 2.
TEST_CASE("two causes are not told apart when the best finding says too seldom which it is",
          "[vet][rules]") {
  CHECK(on_machine(one_look(0.5, 0.08), "not-told-apart").empty());
  const std::vector<Remark> pairs = on_machine(one_look(0.5, 0.14), "not-told-apart");
  REQUIRE(pairs.size() == 1);
  CHECK(pairs[0].about == Names{"cause-0", "cause-1"});
  CHECK(pairs[0].severity == Severity::warning);
  CHECK(pairs[0].text.find("'look-1'") != std::string::npos);
  CHECK(pairs[0].text.find("68 times in 100") != std::string::npos);
}

TEST_CASE("causes that one repair removes need not be told apart", "[vet][rules]") {
  SmallPack small = one_look(0.5, 0.14);
  small.repair({{{0, 0.9}, {1, 0.9}}, {5, 0}});
  const std::vector<Remark> pairs = on_machine(small, "not-told-apart");
  REQUIRE(pairs.size() == 1);
  CHECK(pairs[0].severity == Severity::note);
}

TEST_CASE("a symptom mostly due to the leak is unexplained", "[vet][rules]") {
  const auto unexplained = [](double leak) {
    SmallPack small(10, 500);
    small.symptom(leak, {{small.cause(0.05), 0.8}});
    return on_machine(small, "unexplained").size();
  };
  CHECK(unexplained(0.03) == 0);
  CHECK(unexplained(0.06) == 1);
}

TEST_CASE("a check is dominated when another tells as much and is nowhere dearer", "[vet][rules]") {
  const auto dominated = [](const SmallPack::Look& a, const SmallPack::Look& b) {
    SmallPack small(10, 500);
    small.cause(0.05);
    small.layer({3, 3});
    small.look(a);
    small.look(b);
    Names names;
    for (const Remark& remark : vet::about_dominated(small.pack)) names.push_back(remark.about[0]);
    return names;
  };
  CHECK(dominated({0, 0.8, 0.1, {2, 0}}, {0, 0.9, 0.1, {2, 0}}) == Names{"look-0"});
  CHECK(dominated({0, 0.9, 0.1, {2, 0}}, {0, 0.8, 0.1, {3, 0}}) == Names{"look-1"});
  CHECK(dominated({0, 0.8, 0.1, {1, 0}}, {0, 0.9, 0.1, {2, 0}}).empty());
  CHECK(dominated({0, 0.8, 0.02, {2, 0}}, {0, 0.9, 0.1, {2, 0}}).empty());
  CHECK(dominated({0, 0.8, 0.1, {2, 0}, {0}}, {0, 0.9, 0.1, {2, 0}}) == Names{"look-0"});
  CHECK(dominated({0, 0.8, 0.1, {2, 0}}, {0, 0.9, 0.1, {2, 0}, {0}}).empty());
  // equal ones: one of the two is enough
  CHECK(dominated({0, 0.8, 0.1, {2, 0}}, {0, 0.8, 0.1, {2, 0}}).size() == 1);
}

TEST_CASE("cautions are called for by running, tools, layers and words", "[vet][rules]") {
  SmallPack small(10, 500);
  small.look({small.cause(0.05), 0.8, 0.1, {2, 0}});
  const std::size_t layer = small.layer({3, 3});
  pack::Pack& pack = small.pack;
  const auto missing = [&] {
    Names names;
    for (const Remark& remark : vet::about_cautions(pack)) {
      if (remark.about[0] == "look-0") names.push_back(remark.about[1]);
    }
    return names;
  };
  using enum pack::Grade;
  pack.cautions = {{"gas", danger, "poison", "", {true, {}, {}, {}}},
                   {"flame", danger, "fire", "", {false, {"propane"}, {}, {}}},
                   {"voltage", warning, "shock", "", {false, {}, {"plug cap"}, {}}},
                   {"drip", caution, "fire", "", {false, {}, {}, {layer}}},
                   {"never", notice, "damage", "", {}}};
  pack::Check& check = pack.checks.front();
  check.how = {"Pull the plug."};
  CHECK(missing().empty());
  check.running = true;
  check.tools = {"Propane bottle"};
  check.how = {"Pull the plug caps."};
  check.open = {layer};
  CHECK(missing() == Names{"gas", "flame", "voltage", "drip"});
  check.cautions = {0, 1, 2, 3};
  CHECK(missing().empty());
}

TEST_CASE("texts, reasons and provenance that are missing are told", "[vet][rules]") {
  SmallPack small(10, 500);
  const std::size_t cause = small.cause(0.05);
  small.symptom(0.01, {{cause, 0.8}});
  small.repair({{{cause, 0.9}}, {5, 0}});
  small.look({cause, 0.8, 0.1, {2, 0}});
  pack::Pack& pack = small.pack;
  const auto repair = [](pack::Pack& p) {
    for (pack::Cause& one : p.causes) one.explain = "Air comes in.";
    for (pack::Finding& one : p.findings) {
      one.ask = "Does it?";
      one.reason = "it is seen";
      for (pack::Link& link : one.links) link.reason = "too little fuel";
    }
    for (pack::Check& one : p.checks) one.how = {"Look."};
    for (pack::Repair& one : p.repairs) one.how = {"Mend."};
    p.words = {{"hunts", {0}}};
  };
  repair(pack);
  const auto rules = [](const pack::Pack& p) {
    Names names;
    for (const Remark& remark : vet::about_texts(p)) names.push_back(remark.rule);
    std::sort(names.begin(), names.end());
    return names;
  };
  const auto broken = [&](auto change) {
    pack::Pack copy = pack;
    change(copy);
    return rules(copy);
  };
  const std::vector<std::string> always = rules(pack);
  const auto adds = [&](const std::string& rule, auto change) {
    Names expected = always;
    expected.push_back(rule);
    std::sort(expected.begin(), expected.end());
    CAPTURE(rule);
    CHECK(broken(change) == expected);
  };
  adds("text-missing", [](pack::Pack& p) { p.causes[0].explain = "  "; });
  adds("text-missing", [](pack::Pack& p) { p.findings[0].ask = ""; });
  adds("text-missing", [](pack::Pack& p) { p.checks[0].how = {}; });
  adds("text-missing", [](pack::Pack& p) { p.repairs[0].how = {" "}; });
  adds("without-reason", [](pack::Pack& p) { p.findings[0].links[0].reason = "leaner"; });
  adds("without-reason", [](pack::Pack& p) { p.findings[1].reason = ""; });
  adds("no-words", [](pack::Pack& p) { p.words.clear(); });
  adds("no-repair", [](pack::Pack& p) { p.repairs[0].removes.clear(); });
  adds("source-not-used", [](pack::Pack& p) { p.sources.push_back({"book", "", "", ""}); });
}

TEST_CASE("a judgement without width is no judgement", "[vet][rules]") {
  SmallPack small(10, 500);
  small.cause(0.05);
  const auto count = [&] { return of_rule(vet::about_texts(small.pack), "without-basis").size(); };
  pack::Number& prior = small.pack.causes[0].prior;
  prior = {0.05, 0.02, 0.1, pack::Basis::judgement, "", ""};
  CHECK(count() == 0);
  prior.low = prior.high = 0.05;
  CHECK(count() == 1);
  prior.basis = pack::Basis::common_practice;
  CHECK(count() == 0);
}

TEST_CASE("exceptions accept their remark, and are told when none needs them", "[vet][rules]") {
  const std::vector<Remark> remarks = {{Severity::note, "source-not-used", {"book"}, "p", "t"},
                                       {Severity::warning, "no-repair", {"a"}, "p", "t"},
                                       {Severity::warning, "no-repair", {"b"}, "p", "t"}};
  const std::vector<vet::Exception> one = {{"no-repair", {"a"}, "known", "e"}};
  const std::vector<vet::Judged> partly = vet::judged(remarks, one);
  REQUIRE(partly.size() == 3);
  CHECK(partly[0].remark.about == Names{"a"});  // gravest first
  CHECK(partly[0].reason == "known");
  CHECK(partly[1].reason.empty());
  CHECK_FALSE(vet::clean(partly));
  CHECK(vet::clean(vet::judged({remarks[0], remarks[1]}, one)));
  const std::vector<vet::Judged> idle = vet::judged({remarks[0]}, one);
  REQUIRE(idle.size() == 2);
  CHECK(idle[0].remark.rule == "exception-not-used");
  CHECK_FALSE(vet::clean(idle));
}

TEST_CASE("a remark on all machines names none, on some it names them", "[vet][rules]") {
  const Remark remark{Severity::warning, "blind-spot", {"a"}, "p", "t"};
  CHECK(vet::merged({{remark}, {remark}}, {"x", "y"})[0].machines.empty());
  CHECK(vet::merged({{}, {remark}}, {"x", "y"})[0].machines == Names{"y"});
  Remark milder = remark;
  milder.severity = Severity::note;
  const auto both = vet::merged({{milder}, {remark}}, {"x", "y"});
  REQUIRE(both.size() == 1);
  CHECK(both[0].severity == Severity::warning);
}

}  // namespace tickover::vet_rules_test
