#include "stanch/care/tranexamic_benefit.hpp"

#include <algorithm>
#include <cmath>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

constexpr double normal_quantile_975 = 1.959963984540054;

void possible_count(InputCheck& check, std::string_view events_field, double events, std::string_view total_field,
                    double total) {
  check.require(total > 0.0 && is_finite(total), total_field, total, "it must be above 0");
  check.require(events > 0.0 && events <= total, events_field, events, "it must be above 0 and at most the total");
}

}  // namespace

Result<BenefitLeft> tranexamic_benefit_left(double delay_min, const protocol::Protocol& protocol) {
  InputCheck check;
  check.require(delay_min >= 0.0 && is_finite(delay_min), "delay_min", delay_min, "it must be 0 min or more");
  if (check.failed()) return check.refusal();
  BenefitLeft out;
  if (!protocol.met(key::tranexamic_window, delay_min)) return out;
  const double steps = delay_min / protocol.number(key::tranexamic_decay_step);
  const double lost = protocol.number(key::tranexamic_decay_percent) / 100.0;
  out.multiplicative = elementary::pow(1.0 - lost, steps);
  out.linear = std::max(0.0, 1.0 - lost * steps);
  out.by_ward = protocol.word(key::tranexamic_decay_rule) == "linear" ? out.linear : out.multiplicative;
  return out;
}

Result<RelativeRisk> relative_risk(double events, double total, double events_other, double total_other) {
  InputCheck check;
  possible_count(check, "events", events, "total", total);
  possible_count(check, "events_other", events_other, "total_other", total_other);
  if (check.failed()) return check.refusal();
  RelativeRisk out;
  out.ratio = (events / total) / (events_other / total_other);
  const double error = std::sqrt(1.0 / events - 1.0 / total + 1.0 / events_other - 1.0 / total_other);
  const double spread = elementary::exp(normal_quantile_975 * error);
  out.low = out.ratio / spread;
  out.high = out.ratio * spread;
  return out;
}

}  // namespace stanch::care
