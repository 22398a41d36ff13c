// The ward's garments from their own entries and from the cases they were used in.
#pragma once

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::host {

/// Answers {"do": "stock"}; docs/formats/stock.md has the entries and the answer. A garment that a case wraps, moves or
/// takes off moves by that.
[[nodiscard]] Result<Json> stock_now(const Json& request, const protocol::Protocol& protocol);

}  // namespace stanch::host
