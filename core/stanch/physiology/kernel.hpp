// The step over blocks of members, in several widths of one source (kernel_lanes.hpp), chosen at run time by what the
// processor has. All widths give the same bits.
#pragma once

#include <cstdint>
#include <span>

#include "stanch/physiology/equations.hpp"
#include "stanch/physiology/member.hpp"
#include "stanch/physiology/philox.hpp"
#include "stanch/physiology/signals.hpp"

namespace stanch::physiology {

/// The constants of a run in the precision it uses.
template <class T>
struct Physics {
  Constants<T> constants;
  Pace<T> pace;
};

/// Constants for steps of 1/steps_per_minute minutes; 12 is what estimates and forecasts use.
template <class T>
[[nodiscard]] Physics<T> physics(const Constants<double>& constants, int steps_per_minute);

inline constexpr int steps_per_minute = 12;
inline constexpr std::size_t noises_per_minute = 3;

/// The three normal numbers of one minute, for a block: pulse, resistance, bleed.
template <class T>
using MinuteNoise = std::array<Row<T>, noises_per_minute>;

/// What one width offers.
struct Kernel {
  const char* name;
  int lanes;

  /// Runs a block from step `first` over as many steps as there are signals. At each whole minute m (a multiple of
  /// steps_per_minute) noise[m - 1 - first_minute] is taken in, first_minute = first / steps_per_minute; an empty span
  /// is no noise.
  void (*run)(const Physics<float>& physics, const Traits<float>& traits, States<float>& states, std::int64_t first,
              std::span<const Signals<float>> signals, std::span<const MinuteNoise<float>> noise);

  /// What can be read off the members now, under the signals of this step.
  void (*observe)(const Physics<float>& physics, const Traits<float>& traits, const States<float>& states,
                  const Signals<float>& signals, Outputs<float>& out);

  /// A block's normal numbers of one minute: member `first_member` + place, index `index`, draws 0 to 2.
  void (*noise)(const Random& random, std::uint32_t first_member, std::uint32_t index, std::uint32_t first_draw,
                Stream stream, MinuteNoise<float>& out);
};

/// Every width this processor can run, narrowest first.
[[nodiscard]] std::span<const Kernel* const> kernels();
/// The widest of them.
[[nodiscard]] const Kernel& widest_kernel();

/// The same run for one woman or few in double precision, for single runs and checks. Only the first `members` places.
void run(const Physics<double>& physics, const Traits<double>& traits, States<double>& states, std::int64_t first,
         std::span<const Signals<double>> signals, std::span<const MinuteNoise<double>> noise, std::size_t members);
void observe(const Physics<double>& physics, const Traits<double>& traits, const States<double>& states,
             const Signals<double>& signals, Outputs<double>& out, std::size_t members);

}  // namespace stanch::physiology
