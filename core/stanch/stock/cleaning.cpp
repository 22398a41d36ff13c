#include "stanch/stock/cleaning.hpp"

#include <algorithm>

namespace stanch::stock {

namespace key = protocol::key;

Soak judge_soak(Duration soaked, const protocol::Protocol& protocol) {
  if (protocol.met(key::cleaning_soak_short, soaked.in_minutes())) return Soak::too_short;
  if (protocol.met(key::cleaning_soak_long, soaked.in_minutes())) return Soak::long_for_fabric;
  return Soak::enough;
}

bool is_soak_timer_over(Duration soaked, const protocol::Protocol& protocol) {
  return protocol.met(key::cleaning_soak_timer, soaked.in_minutes());
}

bool is_cleaning_overdue(Duration since_removal, const protocol::Protocol& protocol) {
  return protocol.met(key::cleaning_start_within, since_removal.in_minutes());
}

Uses judge_uses(int uses, const protocol::Protocol& protocol) {
  const double last = protocol.number(key::cleaning_uses_most);
  if (last > 0.0 && uses > last) return Uses::last_use_passed;
  return protocol.met(key::cleaning_uses_notice, uses) ? Uses::look_closely : Uses::fine;
}

Inspection judge_inspection(const std::vector<InspectionPoint>& points, std::optional<double> tear_cm,
                            const protocol::Protocol& protocol) {
  Inspection out;
  for (const std::string& wanted : protocol.words(key::cleaning_inspection)) {
    const auto found =
        std::find_if(points.begin(), points.end(), [&](const InspectionPoint& p) { return p.point == wanted; });
    std::optional<bool> good;
    if (found != points.end()) good = found->good;
    if (wanted == "no_tear" && tear_cm) good = !protocol.met(key::cleaning_tear, *tear_cm);
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
