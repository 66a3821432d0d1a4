/// @file
/// What no plan can do better than.
#pragma once

#include "engine/plan/course.hpp"

namespace tickover::plan {

/// By cause: the least minutes that removing it adds to closing up and verifying, from `open`; at
/// most `none`, where no repair does.
std::vector<double> least_repairs(const Workshop& workshop, const OpenLayers& open, double none);

/// Expected minutes below which no plan can stay, whatever it checks: as if what is wrong were told
/// for free (Vomlelova & Vomlel 2003; Warnquist, Pernestal & Nyberg 2009). A plan that ends cured
/// has closed the machine, verified, and paid at least for the dearest of the causes that had to
/// go, by its cheapest repair and sure to succeed; any other has paid for handing on. `open` is
/// what is open now. As for courses, what may fade does so once.
double least_minutes(const Workshop& workshop, Cures& cures, const OpenLayers& open);

}  // namespace tickover::plan
