// core/stanch/care/tranexamic_benefit.hpp
//
// What delay costs, and a relative risk with its interval: for teaching and planning only. Never shown as a forecast
// for one woman, and nothing at the bedside reads it.
#pragma once

#include "stanch/base/result.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

/// Share of the benefit of tranexamic acid left after a delay from birth.
///
///   multiplicative  (1 - p)^(t / s)   inside the window, 0 after it
///   linear          1 - p t / s, not below 0; 0 after the window
///
/// with p the share lost in a step (10 percent) and s the step (15 min).
struct BenefitLeft {
  double multiplicative = 0;
  double linear = 0;
  double by_ward = 0;  ///< the one the local protocol draws
};

/// @param delay_min  minutes from birth to the first dose, 0 or above
/// @return `ask.input_impossible` for a negative delay
/// Source: Gayet-Ageron et al., Lancet 2018;391:125-32 ("about 10 percent for every 15 minutes, none after 3 h"); the
///         two curves drawn through it are ours.  [TXA-9]
[[nodiscard]] Result<BenefitLeft> tranexamic_benefit_left(double delay_min, const protocol::Protocol& protocol);

struct RelativeRisk {
  double ratio = 0;
  double low = 0;  ///< 95 percent interval, on the logarithmic scale
  double high = 0;
};

/// (a / n1) / (b / n2) with its 95 percent interval exp(ln RR -+ 1.959964 SE), SE = sqrt(1/a - 1/n1 + 1/b - 1/n2).
/// @param events, total  exposed;  @param events_other, total_other  not exposed; events above 0 and not above totals
/// @return `ask.input_impossible` otherwise
/// Source: Katz et al., Biometrics 1978;34:469-74 (from memory).
[[nodiscard]] Result<RelativeRisk> relative_risk(double events, double total, double events_other, double total_other);

}  // namespace stanch::care
