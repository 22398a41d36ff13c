#include "stanch/stock/chlorine.hpp"

#include "stanch/base/input_check.hpp"

namespace stanch::stock {
namespace {

void require_percent(InputCheck& check, std::string_view field, double percent) {
  check.require(percent > 0.0 && percent <= 100.0, field, percent, "it must be above 0, up to 100 % active chlorine");
}

InputCheck checked(std::string_view strength_field, double strength, double target_percent, double batch_ml) {
  InputCheck check;
  require_percent(check, strength_field, strength);
  require_percent(check, "target_percent", target_percent);
  check.require(batch_ml > 0.0 && is_finite(batch_ml), "batch_ml", batch_ml, "it must be above 0 mL");
  return check;
}

}  // namespace

Result<Dilution> dilute_liquid(double stock_percent, double target_percent, double batch_ml) {
  const InputCheck check = checked("stock_percent", stock_percent, target_percent, batch_ml);
  if (check.failed()) return check.refusal();
  Dilution dilution;
  if (stock_percent < target_percent) return dilution;
  dilution.status = DilutionStatus::possible;
  dilution.parts_water = stock_percent / target_percent - 1.0;
  dilution.stock_ml = batch_ml * target_percent / stock_percent;
  dilution.water_ml = batch_ml - *dilution.stock_ml;
  return dilution;
}

Result<PowderSolution> dissolve_powder(double active_percent, double target_percent, double batch_ml) {
  const InputCheck check = checked("active_percent", active_percent, target_percent, batch_ml);
  if (check.failed()) return check.refusal();
  PowderSolution solution;
  if (active_percent < target_percent) return solution;
  solution.status = DilutionStatus::possible;
  solution.powder_g_per_l = 1000.0 * target_percent / active_percent;
  solution.powder_g = *solution.powder_g_per_l * batch_ml / 1000.0;
  return solution;
}

Result<double> percent_from_chlorum(double degrees, double percent_per_degree) {
  InputCheck check;
  const double percent = degrees * percent_per_degree;
  check.require(percent > 0.0 && percent <= 100.0, "degrees_chlorum", degrees,
                "it must be above 0 and give no more than 100 percent");
  if (check.failed()) return check.refusal();
  return percent;
}

double ppm_from_percent(double percent) { return 10000.0 * percent; }

double strength_to_use(double label_percent, std::optional<double> tested_percent) {
  return tested_percent.value_or(label_percent);
}

}  // namespace stanch::stock
