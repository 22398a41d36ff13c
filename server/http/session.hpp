// server/http/session.hpp
//
// One connection: reads requests one after the other and sends the answers. Lives on one event loop's thread; only
// `wake` may be called from others. Private to server/http.
#pragma once

#include <utility>  // Boost 1.74's awaitable.hpp uses std::exchange and doesn't include this

#include <atomic>
#include <boost/asio/awaitable.hpp>
#include <boost/asio/io_context.hpp>
#include <boost/asio/ip/tcp.hpp>
#include <memory>
#include <set>

#include "server/http/listener.hpp"

namespace stanch::server {

class Identity;
class Session;

/// What all connections share.
struct SessionWorld {
  Site& site;
  Bell& bell;
  Log& log;
  ListenerLimits limits;
  Identity* identity = nullptr;  ///< with one, TLS is spoken to those who begin with it
  std::atomic<std::size_t> connections{0};
  std::atomic<bool> stopping{false};
};

/// The connections of one event loop; touched on its thread only.
using Sessions = std::set<Session*>;

class Session {
 public:
  virtual ~Session() = default;
  /// Closes the connection if it waits for a request; otherwise it ends after the running answer.
  virtual void wind_up() = 0;
};

/// Serves a connection until it ends.
/// @param is_refused there are too many already: say so and close
boost::asio::awaitable<void> serve_connection(boost::asio::ip::tcp::socket socket, SessionWorld& world,
                                              Sessions& sessions, bool is_refused);

}  // namespace stanch::server
