// core/stanch/care/infusion.hpp
//
// Drip arithmetic: drops, millilitres and units by time. The drop factor of a giving set has no default, ever: it is
// read from the packet.
#pragma once

#include "stanch/base/result.hpp"
#include "stanch/protocol/protocol.hpp"

namespace stanch::care {

struct DripRate {
  double exact_per_min = 0;  ///< drops per minute
  double drops_per_min = 0;  ///< to the nearest whole drop, a half up
  double ml_per_h = 0;
  bool too_fast_by_eye = false;  ///< use a pump or a pressure bag
};

/// drops/min = mL x drop factor / min.
/// @param factor  drops/mL of the giving set, within the range of drip.factors
/// @return `ask.input_impossible` for a factor outside that range, a volume that is not above 0 or a time that is not
///         above 0
/// Source: nursing handouts on drip rates; that above the limit drops cannot be counted by eye: common practice, no
///         source.  [DR-1] [DR-4] [DR-5] [DR-9]
[[nodiscard]] Result<DripRate> drip_rate(double ml, double minutes, double factor, const protocol::Protocol& protocol);

/// Minutes until a bag is empty: mL x drop factor / (drops/min).  [DR-3]
/// @return `ask.input_impossible` as drip_rate, or for a rate that is not above 0
[[nodiscard]] Result<double> minutes_left(double ml, double drops_per_min, double factor,
                                          const protocol::Protocol& protocol);

/// mL/h of a drip counted in drops: drops/min / factor x 60.  [DR-7]
[[nodiscard]] Result<double> ml_per_hour(double drops_per_min, double factor, const protocol::Protocol& protocol);

struct InfusionRate {
  double per_ml = 0;         ///< units of drug per mL of the bag
  double per_h = 0;          ///< units per hour
  double milli_per_min = 0;  ///< thousandths of the unit per minute
  double hours_for_bag = 0;
};

/// What a bag delivers at a volume rate: dose/h = mL/h x dose / mL of the bag.  [DR-6]
/// @return `ask.input_impossible` for a dose, volume or rate that is not above 0
[[nodiscard]] Result<InfusionRate> infusion_rate(double dose, double bag_ml, double ml_per_h);

}  // namespace stanch::care
