#include "stanch/stock/cleaning.hpp"

#include <algorithm>

namespace stanch::stock {

Soak judge_soak(Duration soaked, const CleaningLimits& limits) {
  if (soaked < limits.soak_short) return Soak::too_short;
  return soaked > limits.soak_long ? Soak::long_for_fabric : Soak::enough;
}

bool is_soak_timer_over(Duration soaked, const CleaningLimits& limits) { return soaked >= limits.soak_timer; }

bool is_cleaning_overdue(Duration since_removal, const CleaningLimits& limits) {
  return since_removal > limits.start_within;
}

Uses judge_uses(int uses, const CleaningLimits& limits) {
  if (limits.uses_most > 0 && uses > limits.uses_most) return Uses::last_use_passed;
  return uses >= limits.uses_notice ? Uses::look_closely : Uses::fine;
}

Inspection judge_inspection(const std::vector<InspectionPoint>& points, std::optional<double> tear_cm,
                            const CleaningLimits& limits) {
  Inspection out;
  for (const std::string& wanted : limits.inspection) {
    const auto found =
        std::find_if(points.begin(), points.end(), [&](const InspectionPoint& p) { return p.point == wanted; });
    std::optional<bool> good;
    if (found != points.end()) good = found->good;
    if (wanted == "no_tear" && tear_cm) good = !(*tear_cm > limits.tear_cm);
    if (!good)
      out.missing.push_back(wanted);
    else if (!*good)
      out.failed.push_back(wanted);
  }
  if (!out.failed.empty())
    out.fitness = Fitness::quarantine;
  else
    out.fitness = out.missing.empty() ? Fitness::fit : Fitness::not_inspected;
  return out;
}

}  // namespace stanch::stock
