#include "engine/gas/compression.hpp"

#include "engine/foundation/error.hpp"
#include "engine/gas/orifice.hpp"
#include "engine/gas/valid_range.hpp"

namespace tickover {
namespace {

constexpr Pressure kSeaLevel(101325.0);   // ISO 2533
constexpr Temperature kWorkshop(293.15);  // the same on both sides of the orifice, so it drops out
constexpr Area kSomeArea(1e-6);           // as well
constexpr Pressure kLeastHeld(1.0);       // below it the area ratio has no bound
constexpr int kHalvings = 60;

constexpr ValidRange kReading{"compression", 0.0, 3000.0, "kPa"};
constexpr ValidRange kOutside{"outside pressure", 50.0, 110.0, "kPa"};
constexpr ValidRange kSupply{"supply pressure", 50.0, 1000.0, "kPa"};

void require_leak_down(const LeakDown& reading, Pressure least_held) {
  require_within(reading.supply, kSupply);
  if (reading.held >= least_held && reading.held <= reading.supply) return;
  throw InputError(InputFault::data, {},
                   "held pressure " + format_quantity(quantity(reading.held), "kPa") +
                       " does not lie between zero and the supply",
                   "the second gauge shows at most the supply of " +
                       format_quantity(quantity(reading.supply), "kPa"));
}

double flow(Pressure from, Pressure to) {
  return compressed_air_flow({kSomeArea, 1.0}, from, kWorkshop, to).value;
}

double area_ratio(const LeakDown& reading, Pressure outside) {
  const Pressure held = reading.held + outside;
  return flow(reading.supply + outside, held) / flow(held, outside);
}

}  // namespace

Pressure compression_at_sea_level(Pressure reading, Pressure outside) {
  require_within(reading, kReading);
  require_within(outside, kOutside);
  return (kSeaLevel / outside) * reading;
}

Fraction leak_down_loss(const LeakDown& reading) {
  require_leak_down(reading, Pressure(0.0));
  return Fraction(1.0 - reading.held / reading.supply);
}

double leak_over_orifice(const LeakDown& reading, Pressure outside) {
  require_leak_down(reading, kLeastHeld);
  require_within(outside, kOutside);
  return area_ratio(reading, outside);
}

Fraction leak_down_at_sea_level(const LeakDown& reading, Pressure outside) {
  const double wanted = leak_over_orifice(reading, outside);
  double low = kLeastHeld / reading.supply, high = 1.0;
  for (int i = 0; i < kHalvings; ++i) {
    const double middle = (low + high) / 2.0;
    const bool leaks_more =
        area_ratio({reading.supply, middle * reading.supply}, kSeaLevel) > wanted;
    (leaks_more ? low : high) = middle;
  }
  return Fraction(1.0 - low);
}

}  // namespace tickover
