#include <nlohmann/json.hpp>

#include "stanch/care/handover.hpp"

namespace stanch::care {

Json to_json(const Handover& handover) {
  Json out{{"stage", word(handover.stage)},
           {"complete", handover.complete},
           {"read_back", handover.read_back},
           {"missing", handover.missing},
           {"before_leaving", handover.before_leaving},
           {"referral_missing", handover.referral_missing},
           {"must_state", Json::array()},
           {"items", Json::array()}};
  for (const std::string_view device : handover.must_state) out["must_state"].push_back(device);
  for (const KeptItem& item : handover.items) {
    Json one{{"id", item.id}, {"kept", word(item.kept)}};
    if (item.at) one["at"] = to_text(*item.at);
    if (item.ml) one["ml"] = *item.ml;
    out["items"].push_back(std::move(one));
  }
  if (handover.left_at) out["left_at"] = to_text(*handover.left_at);
  if (handover.arrived_at) out["arrived_at"] = to_text(*handover.arrived_at);
  return out;
}

}  // namespace stanch::care
