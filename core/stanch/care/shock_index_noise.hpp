// How far one shock index can be off because pulse and pressure readings are. Two readings that differ by less than
// about this say nothing.
#pragma once

#include "stanch/base/result.hpp"

namespace stanch::care {

/// Pulse and systolic pressure with the SD of one reading of each.
struct SignsWithNoise {
  double pulse_per_min = 0.0;
  double systolic_mmhg = 0.0;
  double pulse_sd = 0.0;     ///< /min
  double systolic_sd = 0.0;  ///< mmHg
};

struct ShockIndexNoise {
  double shock_index = 0.0;
  double sd = 0.0;
  double bias = 0.0;  ///< by how much a ratio of noisy readings is too high on average
};

/// First order in the noise (delta method): SD = SI sqrt((sP/P)^2 + (sS/S)^2), bias = SI (sS/S)^2.
/// @return `ask.input_impossible` for a pulse or pressure that is not above 0, or a negative SD.
/// Source: delta method, common practice; a simulation gives .0781 where this gives .0772 (110/100, SD 4 and 6).
[[nodiscard]] Result<ShockIndexNoise> shock_index_noise(const SignsWithNoise& signs);

}  // namespace stanch::care
