// The inner step that exp, pow, erfc and the normal distribution share. For the sources of elementary.hpp only.
#pragma once

#include "stanch/base/double_double.hpp"

namespace stanch::elementary {

/// e^(x.hi + x.lo), rounded to double, within 0.6 ulp; x.lo matters when x was computed and not given.
[[nodiscard]] double exp_of(DoubleDouble x);

}  // namespace stanch::elementary
