#include "stanch/planning/rate_belief.hpp"

#include <cmath>

#include "stanch/base/elementary.hpp"
#include "stanch/base/input_check.hpp"
#include "stanch/base/quadrature.hpp"

namespace stanch::planning {
namespace {

constexpr int panels = 60;

/// Gamma density without its constant, at scale 1 and shape `power` + 1, in the variable t with x = t^4: near 0 a
/// shape below 1 would otherwise leave a cusp that no polynomial follows. Divided by its largest value, so that large
/// shapes do not overflow.
class ScaledGamma {
 public:
  explicit ScaledGamma(double power) : power_(power), peak_(power > 0.0 ? power : 1e-3) {
    const double width = std::sqrt(power + 1.0);
    const double low = power + 1.0 - 14.0 * width;
    low_ = low > 0.0 ? std::sqrt(std::sqrt(low)) : 0.0;
    high_ = std::sqrt(std::sqrt(power + 1.0 + 14.0 * width + 40.0));
  }

  /// Density over t at the middle of one of `n` equal steps, and the x there.
  [[nodiscard]] WeightedRate step(int i, int n) const {
    const double t = low_ + (high_ - low_) * (i + 0.5) / n;
    const double x = t * t * t * t;
    return {x, 4.0 * t * t * t * elementary::exp(power_ * elementary::log(x / peak_) - (x - peak_))};
  }

  /// Integral over x from 0 to `below` of density times f(x).
  template <class Function>
  [[nodiscard]] double integral(Function f, double below) const {
    const double high = below < 0.0 ? high_ : std::sqrt(std::sqrt(below));
    if (high <= low_) return 0.0;
    return integrate(
        [&](double t) {
          const double x = t * t * t * t;
          const double log_density = power_ * elementary::log(x / peak_) - (x - peak_);
          return 4.0 * t * t * t * elementary::exp(log_density) * f(x);
        },
        low_, high < high_ ? high : high_, panels);
  }

 private:
  double power_;
  double peak_;
  double low_;
  double high_;
};

constexpr double to_the_end = -1.0;

double one(double) { return 1.0; }

}  // namespace

Result<RateBelief> belief_from_record(double women, double months, RateBelief prior) {
  InputCheck check;
  check.require(women >= 0.0 && is_finite(women), "women", women, "it must be 0 or more");
  check.require(months > 0.0 && is_finite(months), "months", months, "it must be above 0 months");
  check.require(prior.shape > 0.0 && prior.months >= 0.0, "prior", prior.shape, "its shape must be above 0");
  if (check.failed()) return check.refusal();
  return RateBelief{prior.shape + women, prior.months + months};
}

Result<RateBelief> belief_from_spread(double mean_per_month, double spread) {
  InputCheck check;
  check.require(mean_per_month > 0.0 && is_finite(mean_per_month), "mean_per_month", mean_per_month,
                "it must be above 0 women a month");
  check.require(spread > 0.0 && is_finite(spread), "spread", spread, "it must be above 0");
  if (check.failed()) return check.refusal();
  return RateBelief{1.0 / spread, 1.0 / (spread * mean_per_month)};
}

double spread_of_counts(double mean, double variance) {
  if (!(mean > 0.0) || !(variance > mean)) return 0.0;
  return (variance - mean) / (mean * mean);
}

double quantile(const RateBelief& belief, double probability) {
  const ScaledGamma gamma(belief.shape - 1.0);
  const double all = gamma.integral(one, to_the_end);
  double low = 0.0;
  double high = belief.shape + 14.0 * std::sqrt(belief.shape) + 40.0;
  while (high - low > 1e-10 * high) {
    const double middle = 0.5 * (low + high);
    (gamma.integral(one, middle) < probability * all ? low : high) = middle;
  }
  return 0.5 * (low + high) / belief.months;
}

double averaged_loss(const RateBelief& belief, const LossAt& loss) {
  // A rate weighted by itself makes the shape larger by one.
  const ScaledGamma gamma(belief.shape);
  return gamma.integral([&](double x) { return loss(x / belief.months); }, to_the_end) /
         gamma.integral(one, to_the_end);
}

std::vector<WeightedRate> weighted_rates(const RateBelief& belief) {
  // Equal steps: the density is smooth in t and nothing at both ends, where that is as good as any rule.
  constexpr int steps = 120;
  const ScaledGamma gamma(belief.shape);
  std::vector<WeightedRate> out;
  double all = 0.0;
  for (int i = 0; i < steps; ++i) {
    out.push_back(gamma.step(i, steps));
    all += out.back().weight;
  }
  for (WeightedRate& one : out) one = {one.per_month / belief.months, one.weight / all};
  return out;
}

Result<SeasonLoss> loss_over_season(double mean_per_month, double swing, const LossAt& loss) {
  InputCheck check;
  check.require(mean_per_month > 0.0 && is_finite(mean_per_month), "mean_per_month", mean_per_month,
                "it must be above 0 women a month");
  check.require(swing >= 0.0 && swing <= 1.0, "swing", swing, "it must be from 0 to 1");
  if (check.failed()) return check.refusal();
  // 64 equal steps of a smooth periodic function leave no error that can be seen. The cosines come by the recurrence
  // of Chebyshev's polynomials.
  constexpr int steps = 64;
  constexpr double cos_of_step = 0.9951847266721968862;  // cos(2 pi / 64)
  double cosine = 1.0;
  double before = cos_of_step;
  double women = 0.0;
  double missed = 0.0;
  for (int i = 0; i < steps; ++i) {
    const double rate = mean_per_month * (1.0 + swing * cosine);
    women += rate;
    missed += rate * loss(rate);
    const double next = 2.0 * cos_of_step * cosine - before;
    before = cosine;
    cosine = next;
  }
  return SeasonLoss{missed / women, loss(mean_per_month), loss(mean_per_month * (1.0 + swing))};
}

}  // namespace stanch::planning
