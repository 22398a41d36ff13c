// What was given and done, as events on a clock of minutes since the record began, turned into the signals of each
// step. A what-if is the same plan with other events after a moment.
#pragma once

#include <cstdint>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"
#include "stanch/physiology/constants.hpp"
#include "stanch/physiology/signals.hpp"

namespace stanch::physiology {

/// How a uterotonic reaches the uterus by one route (row of body_drug).
struct UterotonicRoute {
  std::string drug;
  std::string route;
  double absorbed_per_min = 0;  ///< ka; 0: into a vein, no depot
  double lost_per_min = 0;      ///< ke
  double potency = 0;
};

/// What one mL of a fluid brings (row of body_fluid).
struct FluidKind {
  std::string id;
  double plasma_phase = 0;
  double red_cells = 0;
  double protein = 0;
  double fibrinogen_g = 0;
  double platelets_1e9 = 0;
  std::optional<double> unit_ml;  ///< mL of one unit; of one gram for fibrinogen
};

struct Pharmacy {
  std::vector<UterotonicRoute> routes;
  std::vector<FluidKind> fluids;
  [[nodiscard]] std::optional<std::size_t> route(std::string_view drug, std::string_view by) const;
  [[nodiscard]] std::optional<std::size_t> fluid(std::string_view id) const;
};

/// Reads the protocol's tables body_drug and body_fluid.
/// @return problems: protocol.malformed naming the row.
[[nodiscard]] Result<Pharmacy> read_pharmacy(const Json& drugs, const Json& fluids);

struct UterotonicDose {
  std::size_t route = 0;  ///< index into Pharmacy::routes
  double dose = 0;        ///< in the route's unit
  double over_min = 0;
};
struct TranexamicDose {
  double g = 0;
  double over_min = 0;
};
struct FluidGiven {
  std::size_t kind = 0;  ///< index into Pharmacy::fluids
  double ml = 0;
  double over_min = 0;
};
/// Tightness 0 (open) to 1 (tight) of each part of the garment, mean of left and right; absent: as it was.
struct GarmentSet {
  std::optional<double> ankle, calf, thigh, pelvis, abdomen;
};
/// Sets one signal from now on.
struct SignalSet {
  enum class What : std::uint8_t { compression, surgery, resistance, reflex, imposed_bleed } what = What::compression;
  double value = 0;
};

using Event = std::variant<UterotonicDose, TranexamicDose, FluidGiven, GarmentSet, SignalSet>;
struct Timed {
  double at_min = 0;
  Event what;
};
using Plan = std::vector<Timed>;

/// The step at which something at that minute happens.
[[nodiscard]] std::int64_t step_of(double at_min, int steps_per_minute);

/// The signals of steps 0 to steps - 1. At each step: garment targets apply and relax, drug effects are read, then the
/// depots take what is given in this step, and infusions run. A dose or volume over some minutes is spread evenly over
/// whole steps, at least one. Events before minute 0 count as at minute 0.
[[nodiscard]] std::vector<Signals<double>> signals_of(const Plan& plan, const Pharmacy& pharmacy,
                                                      const Constants<double>& constants, std::size_t steps,
                                                      int steps_per_minute);

/// The same, rounded.
[[nodiscard]] std::vector<Signals<float>> as_float(const std::vector<Signals<double>>& signals);

}  // namespace stanch::physiology
