#include "stanch/base/clock_offset.hpp"

#include "stanch/base/input_check.hpp"

namespace stanch {
namespace {

double ms_between(Moment from, Moment to) { return static_cast<double>((to - from).ms()); }

}  // namespace

Result<ClockOffset> clock_offset(const ClockExchange& exchange) {
  const double whole = ms_between(exchange.asked, exchange.answered);
  const double at_peer = ms_between(exchange.peer_received, exchange.peer_replied);
  InputCheck check;
  check.require(whole >= 0.0, "answered", to_text(exchange.answered), "it must not be before the question was sent");
  check.require(at_peer >= 0.0, "peer_replied", to_text(exchange.peer_replied),
                "it must not be before the peer received the question");
  check.require(at_peer <= whole || whole < 0.0, "peer_replied", to_text(exchange.peer_replied),
                "the peer cannot have taken longer than the whole exchange");
  if (check.failed()) return check.refusal();
  const double there = ms_between(exchange.asked, exchange.peer_received);
  const double back = ms_between(exchange.answered, exchange.peer_replied);
  const double delay = whole - at_peer;
  return ClockOffset{0.5 * (there + back), delay, 0.5 * delay};
}

bool is_clock_off(const ClockOffset& offset, Duration tolerated) {
  const double limit = static_cast<double>(tolerated.ms());
  return offset.offset_ms > limit || offset.offset_ms < -limit;
}

}  // namespace stanch
