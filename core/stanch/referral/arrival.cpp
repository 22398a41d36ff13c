#include "stanch/referral/arrival.hpp"

#include <algorithm>
#include <cmath>
#include <string>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"
#include "stanch/base/quadrature.hpp"
#include "stanch/base/sum.hpp"

namespace stanch::referral {
namespace {

constexpr double a_week_min = 7.0 * 24.0 * 60.0;
constexpr double far = 8.5;  // standard deviations: beyond lies less than 1e-16
constexpr int panels = 24;

void check_time(InputCheck& check, const char* field, const TravelTime& time) {
  check.require(time.median_min > 0.0 && is_finite(time.median_min), field, time.median_min, "it must be above 0 min");
  check.require(time.sigma >= 0.0 && time.sigma <= 3.0, field, time.sigma, "its spread must be from 0 to 3");
}

void check_share(InputCheck& check, const char* field, double share) {
  check.require(share >= 0.0 && share <= 1.0, field, share, "it must be from 0 to 1");
}

InputCheck checked(Forecast forecast, double prepare_min) {
  InputCheck check;
  double all = 0.0;
  for (std::size_t k = 0; k < forecast.size(); ++k) {
    const Possibility& one = forecast[k];
    if (!(one.weight >= 0.0)) check.require(false, "forecast.weight", one.weight, "it must be 0 or more");
    if (!(one.critical_min >= 0.0))
      check.require(false, "forecast.critical_min", one.critical_min, "it must be 0 min or more");
    all += one.weight;
  }
  check.require(all > 1.0 - 1e-9 && all < 1.0 + 1e-9, "forecast.weight", all, "the weights must add up to 1");
  check.require(prepare_min >= 0.0 && prepare_min <= a_week_min, "prepare_min", prepare_min,
                "it must be 0 min or more, up to a week");
  return check;
}

void check_within(InputCheck& check, double within_min) {
  check.require(within_min > 0.0 && within_min <= a_week_min, "within_min", within_min,
                "it must be above 0 min, up to a week");
}

/// Expectation of f(time) over a lognormal time that is at most `most`, where f is 0 beyond. The integral ends at the
/// kink: a rule that runs across it loses all its digits.
template <class Function>
double over_time(const TravelTime& time, double most, Function f) {
  if (!(most > 0.0)) return 0.0;
  if (time.sigma == 0.0) return time.median_min <= most ? f(time.median_min) : 0.0;
  double high = far;
  if (is_finite(most)) high = std::min(far, elementary::log(most / time.median_min) / time.sigma);
  if (high <= -far) return 0.0;
  return integrate(
      [&](double z) { return elementary::normal_density(z) * f(time.median_min * elementary::exp(time.sigma * z)); },
      -far, high, panels);
}

double both_within(const TravelTime& travel, const TravelTime& care, double minutes) {
  return over_time(travel, minutes, [&](double took) { return within(care, minutes - took); });
}

/// The law of travel and care together at equal steps up to `most`, read between them by cubic pieces: each of many
/// possibilities asks for it hundreds of times.
class TabledSum {
 public:
  TabledSum(const TravelTime& travel, const TravelTime& care, double most) : step_(most / steps) {
    for (int i = 0; i <= steps; ++i) table_.push_back(both_within(travel, care, step_ * i));
  }
  [[nodiscard]] double at(double minutes) const {
    if (!(minutes > 0.0)) return 0.0;
    const double x = std::min(minutes / step_, static_cast<double>(steps));
    const int i = std::clamp(static_cast<int>(x), 1, steps - 2);
    const double t = x - i;
    const auto y = [around = table_.begin() + i](int k) { return around[k]; };
    return y(0) + 0.5 * t *
                      (y(1) - y(-1) +
                       t * (2.0 * y(-1) - 5.0 * y(0) + 4.0 * y(1) - y(2) + t * (3.0 * (y(0) - y(1)) + y(2) - y(-1))));
  }

