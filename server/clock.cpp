#include "server/clock.hpp"

#include <fmt/format.h>
#include <sys/random.h>

#include <chrono>

#include "stanch/base/result.hpp"

namespace stanch::server {

Moment now() {
  const auto since = std::chrono::system_clock::now().time_since_epoch();
  return Moment::at_ms(std::chrono::duration_cast<std::chrono::milliseconds>(since).count());
}

std::uint64_t unguessable() {
  std::uint64_t value = 0;
  // So few bytes are never cut short and never fail on Linux once the machine has booted.
  STANCH_ASSERT(getrandom(&value, sizeof value, 0) == sizeof value, "the system gives random numbers");
  return value;
}

std::string unguessable_token() {
  return fmt::format("{:016x}{:016x}{:016x}{:016x}", unguessable(), unguessable(), unguessable(), unguessable());
}

Id fresh_id() { return make_id(now(), unguessable(), unguessable()); }

}  // namespace stanch::server
