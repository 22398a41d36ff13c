#include "stanch/care/shock_index_noise.hpp"

#include <cmath>

#include "stanch/base/input_check.hpp"

namespace stanch::care {

Result<ShockIndexNoise> shock_index_noise(const SignsWithNoise& signs) {
  InputCheck check;
  const auto require = [&check](bool holds, std::string_view field, double value, std::string_view allowed) {
    check.require(holds && is_finite(value), field, value, allowed);
  };
  require(signs.pulse_per_min > 0.0, "pulse", signs.pulse_per_min, "it must be above 0 /min");
  require(signs.systolic_mmhg > 0.0, "sbp", signs.systolic_mmhg, "it must be above 0 mmHg");
  require(signs.pulse_sd >= 0.0, "pulse_sd", signs.pulse_sd, "it must be 0 /min or above");
  require(signs.systolic_sd >= 0.0, "sbp_sd", signs.systolic_sd, "it must be 0 mmHg or above");
  if (check.failed()) return check.refusal();
  const double ratio = signs.pulse_per_min / signs.systolic_mmhg;
  const double pulse_part = signs.pulse_sd / signs.pulse_per_min;
  const double systolic_part = signs.systolic_sd / signs.systolic_mmhg;
  return ShockIndexNoise{ratio, ratio * std::sqrt(pulse_part * pulse_part + systolic_part * systolic_part),
                         ratio * systolic_part * systolic_part};
}

}  // namespace stanch::care
