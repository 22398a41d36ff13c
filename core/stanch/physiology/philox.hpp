// Random numbers that are looked up, not drawn: a block of four 32-bit words is a function of a counter and a key, so
// that every member, minute and move has its own numbers, whatever the order and number of threads.
// Source: Salmon et al., Parallel random numbers: as easy as 1, 2, 3 (2011), from memory; its known answers are tests.
#pragma once

#include <array>
#include <cstdint>

namespace stanch::physiology {

using Words4 = std::array<std::uint32_t, 4>;

inline constexpr std::uint32_t philox_multiplier_0 = 0xD2511F53U;
inline constexpr std::uint32_t philox_multiplier_1 = 0xCD9E8D57U;
inline constexpr std::uint32_t philox_bump_0 = 0x9E3779B9U;
inline constexpr std::uint32_t philox_bump_1 = 0xBB67AE85U;

/// Philox 4x32 with ten rounds.
[[nodiscard]] constexpr Words4 philox(Words4 counter, std::uint32_t key_0, std::uint32_t key_1) {
  for (int round = 0; round < 10; ++round) {
    const std::uint64_t p0 = std::uint64_t{philox_multiplier_0} * counter[0];
    const std::uint64_t p1 = std::uint64_t{philox_multiplier_1} * counter[2];
    counter = {static_cast<std::uint32_t>(p1 >> 32U) ^ counter[1] ^ key_0, static_cast<std::uint32_t>(p1),
               static_cast<std::uint32_t>(p0 >> 32U) ^ counter[3] ^ key_1, static_cast<std::uint32_t>(p0)};
    key_0 += philox_bump_0;
    key_1 += philox_bump_1;
  }
  return counter;
}

/// What a random number is for: no two uses share a number.
enum class Stream : std::uint32_t {
  prior = 0,
  process_noise = 1,
  resampling = 2,
  parameter_proposal = 3,
  noise_proposal = 4,
  acceptance = 5,
  forecast_noise = 6,
  forecast_reading = 7,
};

/// The 64-bit seed of a run as Philox's key.
class Random {
 public:
  explicit constexpr Random(std::uint64_t seed)
      : key_0_(static_cast<std::uint32_t>(seed)), key_1_(static_cast<std::uint32_t>(seed >> 32U)) {}

  [[nodiscard]] constexpr Words4 block(std::uint32_t member, std::uint32_t index, Stream stream,
                                       std::uint32_t draw) const {
    return philox({member, index, static_cast<std::uint32_t>(stream), draw}, key_0_, key_1_);
  }
  [[nodiscard]] constexpr std::uint32_t key_0() const { return key_0_; }
  [[nodiscard]] constexpr std::uint32_t key_1() const { return key_1_; }

 private:
  std::uint32_t key_0_;
  std::uint32_t key_1_;
};

}  // namespace stanch::physiology
