// Questions about elapsed time.
#include <nlohmann/json.hpp>

#include "stanch/ask/areas.hpp"

namespace stanch::ask {
namespace {

Result<Json> minutes_between(Inputs& in, const protocol::Protocol&) {
  const auto from = in.moment("from");
  const auto to = in.moment("to");
  if (!from || !to) return Json::object();
  return Json{{"minutes", (*to - *from).in_minutes()}};
}

}  // namespace

void add_time_topics(std::vector<Topic>& out) {
  out.push_back({.name = "minutes_between",
                 .summary = "Minutes from one time to another.",
                 .inputs = {{"from", "time", "the earlier time", true}, {"to", "time", "the later time", true}},
                 .outputs = "minutes (min)",
                 .source = "arithmetic",
                 .answer = minutes_between});
}

}  // namespace stanch::ask
