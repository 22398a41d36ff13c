#include <nlohmann/json.hpp>

#include "stanch/care/first_response.hpp"

namespace stanch::care {

Json to_json(const ResponseClocks& clocks) {
  Json out{{"t0", to_text(clocks.t0)}, {"complete", clocks.bundle.complete}};
  if (clocks.bundle.minutes) out["bundle_min"] = *clocks.bundle.minutes;
  out["bundle"] = Json{{"timing", word(clocks.bundle.timing)},
                       {"due_at", to_text(clocks.bundle.due_at)},
                       {"late_at", to_text(clocks.bundle.late_at)}};
  for (const PartClock& clock : clocks.parts) {
    Json part{{"timing", word(clock.timing)}, {"due_at", to_text(clock.due_at)}};
    if (clock.late_at) part["late_at"] = to_text(*clock.late_at);
    if (clock.done_at) part["done_at"] = to_text(*clock.done_at);
    out[std::string(word(clock.part))] = std::move(part);
  }
  return out;
}

Json to_json(const FirstResponse& response) {
  Json out = response.clocks ? to_json(*response.clocks) : Json::object();
  out["massage_again"] = word(response.massage_again);
  out["lines"] = response.lines;
  out["bloods_taken"] = response.bloods_taken;
  out["not_settling"] = word(response.not_settling);
  out["because"] = Json::array();
  for (const Reason& reason : response.not_settling_because) out["because"].push_back(reason.id);
  return out;
}

}  // namespace stanch::care
