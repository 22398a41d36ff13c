#include "stanch/care/haematocrit.hpp"

#include <algorithm>

#include "stanch/base/elementary.hpp"
#include "stanch/base/number.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

Problem impossible(std::string field, double value, std::string why) {
  return {ProblemCode::input_impossible, std::move(field), number_text(value), std::move(why), 0};
}

std::optional<Problem> not_above_zero(const char* field, double value) {
  if (value > 0) return std::nullopt;
  return impossible(field, value, "it must be above 0");
}

}  // namespace

Result<double> loss_by_haematocrit(double volume_ml, double start_percent, double now_percent) {
  if (const auto problem = not_above_zero("blood_volume", volume_ml)) return refuse(*problem);
  if (const auto problem = not_above_zero("start", start_percent)) return refuse(*problem);
  if (const auto problem = not_above_zero("now", now_percent)) return refuse(*problem);
  return volume_ml * std::max(0.0, start_percent - now_percent) / start_percent;
}

double loss_by_points(double start_percent, double now_percent, const Protocol& protocol) {
  const double fall = std::max(0.0, start_percent - now_percent);
  return fall * protocol.number(key::loss_hct_points_volume) / protocol.number(key::loss_hct_points);
}

Result<AllowableLoss> allowable_loss(double volume_ml, double start_percent, double end_percent,
                                     const Protocol& protocol) {
  if (const auto problem = not_above_zero("blood_volume", volume_ml)) return refuse(*problem);
  if (const auto problem = not_above_zero("end", end_percent)) return refuse(*problem);
  if (!(start_percent > end_percent)) return refuse(impossible("start", start_percent, "it must be above the end"));
  const double fall = start_percent - end_percent;
  AllowableLoss out;
  out.mean_ml = volume_ml * fall / ((start_percent + end_percent) / 2);
  out.logarithm_ml = volume_ml * elementary::log(start_percent / end_percent);
  out.crude_ml = volume_ml * fall / start_percent;
  const std::string& method = protocol.word(key::loss_allowable_method);
  out.first_ml = method == "logarithm" ? out.logarithm_ml : method == "crude" ? out.crude_ml : out.mean_ml;
  return out;
}

Haematocrit haematocrit(const View& view, const BloodVolume& volume) {
  Haematocrit out;
  for (const auto& lab : view.all<record::Lab>()) {
    if (!lab.what.hct_percent) continue;
    if (!out.start_percent)
      out.start_percent = lab.what.hct_percent;
    else
      out.now_percent = lab.what.hct_percent;
  }
  if (!out.now_percent) return out;
  out.by_points_ml = loss_by_points(*out.start_percent, *out.now_percent, view.protocol());
  if (volume.us_formula_ml)
    if (const auto loss = loss_by_haematocrit(*volume.us_formula_ml, *out.start_percent, *out.now_percent))
      out.by_formula_ml = *loss;
  return out;
}

}  // namespace stanch::care
