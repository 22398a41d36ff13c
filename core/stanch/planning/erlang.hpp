// core/stanch/planning/erlang.hpp
//
// One shelf whose garments come home: what is the chance that the next woman in shock finds none that is ready?
// Women who find none are treated without, they do not wait; so the number of garments away is a truncated Poisson
// variable and the chance is Erlang's loss formula. It depends on the turnaround only through its mean.
//
// Source: Erlang 1917 (from memory); insensitivity as stated in Pacheco, Queueing Systems 1994; that an arriving woman
// sees the average over time: Wolff 1982 (from memory).
#pragma once

#include "stanch/base/result.hpp"

namespace stanch::planning {

/// Rates are told a month, turnarounds in days: a month has 365.25 / 12 days.
inline constexpr double days_per_month = 30.4375;
inline constexpr double months_per_year = 12.0;

/// The most garments that one computation takes on, far above any national store.
inline constexpr int most_garments = 10'000'000;

/// Garments away on average if there were always one to take: rate times turnaround.
[[nodiscard]] constexpr double offered_load(double per_month, double turnaround_days) {
  return per_month * turnaround_days / days_per_month;
}

/// B(s) from B(s-1): a B / (s + a B). Runs forward from B(0) = 1 without overflow and goes cleanly to 0.
[[nodiscard]] constexpr double next_erlang_loss(double loss_with_one_less, double load, int garments) {
  const double weighted = load * loss_with_one_less;
  return weighted / (static_cast<double>(garments) + weighted);
}

/// Share of women who find no garment.
/// @param garments  owned, 0 up to most_garments
/// @param load      offered load, 0 or above
/// @return `ask.input_impossible` outside these. Linear in garments.
[[nodiscard]] Result<double> erlang_loss(int garments, double load);

/// The same when each garment on the shelf turns out unusable with probability `unusable` (failed closure, no label),
/// independently. An approximation: it keeps the law of garments away as it is.
///   P(s) = B(s) + (1 - B(s)) u P(s-1),  P(0) = 1    is the sum over k of pi_k u^(s-k), pi_k truncated Poisson.
[[nodiscard]] Result<double> erlang_loss_unusable(int garments, double load, double unusable);

/// Smallest number of garments with a loss strictly below `target` (above 0, up to 1).
[[nodiscard]] Result<int> garments_for(double load, double target);

/// The load that this many garments carry at this loss: to compare with printed tables. By bisection, to 1e-12.
[[nodiscard]] Result<double> load_at_loss(int garments, double loss);

/// A garment that never comes back is replaced after `resupply_days`: since only the mean counts, the turnaround is
/// (1 - share) turnaround + share resupply.
[[nodiscard]] Result<double> turnaround_with_losses(double turnaround_days, double lost_share, double resupply_days);

}  // namespace stanch::planning
