// core/stanch/care/ratio.hpp
//
// Ratios of whole numbers compared with a limit exactly: 10 x pulse with 9 x systolic, never 0.9 with a rounded
// quotient.
#pragma once

#include <cstdint>

#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

/// Does numerator / denominator meet the limit by its comparator? Exact for limits of up to three decimals.
/// @param denominator  above 0  [SEM-2]
[[nodiscard]] inline bool ratio_met(const protocol::Protocol& protocol, protocol::Key limit, std::int64_t numerator,
                                    std::int64_t denominator) {
  constexpr std::int64_t parts = 1000;  // a protocol ratio is written with at most three decimals
  const protocol::Value& value = protocol.value(limit);
  const auto limit_parts = static_cast<std::int64_t>(value.number * static_cast<double>(parts) + 0.5);
  return protocol::compare(static_cast<double>(numerator * parts), value.comparator,
                           static_cast<double>(limit_parts * denominator));
}

}  // namespace stanch::care
