// core/stanch/care/phase_inputs.hpp
//
// Gathers from the earlier parts of the picture what decides the phase. Judges nothing but which schedules' facts hold.
#pragma once

#include "stanch/care/observations.hpp"
#include "stanch/care/phase.hpp"
#include "stanch/care/view.hpp"

namespace stanch::care {

struct Picture;

/// The woman died: nothing more is asked.
[[nodiscard]] bool died(const View& view);

[[nodiscard]] PhaseInputs phase_inputs(const View& view, const Picture& so_far);

/// Garment on? Is there a uterus to feel: born, and no hysterectomy recorded?
[[nodiscard]] LookLimits look_limits(const View& view, const Picture& so_far);

}  // namespace stanch::care
