#include "stanch/care/blood_dose.hpp"

#include <cmath>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"

namespace stanch::care {
namespace {

namespace key = protocol::key;

constexpr double mg_dl_per_g_l = 100.0;
constexpr double mg_per_g = 1000.0;
// A quotient that is whole but for rounding noise must not be rounded up by one unit.
constexpr double rounding_noise = 1e-9;

UnitDose rounded_up(double raw) { return {static_cast<int>(std::ceil(raw - rounding_noise)), raw}; }

}  // namespace

Result<UnitDose> red_cells_needed(double hb_gl, double target_gl, double weight_kg,
                                  const protocol::Protocol& protocol) {
  InputCheck check;
  check.require(hb_gl > 0.0, "hb", hb_gl, "it must be above 0 g/L");
  check.require(target_gl > hb_gl && is_finite(target_gl), "target", target_gl, "it must be above the haemoglobin now");
  check.require(weight_kg > 0.0 && is_finite(weight_kg), "weight", weight_kg, "it must be above 0 kg");
  if (check.failed()) return check.refusal();
  const double by_rise = (target_gl - hb_gl) / protocol.number(key::product_red_cells_hb_rise);
  return rounded_up(by_rise * weight_kg / protocol.number(key::product_red_cells_reference_weight));
}

Result<PlasmaDose> plasma_dose(double weight_kg, std::optional<double> ml_per_kg, std::optional<double> unit_ml,
                               const protocol::Protocol& protocol) {
  const double dose = ml_per_kg.value_or(protocol.number(key::transfusion_plasma_ml_kg));
  const double unit = unit_ml.value_or(protocol.number(key::product_plasma_unit_ml));
  InputCheck check;
  check.require(weight_kg > 0.0 && is_finite(weight_kg), "weight", weight_kg, "it must be above 0 kg");
  check.require(dose > 0.0 && is_finite(dose), "ml_per_kg", dose, "it must be above 0 mL/kg");
  check.require(unit > 0.0 && is_finite(unit), "unit_ml", unit, "it must be above 0 mL");
  if (check.failed()) return check.refusal();
  const double ml = dose * weight_kg;
  return PlasmaDose{ml, rounded_up(ml / unit)};
}

Result<double> fibrinogen_dose_g(double measured_gl, double target_gl, double weight_kg,
                                 const protocol::Protocol& protocol) {
  InputCheck check;
  check.require(measured_gl >= 0.0, "measured", measured_gl, "it must not be below 0 g/L");
  check.require(target_gl > measured_gl && is_finite(target_gl), "target", target_gl,
                "it must be above the measured level");
  check.require(weight_kg > 0.0 && is_finite(weight_kg), "weight", weight_kg, "it must be above 0 kg");
  if (check.failed()) return check.refusal();
  const double mg_per_kg = (target_gl - measured_gl) * mg_dl_per_g_l / protocol.number(key::product_fibrinogen_divisor);
  return mg_per_kg * weight_kg / mg_per_g;
}

double cryo_fibrinogen_g(const protocol::Protocol& protocol) {
  return protocol.number(key::product_cryo_pools) * protocol.number(key::product_cryo_units_per_pool) *
         protocol.number(key::product_cryo_unit_fibrinogen) / mg_per_g;
}

Result<double> diluted(double start, double volume_ml, double blood_volume_ml) {
  InputCheck check;
  check.require(start >= 0.0 && is_finite(start), "start", start, "it must not be below 0");
  check.require(volume_ml >= 0.0 && is_finite(volume_ml), "volume", volume_ml, "it must not be below 0 mL");
  check.require(blood_volume_ml > 0.0 && is_finite(blood_volume_ml), "blood_volume", blood_volume_ml,
                "it must be above 0 mL");
  if (check.failed()) return check.refusal();
  return start * elementary::exp(-volume_ml / blood_volume_ml);
}

Result<double> volume_to_reach_ml(double start, double reached, double blood_volume_ml) {
  InputCheck check;
  check.require(reached > 0.0, "reached", reached, "it must be above 0");
  check.require(start >= reached && is_finite(start), "start", start, "it must not be below what is to be reached");
  check.require(blood_volume_ml > 0.0 && is_finite(blood_volume_ml), "blood_volume", blood_volume_ml,
                "it must be above 0 mL");
  if (check.failed()) return check.refusal();
  return blood_volume_ml * elementary::log(start / reached);
}

}  // namespace stanch::care
