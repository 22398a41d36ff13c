// core/stanch/host/slip_requests.hpp
//
// The requests about slips. The host signs and verifies between two of them; docs/formats/call.md lists them.
#pragma once

#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/protocol/protocol.hpp"
#include "stanch/record/case.hpp"

namespace stanch::host {

/// {"do": "slip_draft"}: what is to be signed. `entries` are those of the request, read.
[[nodiscard]] Result<Json> slip_draft(const Json& request, const record::Case& entries,
                                      const protocol::Protocol& protocol);
/// {"do": "slip_symbols"}: texts of the symbols of a signed slip.
[[nodiscard]] Result<Json> slip_symbols(const Json& request);
/// {"do": "slip_collect"}: which slips these texts of symbols are, and what is missing.
[[nodiscard]] Result<Json> slip_collect(const Json& request);
/// {"do": "slip_read"}: what a slip says.
[[nodiscard]] Result<Json> slip_read(const Json& request, const protocol::Protocol& protocol);
/// {"do": "slip_key"}: the thumbprint of a public key.
[[nodiscard]] Result<Json> slip_key(const Json& request);

}  // namespace stanch::host
