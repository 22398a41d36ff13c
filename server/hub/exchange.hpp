// server/hub/exchange.hpp
//
// How a ward and its hub come into step: what the hub lacks is sent, what the ward lacks is read, each in batches, and
// how far it went is kept after each. Cut off anywhere, it goes on from there; done twice, it changes nothing. Only the
// order of things is here: neither a network nor a disk, so that a simulated world can run it.
#pragma once

#include <cstdint>
#include <string>
#include <tl/expected.hpp>

#include "stanch/base/moment.hpp"

namespace stanch::server {

/// How far a ward is in step with a hub.
struct HubPlace {
  std::string record;         ///< the hub's record; empty before the first time
  std::int64_t sent = 0;      ///< the ward's entries up to this one are on the hub's disk
  std::int64_t received = 0;  ///< the hub's entries up to this one are on the ward's disk

  friend bool operator==(const HubPlace&, const HubPlace&) = default;
};

/// Entries as NDJSON, on their way from one record to another.
struct Lines {
  std::string ndjson;
  std::size_t count = 0;
  std::int64_t cursor = 0;  ///< read on from here
  bool more = false;
};

struct Taken {
  std::size_t refused = 0;       ///< lines that were not entries; the rest is durable
  std::int64_t clock_ahead = 0;  ///< the sender's clock minus the taker's, ms; 0 when within what is tolerated
};

/// A record that the other side talks to. Every call can fail with one sentence; nothing of a failed one counts, though
/// it may have been done.
class HubSide {
 public:
  virtual ~HubSide() = default;
  struct About {
    std::string record;
    std::int64_t cursor = 0;
    bool practice = false;
  };
  [[nodiscard]] virtual tl::expected<About, std::string> about() = 0;
  /// Durable before it answers. An empty batch only compares the clocks.
  [[nodiscard]] virtual tl::expected<Taken, std::string> push(const std::string& ndjson) = 0;
  [[nodiscard]] virtual tl::expected<Lines, std::string> pull(std::int64_t after) = 0;
};

class WardSide {
 public:
  virtual ~WardSide() = default;
  [[nodiscard]] virtual bool practice() const = 0;
  [[nodiscard]] virtual tl::expected<HubPlace, std::string> place() = 0;
  [[nodiscard]] virtual tl::expected<void, std::string> keep(const HubPlace& place) = 0;
  /// What did not come from that hub, after a cursor.
  [[nodiscard]] virtual tl::expected<Lines, std::string> to_send(const std::string& hub_record, std::int64_t after) = 0;
  /// Durable before it returns.
  /// @param clock_ahead the hub's clock minus the ward's, ms
  [[nodiscard]] virtual tl::expected<Taken, std::string> take(const std::string& hub_record, const std::string& ndjson,
                                                              std::int64_t clock_ahead) = 0;
};

struct Exchanged {
  std::size_t sent = 0;
  std::size_t received = 0;
  std::size_t refused = 0;       ///< either way
  std::int64_t clock_ahead = 0;  ///< the ward's clock minus the hub's, ms
};

/// One round: sends all, then reads all. @return what moved, or why it stopped; what moved before that stays
[[nodiscard]] tl::expected<Exchanged, std::string> exchange(WardSide& ward, HubSide& hub);

}  // namespace stanch::server
