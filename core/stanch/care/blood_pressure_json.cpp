#include <nlohmann/json.hpp>

#include "stanch/care/blood_pressure.hpp"

namespace stanch::care {

Json to_json(const BloodPressure& pressure) {
  Json out{{"severe_shock", word(pressure.severe_shock)}, {"narrow", word(pressure.narrow)}};
  if (pressure.mean_mmhg) out["mean_mmhg"] = *pressure.mean_mmhg;
  if (pressure.pulse_pressure_mmhg) out["pulse_pressure_mmhg"] = *pressure.pulse_pressure_mmhg;
  if (pressure.at) out["at"] = to_text(*pressure.at);
  return out;
}

}  // namespace stanch::care
