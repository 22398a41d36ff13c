// core/stanch/base/keyed_random.hpp
//
// Chance for simulations: each draw is a function of what it is for (seed, place, purpose, count) and of nothing else.
// Two policies then meet the same women, whatever else they draw, and a run is the same on every machine.
//
// Source: the mixing function of SplitMix64 (Steele, Lea and Flood 2014, from memory).
#pragma once

#include <cstdint>

#include "stanch/base/elementary.hpp"

namespace stanch {

[[nodiscard]] constexpr std::uint64_t mixed(std::uint64_t x) {
  x = (x ^ (x >> 30U)) * 0xbf58476d1ce4e5b9U;
  x = (x ^ (x >> 27U)) * 0x94d049bb133111ebU;
  return x ^ (x >> 31U);
}

/// The stream of one purpose at one place.
class KeyedRandom {
 public:
  constexpr KeyedRandom(std::uint64_t seed, std::uint64_t place, std::uint64_t purpose)
      : key_(mixed(mixed(mixed(seed + step) + place * step) + purpose * step)) {}

  /// The count-th number of the stream, evenly in (0, 1) and never at an end.
  [[nodiscard]] constexpr double uniform(std::uint64_t count) const {
    return (static_cast<double>(mixed(key_ + count * step) >> 11U) + 0.5) * 0x1p-53;
  }
  /// Exponential with mean 1.
  [[nodiscard]] double exponential(std::uint64_t count) const { return -elementary::log(uniform(count)); }
  [[nodiscard]] double normal(std::uint64_t count) const { return elementary::normal_quantile(uniform(count)); }

 private:
  static constexpr std::uint64_t step = 0x9e3779b97f4a7c15U;  // 2^64 over the golden ratio, odd
  std::uint64_t key_;
};

}  // namespace stanch
