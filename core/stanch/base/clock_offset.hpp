// How far is another device's clock off? Four time stamps of one request and its reply tell it, with an error bound.
// Raw times are stored as they are; the offset is applied when the record is shown and judged.
#pragma once

#include <cstdint>

#include "stanch/base/moment.hpp"
#include "stanch/base/result.hpp"

namespace stanch {

/// One exchange. The asking device stamps when it sends and when the reply arrives; the peer stamps in between.
struct ClockExchange {
  Moment asked;          ///< T0, own clock
  Moment peer_received;  ///< T1, peer's clock
  Moment peer_replied;   ///< T2, peer's clock
  Moment answered;       ///< T3, own clock
};

/// All in milliseconds; halves of one are possible. The peer's clock shows own time plus `offset`, which is off by at
/// most half the delay, whatever way the delay is split between the two directions.
struct ClockOffset {
  double offset_ms = 0.0;
  double delay_ms = 0.0;
  double error_ms = 0.0;
};

/// offset = ((T1 - T0) + (T2 - T3)) / 2, delay = (T3 - T0) - (T2 - T1).
/// @return `ask.input_impossible` when the reply arrived before the question was sent, the peer replied before it
///         received, or the peer took longer than the whole exchange.
/// Source: RFC 5905 (Network Time Protocol version 4), section 8.
[[nodiscard]] Result<ClockOffset> clock_offset(const ClockExchange& exchange);

/// True when the offset is larger than `tolerated` in either direction, so that a person has to be warned.  [CLOCK-1]
[[nodiscard]] bool is_clock_off(const ClockOffset& offset, Duration tolerated);

}  // namespace stanch
