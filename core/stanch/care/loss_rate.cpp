#include "stanch/care/loss_rate.hpp"

#include <algorithm>
#include <cmath>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"

namespace stanch::care {
namespace {

constexpr double minutes_per_hour = 60.0;

void require_not_negative(InputCheck& check, std::string_view field, double value, std::string_view allowed) {
  check.require(value >= 0.0 && is_finite(value), field, value, allowed);
}

void require_confidence(InputCheck& check, double confidence) {
  check.require(confidence >= 0.5 && confidence < 1.0, "confidence", confidence, "it must be 0.5 up to below 1");
}

void require_resolution(InputCheck& check, double resolution_ml) {
  require_not_negative(check, "resolution_ml", resolution_ml, "it must be 0 mL or above");
}

void require_steps(InputCheck& check, std::span<const VolumeReading> readings) {
  for (std::size_t i = 0; i < readings.size(); ++i) {
    check.require_finite("at_min", readings[i].at_min);
    require_not_negative(check, "volume_ml", readings[i].volume_ml, "it must be 0 mL or above");
    if (i == 0) continue;
    check.require(readings[i].at_min > readings[i - 1].at_min, "at_min", readings[i].at_min,
                  "it must be later than the reading before");
    check.require(readings[i].volume_ml >= readings[i - 1].volume_ml, "volume_ml", readings[i].volume_ml,
                  "a cumulative volume cannot fall: say when the container was emptied, or correct the figure");
  }
}

double mean_hours(std::span<const VolumeReading> readings) {
  double sum = 0.0;
  for (const VolumeReading& reading : readings) sum += reading.at_min / minutes_per_hour;
  return sum / static_cast<double>(readings.size());
}

double squared_hours(std::span<const VolumeReading> readings) {
  const double mean = mean_hours(readings);
  double sum = 0.0;
  for (const VolumeReading& reading : readings) {
    const double off = reading.at_min / minutes_per_hour - mean;
    sum += off * off;
  }
  return sum;
}

// Time after which an error of `error_ml` in the volume gained no longer matters.
Result<std::optional<double>> hours_for(double error_ml, double rate_ml_per_h, double limit_ml_per_h) {
  if (rate_ml_per_h >= limit_ml_per_h) return std::optional<double>();
  return std::optional<double>(error_ml / (limit_ml_per_h - rate_ml_per_h));
}

InputCheck checked(double resolution_ml, double rate_ml_per_h, double limit_ml_per_h) {
  InputCheck check;
  require_resolution(check, resolution_ml);
  require_not_negative(check, "rate_ml_per_h", rate_ml_per_h, "it must be 0 mL/h or above");
  require_not_negative(check, "limit_ml_per_h", limit_ml_per_h, "it must be 0 mL/h or above");
  return check;
}

}  // namespace

Result<RateInterval> rate_between(const VolumeReading& earlier, const VolumeReading& later, double resolution_ml) {
  InputCheck check;
  const VolumeReading both[] = {earlier, later};
  require_steps(check, both);
  require_resolution(check, resolution_ml);
  if (check.failed()) return check.refusal();
  // Times 60 first: whole numbers of mL and minutes then give an exact interval.
  const double gained = later.volume_ml - earlier.volume_ml;
  const double minutes = later.at_min - earlier.at_min;
  return RateInterval{std::max(0.0, (gained - resolution_ml) * minutes_per_hour / minutes),
                      (gained + resolution_ml) * minutes_per_hour / minutes};
}

RateJudgement judge_rate(const RateInterval& rate, double limit_ml_per_h) {
  if (rate.high_ml_per_h < limit_ml_per_h) return RateJudgement::certainly_below;
  if (rate.low_ml_per_h >= limit_ml_per_h) return RateJudgement::certainly_above;
  return RateJudgement::cannot_tell;
}

Result<std::optional<double>> hours_until_certain(double resolution_ml, double rate_ml_per_h, double limit_ml_per_h) {
  const InputCheck check = checked(resolution_ml, rate_ml_per_h, limit_ml_per_h);
  if (check.failed()) return check.refusal();
  return hours_for(resolution_ml, rate_ml_per_h, limit_ml_per_h);
}

Result<std::optional<double>> hours_until_confident(double resolution_ml, double rate_ml_per_h, double limit_ml_per_h,
                                                    double confidence) {
  InputCheck check = checked(resolution_ml, rate_ml_per_h, limit_ml_per_h);
  require_confidence(check, confidence);
  if (check.failed()) return check.refusal();
  const double error_ml = elementary::normal_quantile(confidence) * resolution_ml * std::sqrt(2.0 / 12.0);
  return hours_for(error_ml, rate_ml_per_h, limit_ml_per_h);
}

double slope_sd_per_unit_noise(std::span<const VolumeReading> readings) {
  return 1.0 / std::sqrt(squared_hours(readings));
}

Result<std::optional<FittedRate>> fitted_rate(std::span<const VolumeReading> readings, double resolution_ml,
                                              double confidence, std::size_t readings_min) {
  InputCheck check;
  require_steps(check, readings);
  require_resolution(check, resolution_ml);
  require_confidence(check, confidence);
  if (check.failed()) return check.refusal();
  if (readings.size() < std::max<std::size_t>(readings_min, 2)) return std::optional<FittedRate>();
  const double mean = mean_hours(readings);
  double product = 0.0;
  for (const VolumeReading& reading : readings) {
    product += (reading.at_min / minutes_per_hour - mean) * reading.volume_ml;
  }
  FittedRate fit;
  fit.rate_ml_per_h = product / squared_hours(readings);
  fit.sd_ml_per_h = resolution_ml / std::sqrt(12.0) * slope_sd_per_unit_noise(readings);
  const double reach = elementary::normal_quantile(confidence) * fit.sd_ml_per_h;
  fit.interval = {std::max(0.0, fit.rate_ml_per_h - reach), fit.rate_ml_per_h + reach};
  return std::optional<FittedRate>(fit);
}

Result<double> blood_from_mass(double gain_g, double density_g_per_ml) {
  InputCheck check;
  require_not_negative(check, "gain_g", gain_g, "the wet mass must not be below the dry mass");
  check.require(density_g_per_ml > 0.0 && is_finite(density_g_per_ml), "density", density_g_per_ml,
                "it must be above 0 g/mL");
  if (check.failed()) return check.refusal();
  return gain_g / density_g_per_ml;
}

}  // namespace stanch::care
