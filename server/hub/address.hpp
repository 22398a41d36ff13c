// server/hub/address.hpp
//
// Where a hub is: "https://hub.example:8750".
#pragma once

#include <cstdint>
#include <string>
#include <tl/expected.hpp>

namespace stanch::server {

struct HubAddress {
  bool is_secure = false;
  std::string host;
  std::uint16_t port = 0;

  /// Says in one sentence what is wrong with it.
  [[nodiscard]] static tl::expected<HubAddress, std::string> parse(const std::string& text);
};

}  // namespace stanch::server
