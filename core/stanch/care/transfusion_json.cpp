#include <nlohmann/json.hpp>

#include "stanch/care/transfusion.hpp"

namespace stanch::care {

Json to_json(const Transfusion& blood) {
  const ProductsGiven& given = blood.given;
  Json out{{"given",
            {{"red_cells", given.red_cells},
             {"plasma", given.plasma},
             {"platelets", given.platelets},
             {"cryo", given.cryo},
             {"fibrinogen_g", given.fibrinogen_g},
             {"whole_blood", given.whole_blood},
             {"red_cells_in_hour", given.red_cells_in_hour},
             {"red_cells_since_calcium", given.red_cells_since_calcium}}},
           {"start_red_cells", word(blood.start_red_cells)},
           {"major_haemorrhage", word(blood.major.met)},
           {"issue",
            {{"group", blood.issue.group},
             {"group_known", blood.issue.group_known},
             {"crossmatch", blood.issue.crossmatch}}},
           {"anti_d_decision", word(blood.anti_d_decision)},
           {"strategy", word(blood.strategy)},
           {"plasma_wanted", blood.plasma_wanted},
           {"platelets_wanted", blood.platelets_wanted},
           {"declines", word(blood.declines)}};
  out["because"] = Json::array();
  for (const Reason& reason : blood.major.reasons) out["because"].push_back(reason.id);
  if (blood.activated_at) out["activated_at"] = to_text(*blood.activated_at);
  return out;
}

}  // namespace stanch::care
