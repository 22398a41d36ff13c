#include <nlohmann/json.hpp>
#include <string_view>

#include "stanch/care/fluids.hpp"

namespace stanch::care {

Json to_json(const FluidAlerts& alerts) {
  Json out{{"alerts", Json::array()}, {"undecided", Json::array()}};
  const auto put = [&](std::string_view id, Tri tri) {
    if (tri == Tri::yes) out["alerts"].push_back(id);
    if (tri == Tri::unknown) out["undecided"].push_back(id);
  };
  put("hard_alert", alerts.hard_alert);
  put("ask_for_blood", alerts.ask_for_blood);
  put("cautious", alerts.cautious);
  put("over_loss", alerts.over_loss);
  put("crystalloid_most", alerts.crystalloid_most);
  put("colloid_most", alerts.colloid_most);
  return out;
}

Json to_json(const Fluids& fluids) {
  const FluidsIn& in = fluids.in;
  Json out = to_json(fluids.alerts);
  out["clear_ml"] = in.clear_ml();
  out["crystalloid_ml"] = in.crystalloid_ml;
  out["colloid_ml"] = in.colloid_ml;
  out["other_ml"] = in.other_ml;
  out["drips_ml"] = in.drips_ml;
  out["hanging_ml"] = in.hanging_ml;
  out["blood_ml"] = in.blood_ml;
  out["blood_uncounted"] = in.blood_uncounted;
  if (fluids.urine_ml) out["urine_ml"] = *fluids.urine_ml;
  if (fluids.balance_ml) out["balance_ml"] = *fluids.balance_ml;
  return out;
}

}  // namespace stanch::care
