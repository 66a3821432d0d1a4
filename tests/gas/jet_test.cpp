/// @file
/// Jets: size conventions, flow, drill check, and the textbook's filter exercise.
#include "engine/gas/jet.hpp"

#include <catch2/catch.hpp>
#include <cmath>
#include <type_traits>

#include "engine/foundation/error.hpp"

namespace tickover::gas_jet_test {
namespace {

using Catch::Contains;

Length mm(double millimetre) { return Length(1e-3 * millimetre); }

}  // namespace

TEST_CASE("what a change of jet number does", "[gas][published]") {
  struct Row {
    double from, to, percent;
  };
  // Flow goes with the square of a diameter number.
  const Row row = GENERATE(values<Row>({{100, 105, 10.3}, {100, 110, 21}, {35, 40, 31}}));
  CHECK(100 * (jet_flow_ratio(row.from, row.to, JetSize::diameter) - 1) ==
        Approx(row.percent).epsilon(0).margin(row.percent < 20 ? 0.051 : 0.51));
  CHECK(jet_flow_ratio(row.from, row.to, JetSize::flow) == Approx(row.to / row.from));
  CHECK(jet_flow_ratio(row.from, row.to, JetSize::diameter) *
            jet_flow_ratio(row.to, row.from, JetSize::diameter) ==
        Approx(1.0).epsilon(1e-14));
}

TEST_CASE("the jet for a wanted flow is found again", "[gas][property]") {
  const double ratio = GENERATE(0.8, 1.0, 1.3);
  const JetSize size = GENERATE(JetSize::diameter, JetSize::flow);
  CHECK(jet_flow_ratio(100, jet_number_for(100, ratio, size), size) == Approx(ratio));
  CHECK_THROWS_AS(jet_number_for(300, 4, JetSize::diameter), InputError);
  CHECK_THROWS_AS(jet_number_for(300, 0, size), InputError);
}

TEST_CASE("the number's ratio is the flow's ratio", "[gas][property]") {
  const double from = GENERATE(35.0, 100.0, 125.0), to = GENERATE(40.0, 97.5, 180.0);
  const auto flow = [](double number) {
    return jet_flow({jet_diameter(number), 0.65}, Pressure(2000), Density(745));
  };
  CHECK(flow(to) / flow(from) ==
        Approx(jet_flow_ratio(from, to, JetSize::diameter)).epsilon(1e-12));
  CHECK(jet_diameter(120).value == Approx(1.2e-3).epsilon(1e-14));
}

TEST_CASE("flow from Bernoulli by hand", "[gas][published]") {
  // 1 mm, 0.65, 2 kPa, 745 kg/m3: speed sqrt(2 * 2000 / 745) = 2.3172 m/s, area 0.7854 mm2,
  // so 0.65 * 0.7854e-6 * 2.3172 * 745 = 0.8813e-3 kg/s.
  CHECK(jet_flow({mm(1), 0.65}, Pressure(2000), Density(745)).value ==
        Approx(0.8813e-3).epsilon(1e-4));
}

TEST_CASE("a flow number becomes a diameter and back", "[gas][property]") {
  const double number = GENERATE(60.0, 140.0, 300.0);  // ml/min under half a metre of fuel
  const Pressure head(745 * 9.80665 * 0.5);
  const VolumeFlow flow = parse<Dimension::volume_flow>(std::to_string(number), "ml/min");
  const Length bore = jet_diameter_for(flow, 0.7, head, Density(745));
  CHECK(jet_flow({bore, 0.7}, head, Density(745)).value / 745 == Approx(flow.value).epsilon(1e-12));
}

TEST_CASE("drills tell a jet's true size", "[gas]") {
  const auto verdict = [](double marked, double enters, double stops) {
    return drill_check(mm(marked), mm(enters), mm(stops)).verdict;
  };
  CHECK(verdict(0.40, 0.40, 0.42) == DrillVerdict::as_marked);
  CHECK(verdict(0.40, 0.38, 0.40) == DrillVerdict::as_marked);
  CHECK(verdict(0.40, 0.35, 0.38) == DrillVerdict::smaller);
  CHECK(verdict(0.40, 0.42, 0.45) == DrillVerdict::larger);
  const DrillCheck check = drill_check(mm(0.40), mm(0.35), mm(0.38));
  CHECK(check.least_flow_ratio == Approx(0.765625));
  CHECK(check.most_flow_ratio == Approx(0.9025));
}

TEST_CASE("the textbook's exercise 8.6: an air filter enriches", "[gas][published]") {
  // Scilab-TBC-Uploads book 443: throat 0.2 bar below outside, filter 0.04 bar, 15 becomes 13.69;
  // taking the filter out leans by 9.5 %.
  const double factor = filter_lambda_factor(Pressure(20e3), Pressure(4e3));
  CHECK(15 * factor == Approx(13.69).epsilon(0).margin(0.0051));
  CHECK(1 / factor - 1 == Approx(0.095).epsilon(0).margin(5.1e-4));
  CHECK(filter_lambda_factor(Pressure(20e3), Pressure(0)) == 1.0);
}

TEST_CASE("impossible jets are refused", "[gas][errors]") {
  CHECK_THROWS_WITH(jet_diameter(1200), Contains("jet number 1200") && Contains("20 to 400"));
  CHECK_THROWS_AS(jet_diameter(-100), InputError);
  CHECK_THROWS_AS(jet_flow_ratio(100, 0, JetSize::flow), InputError);
  CHECK_NOTHROW(jet_flow_ratio(500, 600, JetSize::flow));
  CHECK_THROWS_AS(jet_flow_ratio(500, 600, JetSize::diameter), InputError);
  CHECK_THROWS_WITH(drill_check(mm(0.4), mm(0.42), mm(0.41)), Contains("not below"));
  CHECK_THROWS_AS(jet_flow({mm(100), 0.65}, Pressure(2000), Density(745)), InputError);
  CHECK_THROWS_AS(jet_flow({mm(1), 0.65}, Pressure(-1), Density(745)), InputError);
  CHECK_THROWS_AS(jet_diameter_for(VolumeFlow(1e-6), 0.7, Pressure(0), Density(745)), InputError);
  CHECK_THROWS_AS(filter_lambda_factor(Pressure(0), Pressure(0)), InputError);
  STATIC_REQUIRE_FALSE(std::is_invocable_v<decltype(jet_flow), Jet, Density, Pressure>);
}

}  // namespace tickover::gas_jet_test
