// core/stanch/slip/id_bits.hpp
//
// The part of version 7 ids that is chance, 74 bits each, end to end: what of an id no compression can shorten. The
// other 48 bits tell the time and go with the times.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "stanch/base/id.hpp"

namespace stanch::slip {

/// When an id was made, in milliseconds since 1970, by its first 48 bits.
[[nodiscard]] std::int64_t ms_of(const Id& id);

/// The chance of these ids as bytes, the last one filled up with zeros.
[[nodiscard]] std::string chance_of(const std::vector<Id>& ids);

/// The ids again; nothing when the bytes are not as many as the times need, the filling isn't zero or a time has no
/// room in 48 bits.
[[nodiscard]] std::optional<std::vector<Id>> ids_from(const std::vector<std::int64_t>& ms, std::string_view chance);

}  // namespace stanch::slip
