#include "stanch/care/blood_volume.hpp"

#include <algorithm>
#include <cstddef>

namespace stanch::care {
namespace {

namespace key = protocol::key;
using protocol::Protocol;

// Exact by definition of the inch and the pound.
constexpr double cm_per_inch = 2.54;
constexpr double kg_per_pound = 0.45359237;

// The gain of plasma by then over the gain by the last weeks listed.
double share_of_gain(double gestation_wk, const Protocol& protocol) {
  const std::vector<double>& from = protocol.value(key::blood_volume_gain_from_weeks).list;
  const std::vector<double>& gain = protocol.value(key::blood_volume_gain_by_week).list;
  double now = gain.front();
  for (std::size_t i = 0; i < from.size() && i < gain.size(); ++i)
    if (gestation_wk >= from[i]) now = gain[i];
  return now / gain.back();
}

// Known hypertensive; pre-eclampsia and eclampsia may have lost the whole gain.
Tri may_be_unexpanded(const Woman& woman) { return woman.has("preeclampsia") || woman.has("eclampsia"); }
Tri hypertensive(const Woman& woman) { return woman.has("hypertension") || may_be_unexpanded(woman); }

void stretch(BloodVolume& out, double ml) {
  out.low_ml = std::min(out.low_ml, ml);
  out.high_ml = std::max(out.high_ml, ml);
}

void choose_best(BloodVolume& out, const Protocol& protocol) {
  const std::string& wanted = protocol.word(key::blood_volume_method);
  out.method = "bedside";
  out.best_ml = out.bedside_ml;
  if (wanted == "formula" && out.formula_ml) {
    out.method = "formula";
    out.best_ml = out.formula_ml;
  } else if (wanted == "us_formula" && out.us_formula_ml) {
    out.method = "us_formula";
    out.best_ml = out.us_formula_ml;
  }
}

}  // namespace

double not_pregnant_volume_ml(double height_cm, double weight_kg, const Protocol& protocol) {
  const double height_m = height_cm / 100.0;
  return protocol.number(key::blood_volume_formula_height) * height_m * height_m * height_m +
         protocol.number(key::blood_volume_formula_weight) * weight_kg +
         protocol.number(key::blood_volume_formula_constant);
}

double pregnancy_factor(std::optional<double> gestation_wk, bool hypertensive, const Protocol& protocol) {
  const double full = protocol.number(hypertensive ? key::blood_volume_factor_hypertensive : key::blood_volume_factor);
  if (!gestation_wk || protocol.met(key::blood_volume_factor_full_from, *gestation_wk)) return full;
  return 1 + (full - 1) * share_of_gain(*gestation_wk, protocol);
}

double bedside_volume_ml(double weight_kg, std::optional<double> height_cm, const Protocol& protocol) {
  double counted_kg = weight_kg;
  if (height_cm) {
    const double square_m = *height_cm * *height_cm / 10000.0;
    if (protocol.met(key::blood_volume_bedside_bmi_most, weight_kg / square_m))
      counted_kg = protocol.number(key::blood_volume_bedside_bmi_most) * square_m;
  }
  return protocol.number(key::blood_volume_bedside) * counted_kg;
}

double us_formula_volume_ml(double height_in, double weight_lb, const Protocol& protocol) {
  return protocol.number(key::blood_volume_us_factor) * (protocol.number(key::blood_volume_us_height) * height_in +
                                                         protocol.number(key::blood_volume_us_weight) * weight_lb);
}

BloodVolume blood_volume(const Woman& woman, const Protocol& protocol) {
  BloodVolume out;
  if (!woman.weight_kg) out.ask.emplace_back("ask_weight");
  if (!woman.height_cm) out.ask.emplace_back("ask_height");
  if (!woman.weight_kg) return out;
  const double weight = *woman.weight_kg;
  out.bedside_ml = bedside_volume_ml(weight, woman.height_cm, protocol);
  out.factor = pregnancy_factor(woman.gestation_wk, hypertensive(woman) == Tri::yes, protocol);
  if (woman.height_cm) {
    out.not_pregnant_ml = not_pregnant_volume_ml(*woman.height_cm, weight, protocol);
    out.formula_ml = *out.not_pregnant_ml * out.factor;
    out.us_formula_ml = us_formula_volume_ml(*woman.height_cm / cm_per_inch, weight / kg_per_pound, protocol);
  }
  choose_best(out, protocol);
  out.low_ml = out.high_ml = *out.best_ml;
  stretch(out, *out.bedside_ml);
  if (out.formula_ml) {
    stretch(out, *out.formula_ml);
    if (hypertensive(woman) == Tri::unknown)
      stretch(out, *out.not_pregnant_ml * pregnancy_factor(woman.gestation_wk, true, protocol));
    if (may_be_unexpanded(woman) == Tri::yes) stretch(out, *out.not_pregnant_ml);
  }
  return out;
}

std::optional<PercentLost> percent_lost(std::optional<double> loss_ml, const BloodVolume& volume) {
  if (!loss_ml || !volume.best_ml) return std::nullopt;
  const double hundredfold = 100 * *loss_ml;
  return PercentLost{hundredfold / *volume.best_ml, hundredfold / volume.high_ml, hundredfold / volume.low_ml};
}

bool share_met(const Protocol& protocol, protocol::Key limit_percent, double loss_ml, double volume_ml) {
  const protocol::Value& limit = protocol.value(limit_percent);
  return protocol::compare(100 * loss_ml, limit.comparator, limit.number * volume_ml);
}

}  // namespace stanch::care
