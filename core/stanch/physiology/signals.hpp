// The signals that all members share at one step: garment, drugs, fluids, surgery. Worked out once, outside the loop
// over members.
#pragma once

#include <cstdint>

namespace stanch::physiology {

/// Who says how fast she bleeds.
enum class BleedBy : std::uint8_t {
  equation,  ///< the model
  imposed,   ///< `imposed_bleed`, the same for all
  run_in,    ///< each member's loss before the record, spread over five minutes
};

/// Signals of one step. Pressures in mmHg, flows per minute.
template <class T>
struct Signals {
  T leg_pressure{};      ///< PL
  T pelvis_pressure{};   ///< PP
  T abdomen_pressure{};  ///< PA
  T uterus_pressure{};   ///< PU
  T uterotonic{};        ///< U, multiples of the half-maximal concentration
  T vasodilatation{};    ///< H, 0-1
  T tranexamic{};        ///< X, 0-1
  T plasma_in{};         ///< iw, mL/min
  T red_cells_in{};      ///< ir, mL/min
  T protein_in{};        ///< ia, mL of normal plasma a minute
  T fibrinogen_in{};     ///< iF, g/min
  T platelets_in{};      ///< ip, 10^9/min
  T compression{};       ///< Pman, mmHg on the bleeding site
  T surgery = 1;         ///< mB, what surgery leaves of the bleed
  T resistance = 1;      ///< Rx
  T reflex = 1;          ///< gx
  T imposed_bleed{};     ///< Bfix, mL/min
  BleedBy bleed_by = BleedBy::equation;
  friend bool operator==(const Signals&, const Signals&) = default;
};

}  // namespace stanch::physiology
