// server/store/chain.hpp
//
// The hash chain over what was accepted: each row's hash covers the row and the hash before it, so that a row changed,
// removed or put in later shows. What it can't show: the newest rows cut off, or a whole file rewritten.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>

namespace stanch::server {

/// What a row's hash covers besides the hash before it.
struct ChainedRow {
  std::string_view device;
  std::int64_t received_ms = 0;
  std::optional<std::int64_t> skew_ms;
  std::string_view bytes;
};

/// SHA-256 as hexadecimal digits of: previous, device, received_ms, skew_ms (empty when not measured) and bytes, with a
/// line feed between two. The first row's previous hash is empty.
[[nodiscard]] std::string next_link(std::string_view previous, const ChainedRow& row);

}  // namespace stanch::server
