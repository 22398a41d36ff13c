// Rates a facility looks back on. A zero denominator has no rate, never 0; with few events only counts are shown,
// because a rate of so few misleads and may name a woman.
#pragma once

#include <cstdint>
#include <optional>
#include <vector>

#include "stanch/base/result.hpp"

namespace stanch::review {

/// Women or events out of a denominator, times `per` (100 for percent, 1000 for per thousand, 1 for a plain ratio).
struct Rate {
  std::int64_t events = 0;
  std::int64_t out_of = 0;
  std::optional<double> value;  ///< none when `out_of` is 0
  bool counts_only = false;     ///< fewer events than the limit: show counts, not the rate
};

/// @param events_min  from the local protocol: fewer events than this show counts only
/// @return `ask.input_impossible` for a negative count.  [IND-14]
[[nodiscard]] Result<Rate> rate(std::int64_t events, std::int64_t out_of, double per, std::int64_t events_min);

/// Counts of one facility and period. A woman who met near-miss criteria and then died is a death only.
struct OutcomeCounts {
  std::int64_t live_births = 0;
  std::int64_t near_misses = 0;
  std::int64_t deaths = 0;
};

struct OutcomeRates {
  Rate near_miss_ratio;       ///< near misses per 1000 live births
  Rate severe_outcome_ratio;  ///< near misses and deaths per 1000 live births
  Rate near_miss_per_death;   ///< near misses for one death
  Rate mortality_index;       ///< deaths in 100 near misses and deaths
};

/// Source: WHO, the WHO near-miss approach for maternal health, 2011 (from memory).  [IND-1] [IND-2] [IND-3] [IND-4]
[[nodiscard]] Result<OutcomeRates> outcome_rates(const OutcomeCounts& counts, std::int64_t events_min);

struct CaseFatality {
  Rate percent;
  std::optional<bool> below_standard;  ///< strictly below; none without women treated
};

/// Deaths among women treated for haemorrhage, percent.
/// @param standard_percent  from the local protocol
/// @return `ask.input_impossible` for a negative count or more deaths than women.
/// Source: WHO, UNFPA, UNICEF and AMDD, Monitoring emergency obstetric care: a handbook, 2009 (from memory).  [IND-5]
[[nodiscard]] Result<CaseFatality> case_fatality(std::int64_t deaths, std::int64_t treated, double standard_percent,
                                                 std::int64_t events_min);

/// Minutes from one step to another over many women. Women for whom the step was never done are counted in `n_not_done`
/// and as not in time: leaving them out would flatter.
struct IntervalSummary {
  std::int64_t n_done = 0;
  std::int64_t n_not_done = 0;
  std::optional<double> median;          ///< of those done
  std::optional<double> lower_quartile;  ///< by linear interpolation between order statistics
  std::optional<double> upper_quartile;
  Rate in_time;  ///< percent of all, done or not, within the target (inclusive)
};

/// @return `ask.input_impossible` for a negative interval (the clocks or the order of entries are wrong) or count.
/// Source: common practice, no source; quartiles as definition 7 of Hyndman and Fan, The American Statistician 50
/// (1996) 361-365.  [IND-8] [IND-9]
[[nodiscard]] Result<IntervalSummary> interval_summary(std::vector<double> minutes, std::int64_t n_not_done,
                                                       double target_min, std::int64_t events_min);

}  // namespace stanch::review
