#include <nlohmann/json.hpp>

#include "stanch/care/blood_volume.hpp"

namespace stanch::care {

Json to_json(const BloodVolume& volume, std::optional<double> loss_ml) {
  Json out{{"ask", volume.ask}};
  if (!volume.best_ml) return out;
  out["best_ml"] = *volume.best_ml;
  out["low_ml"] = volume.low_ml;
  out["high_ml"] = volume.high_ml;
  out["method"] = volume.method;
  if (volume.not_pregnant_ml) out["not_pregnant_ml"] = *volume.not_pregnant_ml;
  if (volume.formula_ml) {
    out["formula_ml"] = *volume.formula_ml;
    out["factor"] = volume.factor;
  }
  if (volume.bedside_ml) out["bedside_ml"] = *volume.bedside_ml;
  if (volume.us_formula_ml) out["us_formula_ml"] = *volume.us_formula_ml;
  if (const auto lost = percent_lost(loss_ml, volume))
    out["lost"] = Json{{"percent", lost->percent}, {"low", lost->low}, {"high", lost->high}};
  return out;
}

}  // namespace stanch::care
