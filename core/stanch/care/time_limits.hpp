// core/stanch/care/time_limits.hpp
//
// The record's limits of believable times, read from the protocol: the record itself knows no protocol.
#pragma once

#include "stanch/protocol/protocol.hpp"
#include "stanch/record/acceptance.hpp"

namespace stanch::care {

/// [PL-5] [CLOCK-1]
[[nodiscard]] inline record::TimeLimits time_limits(const protocol::Protocol& protocol) {
  return {protocol.minutes(key::plausible_future), protocol.hours(key::plausible_before_opened),
          protocol.minutes(key::plausible_clock_difference)};
}

}  // namespace stanch::care
