// core/stanch/care/time_limits.hpp
//
// The record's limits of believable times, read from the protocol: the record itself knows no protocol.
#pragma once

#include "stanch/protocol/protocol.hpp"
#include "stanch/record/acceptance.hpp"

namespace stanch::care {

/// [PL-5] [CLOCK-1]
[[nodiscard]] inline record::TimeLimits time_limits(const protocol::Protocol& local) {
  return {local.minutes(protocol::key::plausible_future), local.hours(protocol::key::plausible_before_opened),
          local.minutes(protocol::key::plausible_clock_difference)};
}

}  // namespace stanch::care
