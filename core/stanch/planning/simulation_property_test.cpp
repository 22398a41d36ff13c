// What must hold in any simulation: after every event each garment is in exactly one place, shelves hold what they say
// they hold, and nothing is negative.
#include <gtest/gtest.h>
// gtest first: rapidcheck's bridge needs it
#include <rapidcheck/gtest.h>

#include <vector>

#include "stanch/planning/simulation.hpp"

namespace stanch::planning {
namespace {

SimulationSetup some_setup() {
  SimulationSetup setup;
  const int n = *rc::gen::inRange(1, 6);
  for (int i = 0; i < n; ++i)
    setup.shelves.push_back({.per_month = *rc::gen::inRange(0, 80) / 10.0,
                             .garments = *rc::gen::inRange(0, 5),
                             .out_days = *rc::gen::inRange(0, 100) / 10.0,
                             .clean_days = *rc::gen::inRange(0, 40) / 10.0,
                             .back_days = *rc::gen::inRange(0, 40) / 10.0,
                             .trip_every_days = *rc::gen::element(0.0, 0.0, 7.0, 14.0)});
  setup.shelves[0].per_month += 0.5;
  if (*rc::gen::arbitrary<bool>()) setup.hub = Hub{*rc::gen::inRange(0, 4), 3.0};
  setup.days = 400;
  setup.warm_up_days = *rc::gen::element(0.0, 100.0);
  setup.seed = *rc::gen::arbitrary<std::uint32_t>();
  setup.law = *rc::gen::element(TimeLaw::exponential, TimeLaw::fixed, TimeLaw::lognormal);
  setup.rule = *rc::gen::element(ReturnRule::home, ReturnRule::by_use, ReturnRule::equal_shares, ReturnRule::neediest);
  setup.lost_share = *rc::gen::element(0.0, 0.1);
  setup.failed_share = *rc::gen::element(0.0, 0.1);
  setup.pair_share = *rc::gen::element(0.0, 0.3);
  setup.last_use = *rc::gen::element(0, 5);
  setup.resupply_days = 60;
  return setup;
}

RC_GTEST_PROP(SimulationProperty, garments_are_conserved_after_every_event, ()) {
  const SimulationSetup setup = some_setup();
  std::size_t owned = setup.hub ? static_cast<std::size_t>(setup.hub->garments) : 0;
  for (const SimulatedShelf& shelf : setup.shelves) owned += static_cast<std::size_t>(shelf.garments);
  auto simulation = Simulation::prepare(setup);
  RC_ASSERT(simulation.has_value());
  double before = 0.0;
  while (simulation->step()) {
    RC_ASSERT(simulation->now() >= before);
    before = simulation->now();
    RC_ASSERT(simulation->garments().size() == owned);
    std::vector<int> on_shelf(setup.shelves.size(), 0);
    int in_hub = 0;
    for (const SimulatedGarment& one : simulation->garments()) {
      RC_ASSERT(one.uses >= 0);
      if (one.place == GarmentPlace::shelf) ++on_shelf[one.where];
      if (one.place == GarmentPlace::hub) ++in_hub;
    }
    for (std::size_t i = 0; i < on_shelf.size(); ++i) RC_ASSERT(on_shelf[i] == simulation->ready_at(i));
    RC_ASSERT(in_hub == simulation->ready_at_hub());
    RC_ASSERT(in_hub == 0 || simulation->waiting_at_hub() == 0);
  }
}

}  // namespace
}  // namespace stanch::planning
