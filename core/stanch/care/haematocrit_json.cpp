#include <nlohmann/json.hpp>

#include "stanch/care/haematocrit.hpp"

namespace stanch::care {

Json to_json(const Haematocrit& haematocrit) {
  Json out = Json::object();
  if (haematocrit.start_percent) out["start_percent"] = *haematocrit.start_percent;
  if (haematocrit.now_percent) out["now_percent"] = *haematocrit.now_percent;
  if (haematocrit.by_formula_ml) out["by_formula_ml"] = *haematocrit.by_formula_ml;
  if (haematocrit.by_points_ml) out["by_points_ml"] = *haematocrit.by_points_ml;
  if (haematocrit.now_percent) out["hindsight_only"] = true;
  return out;
}

}  // namespace stanch::care
