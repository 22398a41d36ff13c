#include "stanch/care/infusion.hpp"

#include <cmath>
#include <string>

#include "stanch/base/input_check.hpp"
#include "stanch/base/number.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

constexpr double minutes_per_hour = 60.0;

void above_zero(InputCheck& check, std::string_view field, double value) {
  check.require(value > 0.0 && is_finite(value), field, value, "it must be above 0");
}

void possible_factor(InputCheck& check, double factor, const protocol::Protocol& protocol) {
  const protocol::Value& offered = protocol.value(key::drip_factors);
  check.require(factor >= offered.low && factor <= offered.high, "factor", factor,
                "read it from the packet of the giving set: " + number_text(offered.low) + " to " +
                    number_text(offered.high) + " drops/mL");
}

}  // namespace

Result<DripRate> drip_rate(double ml, double minutes, double factor, const protocol::Protocol& protocol) {
  InputCheck check;
  above_zero(check, "ml", ml);
  above_zero(check, "over_min", minutes);
  possible_factor(check, factor, protocol);
  if (check.failed()) return check.refusal();
  DripRate out;
  out.exact_per_min = ml * factor / minutes;
  out.drops_per_min = std::floor(out.exact_per_min + 0.5);
  out.ml_per_h = ml * minutes_per_hour / minutes;
  out.too_fast_by_eye = protocol.met(key::drip_by_eye_most, out.exact_per_min);
  return out;
}

Result<double> minutes_left(double ml, double drops_per_min, double factor, const protocol::Protocol& protocol) {
  InputCheck check;
  above_zero(check, "ml", ml);
  above_zero(check, "drops_per_min", drops_per_min);
  possible_factor(check, factor, protocol);
  if (check.failed()) return check.refusal();
  return ml * factor / drops_per_min;
}

Result<double> ml_per_hour(double drops_per_min, double factor, const protocol::Protocol& protocol) {
  InputCheck check;
  above_zero(check, "drops_per_min", drops_per_min);
  possible_factor(check, factor, protocol);
  if (check.failed()) return check.refusal();
  return drops_per_min * minutes_per_hour / factor;
}

Result<InfusionRate> infusion_rate(double dose, double bag_ml, double ml_per_h) {
  InputCheck check;
  above_zero(check, "dose", dose);
  above_zero(check, "bag_ml", bag_ml);
  above_zero(check, "ml_per_h", ml_per_h);
  if (check.failed()) return check.refusal();
  InfusionRate out;
  out.per_ml = dose / bag_ml;
  out.per_h = dose * ml_per_h / bag_ml;
  out.milli_per_min = out.per_h * 1000.0 / minutes_per_hour;
  out.hours_for_bag = bag_ml / ml_per_h;
  return out;
}

}  // namespace stanch::care
