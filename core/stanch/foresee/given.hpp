// What was given and done, as events of the model's plan.
#pragma once

#include "stanch/base/moment.hpp"
#include "stanch/care/view.hpp"
#include "stanch/physiology/estimate.hpp"

namespace stanch::foresee {

/// Drugs, fluids, blood, garment, compression, balloon and surgery recorded up to view.now(). A drug or route that the
/// model has no row for has no effect.
[[nodiscard]] physiology::Plan given(const care::View& view, const physiology::Model& model, Moment start);

}  // namespace stanch::foresee
