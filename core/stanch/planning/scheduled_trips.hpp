// core/stanch/planning/scheduled_trips.hpp
//
// A trip every so many days brings back everything that is clean by then. Turnarounds then depend on each other, and
// reckoning with their mean is too hopeful; this is exact, by the chain of garments still out just after each trip.
#pragma once

#include "stanch/base/result.hpp"

namespace stanch::planning {

/// The most garments on a shelf that the chain is solved for; its cost grows with their cube.
inline constexpr int most_in_chain = 400;

/// Share of women who find no garment.
/// @param per_month   women in shock a month, 0 or above
/// @param every_days  from trip to trip, above 0
/// @param ready_days  from leaving the shelf until clean and on the trip, 0 up to every_days (longer: simulate)
/// @param garments    on this shelf, 0 to most_in_chain
/// @return `ask.input_impossible` outside these
[[nodiscard]] Result<double> trip_loss(double per_month, double every_days, double ready_days, int garments);

/// What one more trip a month is worth, in the currency of the price: garments saved, at their price spread over the
/// months that one lasts.
[[nodiscard]] Result<double> worth_of_a_trip(int garments_saved, double garment_price, double garment_months,
                                             double extra_trips_per_month);

}  // namespace stanch::planning
