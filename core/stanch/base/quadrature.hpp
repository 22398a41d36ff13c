// Integrals by the ten-point Gauss-Legendre rule on equal panels, added in a fixed order so that every host gives the
// same bits.
//
// Source: nodes and weights as in Abramowitz and Stegun, table 25.4 (computed anew to 22 digits).
#pragma once

#include <cstddef>

namespace stanch {

/// Integral of `f` from `low` to `high`: exact for polynomials up to degree 19 on each panel, so the caller picks
/// `n_panels` such that `f` is smooth within one. A jump in `f` must lie on a panel's border.
/// @param f  callable double -> double, called 10 * n_panels times, never at a border
template <class Function>
[[nodiscard]] constexpr double integrate(Function&& f, double low, double high, int n_panels) {
  constexpr double nodes[] = {0.1488743389816312108848, 0.4333953941292471907993, 0.6794095682990244062343,
                              0.8650633666889845107321, 0.973906528517171720078};
  constexpr double weights[] = {0.2955242247147528701739, 0.2692667193099963550912, 0.2190863625159820439955,
                                0.1494513491505805931458, 0.06667134430868813759357};
  const double half_width = 0.5 * (high - low) / n_panels;
  double sum = 0.0;
  for (int panel = 0; panel < n_panels; ++panel) {
    const double middle = low + half_width * (2 * panel + 1);
    double panel_sum = 0.0;
    for (std::size_t i = 0; i < 5; ++i) {
      const double offset = half_width * nodes[i];
      panel_sum += weights[i] * (f(middle - offset) + f(middle + offset));
    }
    sum += panel_sum;
  }
  return half_width * sum;
}

}  // namespace stanch
