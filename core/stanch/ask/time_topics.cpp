// Questions about elapsed time.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"
#include "stanch/base/clock_offset.hpp"

namespace stanch::ask {
namespace {

constexpr double seconds_per_minute = 60.0;
constexpr double ms_per_second = 1000.0;

Result<Json> minutes_between(Inputs& in, const protocol::Protocol&) {
  const auto from = in.moment("from");
  const auto to = in.moment("to");
  if (!from || !to) return Json::object();
  return Json{{"minutes", (*to - *from).in_minutes()}};
}

Result<Json> clock_offset(Inputs& in, const protocol::Protocol& protocol) {
  const auto asked = in.number("asked");
  const auto received = in.number("peer_received");
  const auto replied = in.number("peer_replied");
  const auto answered = in.number("answered");
  if (!in.problems().empty()) return Json::object();
  const auto stamp = [](double seconds) { return Moment() + Duration::minutes(seconds / seconds_per_minute); };
  const auto offset = stanch::clock_offset({.asked = stamp(*asked),
                                            .peer_received = stamp(*received),
                                            .peer_replied = stamp(*replied),
                                            .answered = stamp(*answered)});
  if (!offset) return refuse(offset.error());
  return Json{
      {"offset", offset->offset_ms / ms_per_second},
      {"delay", offset->delay_ms / ms_per_second},
      {"error", offset->error_ms / ms_per_second},
      {"clock_off", is_clock_off(*offset, protocol.minutes(protocol::key::plausible_clock_difference)) ? "yes" : "no"}};
}

}  // namespace

void add_time_topics(std::vector<Topic>& out) {
  out.push_back({.name = "minutes_between",
                 .summary = "Minutes from one time to another.",
                 .inputs = {{"from", "time", "the earlier time", true}, {"to", "time", "the later time", true}},
                 .outputs = "minutes (min)",
                 .source = "arithmetic",
                 .answer = minutes_between});
  out.push_back({.name = "clock_offset",
                 .summary = "How far another device's clock is off, from the four time stamps of one exchange.",
                 .inputs = {{"asked", "s", "question sent, own clock, from any one origin, to the millisecond", true},
                            {"peer_received", "s", "question received, the other clock", true},
                            {"peer_replied", "s", "reply sent, the other clock", true},
                            {"answered", "s", "reply received, own clock", true}},
                 .outputs = "offset (s), delay (s), error (s), clock_off (yes, no)",
                 .source = "RFC 5905, section 8",
                 .answer = clock_offset});
}

}  // namespace stanch::ask
