// server/server.hpp
//
// The ward server as the command line sees it.
#pragma once

#include <cstdint>
#include <string>

#include "server/hub/hub_link.hpp"

namespace stanch::server {

struct ServeOptions {
  std::string folder;  ///< data folder; made when it isn't there
  std::string address = "127.0.0.1";
  std::uint16_t port = 8750;  ///< 0: any free one
  bool practice = false;
  bool tls = false;  ///< speak TLS with a certificate of the ward's own authority
  HubOptions hub;    ///< another server that this one is kept in step with
};

/// Serves until SIGINT or SIGTERM. Tells people on standard output where to go and which code to enter, and machines
/// on standard error what happens, one JSON line an event.
/// @return 0 after a clean stop; 2 when it could not start, after one sentence on standard error
[[nodiscard]] int serve(const ServeOptions& options);

/// Checks every row's chain, and tells on standard output what it found.
/// @return 0 when all is as it was accepted; 1 when a row isn't; 2 when the record can't be opened
[[nodiscard]] int verify(const ServeOptions& options);

}  // namespace stanch::server
