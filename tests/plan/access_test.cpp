/// @file
/// Minutes of taking apart and putting together, against graphs worked by hand.
#include "engine/machine/access.hpp"

#include <catch2/catch.hpp>

#include "tests/support/small_pack.hpp"

namespace tickover::plan_access_test {
namespace {

using test::SmallPack;

/// panels (2/3) <- tank (5/7) <- carburettors (20/40) <- bowls (4/6), and plugs (8/9) behind the
/// tank. The engine runs with panels and tank off.
struct Bike {
  Bike() : small(10, 100) {
    panels = small.layer({2, 3, {}, true});
    tank = small.layer({5, 7, {panels}, true});
    carburettors = small.layer({20, 40, {tank}});
    bowls = small.layer({4, 6, {carburettors}});
    plugs = small.layer({8, 9, {tank}});
    small.cause(0.1);
  }
  SmallPack small;
  std::size_t panels, tank, carburettors, bowls, plugs;
};

OpenLayers set_of(std::initializer_list<std::size_t> layers) { return OpenLayers(layers); }

double opening(const Access& access, const OpenLayers& from, const OpenLayers& to) {
  return access.minutes(from, to).open;
}

double closing(const Access& access, const OpenLayers& from, const OpenLayers& to) {
  return access.minutes(from, to).close;
}

}  // namespace

TEST_CASE("opening a layer opens and pays for all that it is behind", "[plan][access]") {
  const Bike b;
  const Model model = test::small_model(b.small);
  const Access access(model);
  const OpenLayers bowls = access.with_prerequisites({b.bowls});
  CHECK(bowls == set_of({b.panels, b.tank, b.carburettors, b.bowls}));
  CHECK(opening(access, {}, bowls) == 2 + 5 + 20 + 4);
  CHECK(closing(access, {}, bowls) == 0);
  CHECK(closing(access, bowls, {}) == 3 + 7 + 40 + 6);
  CHECK(access.minutes(bowls, bowls).total() == 0);
  // what is open already is not paid again, what is not needed is not opened
  const OpenLayers plugs = access.with_prerequisites({b.plugs});
  CHECK(opening(access, plugs, bowls) == 20 + 4);
  CHECK(closing(access, plugs, bowls) == 9);
}

TEST_CASE("closing a layer closes what is behind it", "[plan][access]") {
  const Bike b;
  const Model model = test::small_model(b.small);
  const Access access(model);
  const OpenLayers all = access.with_prerequisites({b.bowls, b.plugs});
  CHECK(access.without(all, b.carburettors) == set_of({b.panels, b.tank, b.plugs}));
  CHECK(access.without(all, b.tank) == set_of({b.panels}));
  CHECK(access.without(all, b.panels) == OpenLayers{});
  CHECK(access.without(set_of({b.panels}), b.bowls) == set_of({b.panels}));
}

TEST_CASE("a need is met by the least change", "[plan][access]") {
  const Bike b;
  const Model model = test::small_model(b.small);
  const Access access(model);
  const OpenLayers bowls = access.with_prerequisites({b.bowls});
  const AccessNeed plugs_still{access.with_prerequisites({b.plugs})};
  CHECK(access.after(bowls, plugs_still) == access.with_prerequisites({b.bowls, b.plugs}));
  // a running engine closes what stops it and leaves the rest open
  const AccessNeed tank_running{access.with_prerequisites({b.tank}), access.closed().shut, true};
  CHECK(access.after(bowls, tank_running) == set_of({b.panels, b.tank}));
  CHECK(closing(access, bowls, access.after(bowls, tank_running)) == 40 + 6);
  CHECK(access.after(set_of({b.panels}), access.closed()) == set_of({b.panels}));
  CHECK(access.after(bowls, access.closed()) == set_of({b.panels, b.tank}));
}

TEST_CASE("a running check asks for its own layers and no more", "[plan][access]") {
  Bike b;
  const std::size_t check = b.small.look({0, 0.9, 0.1, {1, 1}, {b.tank}});
  b.small.pack.checks[check].running = true;
  b.small.repair({{{0, 1}}, {1, 1}, {b.bowls}});
  const Model model = test::small_model(b.small);
  const Access access(model);
  const AccessNeed looking = access.need_of(model.pack.checks[check]);
  CHECK(looking.running);
  CHECK(looking.open == set_of({b.panels, b.tank}));
  const AccessNeed repairing = access.need_of(model.pack.repairs.front());
  CHECK_FALSE(repairing.running);
  CHECK(repairing.open == access.with_prerequisites({b.bowls}));
}

TEST_CASE("what must not be open is closed first, with what lies behind it", "[plan][access]") {
  Bike b;
  const std::size_t check = b.small.look({0, 0.9, 0.1, {1, 1}, {b.tank}});
  b.small.pack.checks[check].shut = {b.carburettors};
  b.small.repair({{{0, 1}}, {1, 1}, {b.tank}});
  b.small.pack.repairs.front().running = true;
  const Model model = test::small_model(b.small);
  const Access access(model);
  const AccessNeed mounted = access.need_of(model.pack.checks[check]);
  CHECK_FALSE(mounted.running);
  const OpenLayers all = access.with_prerequisites({b.bowls, b.plugs});
  CHECK(access.after(all, mounted) == set_of({b.panels, b.tank, b.plugs}));
  CHECK(access.after({}, mounted) == set_of({b.panels, b.tank}));
  // a repair on the running engine closes whatever stops it
  const AccessNeed set_running = access.need_of(model.pack.repairs.front());
  CHECK(set_running.running);
  CHECK(access.after(all, set_running) == set_of({b.panels, b.tank}));
}

TEST_CASE("a layer that the machine lacks is no obstacle", "[plan][access]") {
  Bike b;
  b.small.pack.layers[b.carburettors].needs = {"carburettor-bank"};
  const Model without = test::small_model(b.small);
  const Access bare(without);
  CHECK(bare.with_prerequisites({b.bowls}) == set_of({b.panels, b.tank, b.bowls}));
  CHECK(opening(bare, {}, bare.with_prerequisites({b.bowls})) == 2 + 5 + 4);
  const Model with = build_model(
      b.small.pack,
      load_machine(test::plain_sheet(1, {"carburettor-bank"}), test::machine_schema(), "plain"),
      {});
  CHECK(opening(Access(with), {}, Access(with).with_prerequisites({b.bowls})) == 2 + 5 + 20 + 4);
}

// A diamond: the layer behind two others opens both, and each only once.
TEST_CASE("a layer behind two others pays for each once", "[plan][access]") {
  SmallPack small(10, 100);
  const std::size_t panels = small.layer({1, 1});
  const std::size_t tank = small.layer({5, 7, {panels}});
  const std::size_t airbox = small.layer({10, 14, {panels}});
  const std::size_t carburettors = small.layer({20, 40, {tank, airbox}});
  small.cause(0.1);
  const Model model = test::small_model(small);
  const Access access(model);
  const OpenLayers open = access.with_prerequisites({carburettors});
  CHECK(opening(access, {}, open) == 1 + 5 + 10 + 20);
  CHECK(access.without(open, airbox) == set_of({panels, tank}));
  CHECK(closing(access, open, access.without(open, airbox)) == 14 + 40);
}

TEST_CASE("a journal leaves the access state that its entries say", "[plan][access]") {
  Bike b;
  b.small.repair({{{0, 1}}, {1, 1}, {b.bowls}});
  b.small.symptom(0.01, {{0, 1}});
  const auto open_after = [&](const test::JobWriter& job) {
    return test::diagnose(b.small.pack, job.journal()).evidence().open_layers;
  };
  test::JobWriter job(test::plain_sheet());
  job.record("symptom-0", "yes").strip({"layer-3"});
  CHECK(open_after(job) == set_of({b.panels, b.tank, b.carburettors, b.bowls}));
  job.refit({"layer-2"});
  CHECK(open_after(job) == set_of({b.panels, b.tank}));
  job.repair("repair-0");
  CHECK(open_after(job) == set_of({b.panels, b.tank, b.carburettors, b.bowls}));
  job.verify("still");
  CHECK(open_after(job) == OpenLayers{});
}

}  // namespace tickover::plan_access_test
