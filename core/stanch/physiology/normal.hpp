// Uniform and normal numbers from random words.
#pragma once

#include <cstdint>

#include "stanch/physiology/philox.hpp"

namespace stanch::physiology {

/// (w + 1/2) / 2^32: never 0 or 1.
[[nodiscard]] constexpr double uniform(std::uint32_t word) { return (static_cast<double>(word) + 0.5) * 0x1p-32; }

/// The x below which a standard normal variable lies with probability p, for 0 < p < 1; relative error below 2e-14.
/// Quicker than elementary::normal_quantile by its rational forms alone.
/// Source: Wichura, Algorithm AS 241 (PPND16), Applied Statistics 37 (1988); coefficients from memory, tested against
/// elementary::normal_quantile.
[[nodiscard]] double inverse_normal(double p);

/// A number near the normal law from one block: the sum of its eight 16-bit halves, centred and scaled. Mean 0 and
/// standard deviation 1; its tails end at 4.9. Exact in float but for the last scaling.
[[nodiscard]] constexpr float normal_from(const Words4& block) {
  std::uint32_t sum = 0;
  for (const std::uint32_t word : block) sum += (word & 0xFFFFU) + (word >> 16U);
  // 8 * 32767.5, then 1 / (65536 * sqrt(8 / 12))
  return static_cast<float>(static_cast<std::int32_t>(sum) - 262140) * 1.8688124e-5F;
}

}  // namespace stanch::physiology
