#include <nlohmann/json.hpp>

#include "stanch/care/blood_targets.hpp"

namespace stanch::care {

Json to_json(const Target& target) {
  return Json{{"value", target.value}, {"at", to_text(target.at)}, {"act", target.act}, {"met", target.met}};
}

Json to_json(const BloodTargets& targets, const protocol::Protocol& protocol) {
  Json out{{"clotting_known", targets.clotting_known}};
  for (const Target& target : targets.targets) {
    Json& one = out[std::string(target.id)];
    one = to_json(target);
    if (target.id != "fibrinogen") continue;
    one["warns"] = fibrinogen_warns(target.value, protocol);
    if (const auto odds = fibrinogen_odds(target.value, protocol)) one["odds_of_worse"] = *odds;
  }
  if (targets.last_bloods) out["last_bloods"] = to_text(*targets.last_bloods);
  return out;
}

}  // namespace stanch::care
