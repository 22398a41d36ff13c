// What the ward's protocol says about a used garment, as the stock's rules take it.
#pragma once

#include "stanch/protocol/protocol.hpp"
#include "stanch/stock/cleaning.hpp"
#include "stanch/stock/garment_life.hpp"

namespace stanch::ask {

[[nodiscard]] stock::CleaningLimits cleaning_limits(const protocol::Protocol& protocol);

/// The limits and the ward's order of cleaning.  [CL-3]
[[nodiscard]] stock::GarmentRules garment_rules(const protocol::Protocol& protocol);

}  // namespace stanch::ask
