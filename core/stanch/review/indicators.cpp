#include "stanch/review/indicators.hpp"

#include <algorithm>

#include "stanch/base/input_check.hpp"

namespace stanch::review {
namespace {

void require_count(InputCheck& check, std::string_view field, std::int64_t count) {
  check.require(count >= 0, field, static_cast<double>(count), "it must be 0 or above");
}

// For counts already checked.
Rate rate_of(std::int64_t events, std::int64_t out_of, double per, std::int64_t events_min) {
  Rate answer{events, out_of, std::nullopt, events < events_min};
  if (out_of > 0) answer.value = per * static_cast<double>(events) / static_cast<double>(out_of);
  return answer;
}

// The value below which a share of the ordered numbers lies, by linear interpolation.
double quantile(const std::vector<double>& ordered, double share) {
  const double place = share * static_cast<double>(ordered.size() - 1);
  const auto below = static_cast<std::size_t>(place);
  if (below + 1 == ordered.size()) return ordered[below];
  return ordered[below] + (place - static_cast<double>(below)) * (ordered[below + 1] - ordered[below]);
}

}  // namespace

Result<Rate> rate(std::int64_t events, std::int64_t out_of, double per, std::int64_t events_min) {
  InputCheck check;
  require_count(check, "events", events);
  require_count(check, "out_of", out_of);
  if (check.failed()) return check.refusal();
  return rate_of(events, out_of, per, events_min);
}

Result<OutcomeRates> outcome_rates(const OutcomeCounts& counts, std::int64_t events_min) {
  InputCheck check;
  require_count(check, "live_births", counts.live_births);
  require_count(check, "near_misses", counts.near_misses);
  require_count(check, "deaths", counts.deaths);
  if (check.failed()) return check.refusal();
  const std::int64_t severe = counts.near_misses + counts.deaths;
  return OutcomeRates{rate_of(counts.near_misses, counts.live_births, 1000.0, events_min),
                      rate_of(severe, counts.live_births, 1000.0, events_min),
                      rate_of(counts.near_misses, counts.deaths, 1.0, events_min),
                      rate_of(counts.deaths, severe, 100.0, events_min)};
}

Result<CaseFatality> case_fatality(std::int64_t deaths, std::int64_t treated, double standard_percent,
                                   std::int64_t events_min) {
  InputCheck check;
  require_count(check, "deaths", deaths);
  require_count(check, "treated", treated);
  check.require(deaths <= treated, "deaths", static_cast<double>(deaths), "it must not be above the women treated");
  if (check.failed()) return check.refusal();
  CaseFatality answer{rate_of(deaths, treated, 100.0, events_min), std::nullopt};
  // Compared on the counts: 100 deaths < standard x treated.
  if (treated > 0) {
    answer.below_standard = 100.0 * static_cast<double>(deaths) < standard_percent * static_cast<double>(treated);
  }
  return answer;
}

Result<IntervalSummary> interval_summary(std::vector<double> minutes, std::int64_t n_not_done, double target_min,
                                         std::int64_t events_min) {
  InputCheck check;
  for (const double interval : minutes) {
    check.require(interval >= 0.0 && is_finite(interval), "minutes", interval, "it must be 0 min or above");
  }
  require_count(check, "not_done", n_not_done);
  if (check.failed()) return check.refusal();
  std::sort(minutes.begin(), minutes.end());
  IntervalSummary summary;
  summary.n_done = static_cast<std::int64_t>(minutes.size());
  summary.n_not_done = n_not_done;
  if (!minutes.empty()) {
    summary.median = quantile(minutes, 0.5);
    summary.lower_quartile = quantile(minutes, 0.25);
    summary.upper_quartile = quantile(minutes, 0.75);
  }
  const auto in_time = std::upper_bound(minutes.begin(), minutes.end(), target_min) - minutes.begin();
  summary.in_time = rate_of(in_time, summary.n_done + n_not_done, 100.0, events_min);
  return summary;
}

}  // namespace stanch::review
