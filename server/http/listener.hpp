// server/http/listener.hpp
//
// HTTP/1.1 on one port: accepts connections, reads requests within limits of size and time, hands them to a Site and
// sends the answers and live streams. One event loop a thread; a connection stays on its thread.
#pragma once

#include <chrono>
#include <cstdint>
#include <memory>
#include <string>

#include "server/http/bell.hpp"
#include "server/http/message.hpp"
#include "server/log.hpp"
#include "stanch/base/result.hpp"

namespace stanch::server {

struct ListenerLimits {
  std::size_t max_connections = 1024;       ///< a ward has some 200 phones with two or three connections each
  std::size_t max_head_bytes = 16U << 10U;  ///< of all header fields, and of the request line
  std::chrono::seconds handshake{10};       ///< for the first bytes, and then for TLS's handshake
  std::chrono::seconds idle{75};            ///< a kept connection without a request
  std::chrono::seconds request{60};         ///< from the head to the whole body, on a slow line
  std::chrono::seconds sending{30};         ///< a reader who takes nothing for so long is dropped
  std::chrono::seconds heartbeat{15};       ///< of a live stream with no news
};

class Identity;

class Listener {
 public:
  /// @param identity where there is one, both TLS and plain HTTP are spoken on the port, as the other end begins;
  ///                 the site sees which
  Listener(Site& site, Bell& bell, Log& log, const ListenerLimits& limits, Identity* identity = nullptr);
  ~Listener();
  Listener(const Listener&) = delete;
  Listener& operator=(const Listener&) = delete;

  /// Binds and begins to serve on `threads` threads. Port 0 takes any free one.
  /// @return the port, or one sentence that names the address and the reason.
  [[nodiscard]] tl::expected<std::uint16_t, std::string> start(const std::string& address, std::uint16_t port,
                                                               std::size_t threads);
  /// Takes no new connection, ends live streams, lets running requests finish (at most `patience`), and returns when
  /// all threads have ended.
  void stop(std::chrono::seconds patience);

 private:
  struct Engine;
  std::unique_ptr<Engine> engine_;
};

}  // namespace stanch::server
