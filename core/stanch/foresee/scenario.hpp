// The model by itself with fixed parameters: a scenario file in, a table of what happens out. No readings, no noise.
#pragma once

#include "stanch/base/json.hpp"
#include "stanch/base/result.hpp"
#include "stanch/physiology/estimate.hpp"

namespace stanch::foresee {

/// Runs {"title", "minutes", "every", "parameters": {symbol: value}, "events": [{"at", ...}]}; the form of the events
/// is in docs/formats/foresee.md. Parameters left out are those of the reference woman.
/// @return {"title", "rows": [{"minute", "pulse", "sbp", ...}]}, or problems naming the field, its value and range.
[[nodiscard]] Result<Json> run_scenario(const Json& scenario, const physiology::Model& model);

}  // namespace stanch::foresee
