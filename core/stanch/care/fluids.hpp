// What went in and what came out: fluid, blood and drips against loss and urine, and the alerts on clear fluid. Whether
// blood is due is judged in transfusion.hpp.
#pragma once

#include <cstdint>
#include <optional>
#include <string_view>

#include "stanch/base/json.hpp"
#include "stanch/care/advice.hpp"
#include "stanch/care/severity.hpp"
#include "stanch/care/view.hpp"
#include "stanch/care/woman.hpp"

namespace stanch::care {

enum class FluidClass : std::uint8_t { crystalloid, colloid, dextrose, other };

/// The class that the protocol gives a fluid; `other` when it does not list it.
[[nodiscard]] FluidClass fluid_class(const protocol::Protocol& protocol, std::string_view fluid);

/// Volumes so far, mL. A running bag or drip counts by the whole minute; a bag hung without a rate counts when it is
/// finished, and until then in `hanging_ml`.
struct FluidsIn {
  double crystalloid_ml = 0;
  double colloid_ml = 0;
  double other_ml = 0;           ///< dextrose and fluids that the protocol does not list
  double drips_ml = 0;           ///< what drugs were given in
  double hanging_ml = 0;         ///< may have run in already, or not
  double blood_ml = 0;           ///< products given by volume, or in units whose volume the protocol knows
  bool blood_uncounted = false;  ///< some product has no known volume
  bool red_cells_given = false;  ///< red cells or whole blood
  bool dextrose = false;
  std::optional<Moment> next_change;  ///< while something runs: when the volumes change next

  /// Clear fluid: everything but blood.
  [[nodiscard]] double clear_ml() const { return crystalloid_ml + colloid_ml + other_ml + drips_ml; }
};

[[nodiscard]] FluidsIn fluids_in(const View& view);

/// Urine so far, mL: amounts, and the readings of bags (a lower reading is a new bag). Empty when none was recorded.
[[nodiscard]] std::optional<double> urine_total_ml(const View& view);

/// The alerts on clear fluid. Unknown where a bag that may have run in would decide, or an input is missing.
/// Source: RCOG Green-top 52, 2016 (from memory); twice the loss and the cautions: common practice.  [FL-7] [FL-3]
struct FluidAlerts {
  Tri over_loss = Tri::unknown;      ///< more than fluid.loss_ratio times the measured loss
  Tri ask_for_blood = Tri::unknown;  ///< no red cells given, and this much clear fluid
  Tri hard_alert = Tri::unknown;     ///< the same, at the last limit
  Tri cautious = Tri::unknown;       ///< with a caution that brings the earlier notice
  Tri crystalloid_most = Tri::unknown;
  Tri colloid_most = Tri::unknown;
};

/// @param cautious  does a caution that brings the earlier notice hold?
[[nodiscard]] FluidAlerts fluid_alerts(const FluidsIn& in, std::optional<double> loss_ml, Tri cautious,
                                       const protocol::Protocol& protocol);

/// Does the woman have a caution of fluid.cautions, or haemoglobin before the bleed below recognition.low_hb? Unknown
/// when cautions were never asked and nothing else says so.
[[nodiscard]] Tri fluid_caution(const Woman& woman, const protocol::Protocol& protocol);

struct Fluids {
  FluidsIn in;
  std::optional<double> urine_ml;
  std::optional<double> balance_ml;  ///< in minus urine and loss; empty when no loss was measured
  FluidAlerts alerts;
};

[[nodiscard]] Fluids fluids(const View& view, const Woman& woman, const Severity& severity);
/// {"alerts": [id], "undecided": [id]}
[[nodiscard]] Json to_json(const FluidAlerts& alerts);
/// The alerts, and every volume in mL.
[[nodiscard]] Json to_json(const Fluids& fluids);

void advise_fluids(const Fluids& fluids, const Severity& severity, const View& view, AdviceBuilder& out);

/// May this fluid be given now? Dextrose is warned against for resuscitation, and a volume that would cross an alert
/// is warned about or stopped.  [FL-1] [FL-7]
[[nodiscard]] Verdict may_fluid(const Fluids& fluids, const Woman& woman, const Severity& severity, const View& view,
                                const record::Fluid& proposed);

}  // namespace stanch::care
