// core/stanch/care/blood_pressure.hpp
//
// Mean pressure and pulse pressure of the newest blood pressure, and whether they show severe shock or a narrow pulse
// pressure.
#pragma once

#include <optional>

#include "stanch/base/json.hpp"
#include "stanch/care/reason.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

struct BloodPressure {
  std::optional<double> mean_mmhg;  ///< (systolic + 2 diastolic) / 3  [HAE-01]
  std::optional<int> pulse_pressure_mmhg;
  Tri severe_shock = Tri::unknown;  ///< mean below its limit, or a pressure that cannot be recorded  [HAE-03]
  Tri narrow = Tri::unknown;        ///< by share of the systolic or by number, as the protocol says  [HAE-04]
  std::optional<Moment> at;
};

/// @param sbp_mmhg  above dbp_mmhg  Source: textbook formula; severe shock below 60: Miller et al. 2010 (entry
/// stratum); narrow pulse pressure: trauma-course teaching (from memory).
[[nodiscard]] BloodPressure blood_pressure_of(int sbp_mmhg, int dbp_mmhg, const protocol::Protocol& protocol);

/// Of the newest set with a systolic. One that cannot be recorded counts as severe shock; one that was only felt can
/// show severe shock but not exclude it.
[[nodiscard]] BloodPressure blood_pressure(const View& view);

[[nodiscard]] Json to_json(const BloodPressure& pressure);

}  // namespace stanch::care
