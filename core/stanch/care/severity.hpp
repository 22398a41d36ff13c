// How bad the bleed is at this moment, gathered from measuring and recognising for the rules that answer it: first
// response, fluids, blood, compression and surgery. Nothing is judged anew here but clinical shock.
#pragma once

#include <optional>

#include "stanch/care/reason.hpp"
#include "stanch/care/signs.hpp"
#include "stanch/record/payload.hpp"

namespace stanch::care {

struct Severity {
  Tri triggered = Tri::unknown;                    ///< is it a haemorrhage by the trigger?
  std::optional<Moment> since;                     ///< T0: when the trigger was met
  Tri ongoing = Tri::unknown;                      ///< is she bleeding now?
  std::optional<double> loss_ml;                   ///< total so far; empty when nothing was measured
  std::optional<record::Sought<PulseRate>> pulse;  ///< newest
  std::optional<record::Sought<Pressure>> sbp;     ///< newest
  std::optional<Moment> signs_at;                  ///< when the older of the two was seen

  bool ended = false;  ///< recovered or died

  /// Past the trigger and not known to have stopped: when the emergency acts apply.
  [[nodiscard]] bool acute() const { return triggered == Tri::yes && ongoing != Tri::no && !ended; }
};

/// Is the shock index (pulse over systolic) past a protocol limit? Compared on the whole numbers, never on a rounded
/// quotient. A pulse with no pressure that can be read is past every limit, and so is a pulse that cannot be felt.
/// Unknown when either was not taken.
[[nodiscard]] Tri shock_index_met(const Severity& severity, const protocol::Protocol& protocol, protocol::Key limit);

/// Clinical shock: pulse and systolic both past their limits. Unrecordable counts as past.  [HAE-06]
/// Source: WHO, Managing complications in pregnancy and childbirth, 2017 (from memory).
[[nodiscard]] Tri in_shock(const Severity& severity, const protocol::Protocol& protocol);

/// Takes the newest pulse and systolic pressure.
void take_signs(Severity& severity, const Signs& signs);

}  // namespace stanch::care