 private:
  static constexpr int steps = 600;
  double step_;
  std::vector<double> table_;
};

}  // namespace

Result<double> arrives_in_time(Forecast forecast, double prepare_min, const TravelTime& travel) {
  InputCheck check = checked(forecast, prepare_min);
  check_time(check, "travel", travel);
  if (check.failed()) return check.refusal();
  CompensatedSum out;
  for (const Possibility& one : forecast) out.add(one.weight * within(travel, one.critical_min - prepare_min));
  return out.value();
}

Result<double> care_in_time(Forecast forecast, const Journey& journey, double within_min) {
  InputCheck check = checked(forecast, journey.prepare_min);
  check_time(check, "travel", journey.travel);
  check_time(check, "door_to_care", journey.door_to_care);
  check_share(check, "capable", journey.capable);
  check_within(check, within_min);
  if (check.failed()) return check.refusal();
  CompensatedSum out;
  for (const Possibility& one : forecast)
    out.add(one.weight * both_within(journey.travel, journey.door_to_care,
                                     std::min(one.critical_min, within_min) - journey.prepare_min));
  return journey.capable * out.value();
}

Result<double> care_with_stop(Forecast forecast, const StopOver& way, double within_min) {
  InputCheck check = checked(forecast, way.prepare_min);
  check_time(check, "first_leg", way.first_leg);
  check_time(check, "second_leg", way.second_leg);
  check_time(check, "door_to_care", way.door_to_care);
  check_share(check, "has_blood", way.has_blood);
  check_within(check, within_min);
  check.require(way.stop_min >= 0.0 && way.stop_min <= a_week_min, "stop_min", way.stop_min,
                "it must be 0 min or more");
  check.require(way.blood_gains_min.size() == forecast.size(), "blood_gains_min",
                static_cast<double>(way.blood_gains_min.size()), "there must be one for each possibility");
  for (const double gain : way.blood_gains_min)
    if (!(gain >= 0.0)) check.require(false, "blood_gains_min", gain, "it must be 0 min or more");
  if (check.failed()) return check.refusal();
  const TabledSum second(way.second_leg, way.door_to_care, within_min);
  CompensatedSum out;
  for (std::size_t k = 0; k < forecast.size(); ++k) {
    const double critical = forecast[k].critical_min;
    const double without = std::min(critical, within_min);
    const double with = std::min(critical + way.blood_gains_min[k], within_min);
    const double there = std::min(critical, within_min) - way.prepare_min;
    out.add(forecast[k].weight * over_time(way.first_leg, there, [&](double took) {
              const double gone = way.prepare_min + took + way.stop_min;
              return way.has_blood * second.at(with - gone) + (1.0 - way.has_blood) * second.at(without - gone);
            }));
  }
  return out.value();
}

double arrives_before(const TravelTime& travel, const TravelTime& critical) {
  const double spread = std::sqrt(travel.sigma * travel.sigma + critical.sigma * critical.sigma);
  return elementary::normal_cdf(elementary::log(critical.median_min / travel.median_min) / spread);
}

Result<std::vector<Possibility>> with_garment(Forecast forecast, double applied_min, double cut) {
  InputCheck check;
  check.require(applied_min >= 0.0 && is_finite(applied_min), "applied_min", applied_min, "it must be 0 min or more");
  check.require(cut >= 0.0 && cut < 1.0, "cut", cut, "it must be a share from 0 to below 1");
  if (check.failed()) return check.refusal();
  std::vector<Possibility> out(forecast.begin(), forecast.end());
  for (Possibility& one : out)
    if (one.critical_min > applied_min) one.critical_min = applied_min + (one.critical_min - applied_min) / (1.0 - cut);
  return out;
}

double effective_number(Forecast forecast) {
  double squares = 0.0;
  for (const Possibility& one : forecast) squares += one.weight * one.weight;
  return squares > 0.0 ? 1.0 / squares : 0.0;
}

double capability_now(double usually, double last_known, double age_hours, double fades_hours) {
  return usually + (last_known - usually) * elementary::exp(-age_hours / fades_hours);
}

}  // namespace stanch::referral
