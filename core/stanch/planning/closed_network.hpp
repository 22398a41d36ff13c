// core/stanch/planning/closed_network.hpp
//
// What happens when garments have no home: a clean garment goes wherever the van goes. Then all garments circle in one
// closed network. Each facility is a station where a garment waits to be used; everything between two uses is one
// delay. Only the mean of that delay counts.
//
// Source: George and Xia, European Journal of Operational Research 2011 (abstract read; the same structure for shared
// vehicles); mean-value analysis: Reiser and Lavenberg 1980 (from memory).
#pragma once

#include <span>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch::planning {

struct Station {
  double per_month = 0.0;  ///< women in shock a month, above 0
  double share = 0.0;      ///< of clean garments that are brought here; the shares add up to 1
};

struct Drift {
  double uses_per_month = 0.0;    ///< women who find a garment, all facilities
  double missed_per_month = 0.0;  ///< women who find none
  std::vector<double> none_free;  ///< [n_stations] share of women who find none
};

/// @param garments    in all, 0 or more
/// @param cycle_days  from being used until waiting at the next facility, above 0
/// @return `ask.input_impossible` outside these. Cost garments times stations.
[[nodiscard]] Result<Drift> drifting_garments(std::span<const Station> stations, double cycle_days, int garments);

}  // namespace stanch::planning
