// server/api/intake.hpp
//
// Reads a batch of entries line by line: which can be stored and which are refused, and why. A bad line never keeps a
// good one out.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

#include "server/store/store.hpp"
#include "stanch/base/json.hpp"
#include "stanch/record/acceptance.hpp"

namespace stanch::server {

/// A clock this little off is called right: much of it is the time the request took.
[[nodiscard]] constexpr bool is_tolerated(Duration skew) {
  return skew <= Duration::seconds(1) && -skew <= Duration::seconds(1);
}

struct RefusedLine {
  std::size_t line = 0;  ///< 1-based
  std::string id;        ///< as it came, empty when none can be read
  Problems problems;
};

struct ReadBatch {
  std::vector<Incoming> entries;
  std::vector<RefusedLine> refused;
};

/// What the batch is judged by.
struct IntakeContext {
  std::string device;                   ///< id of the device that sent it
  std::string device_name;              ///< what it called itself before it was enrolled, in `from` too
  std::optional<Duration> device_skew;  ///< its clock minus the server's, when more than the tolerated
  Moment now;
  record::TimeLimits limits;
  /// The sender passes on what it has accepted from others. Their times are not judged again, because what was
  /// acknowledged once must not get lost here.
  bool is_relay = false;
};

/// Reads NDJSON; empty lines are skipped. A device's measured skew goes only to entries that it wrote itself: others
/// carry the skew that another host measured, or none. A relay's goes to all, on top of what the relay measured.
[[nodiscard]] ReadBatch read_batch(std::string_view ndjson, const IntakeContext& context);

/// How many lines that aren't empty.
[[nodiscard]] std::size_t count_lines(std::string_view ndjson);

/// X-Stanch-Clock: RFC 3339, or milliseconds since 1970.
[[nodiscard]] Result<Moment> parse_clock(const std::string& text);

}  // namespace stanch::server
