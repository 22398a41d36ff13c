#include "stanch/physiology/kernel.hpp"

#include "stanch/base/elementary.hpp"
#include "stanch/physiology/kernel_lanes.hpp"

namespace stanch::physiology {

// One file each, compiled for processors that have that width (cmake/physiology.cmake).
extern const Kernel kernel_1;
extern const Kernel kernel_4;
#if defined(__x86_64__)
extern const Kernel kernel_8;
extern const Kernel kernel_16;
#endif

std::span<const Kernel* const> kernels() {
#if defined(__x86_64__)
  static constexpr std::array all{&kernel_1, &kernel_4, &kernel_8, &kernel_16};
  const std::size_t usable = __builtin_cpu_supports("avx512f") ? 4U : __builtin_cpu_supports("avx2") ? 3U : 2U;
  return std::span(all).first(usable);
#else
  static constexpr std::array all{&kernel_1, &kernel_4};
  return all;
#endif
}

const Kernel& widest_kernel() { return *kernels().back(); }

template <class T>
Physics<T> physics(const Constants<double>& c, int per_minute) {
  Physics<T> out;
  const auto from = constant_fields<double>();
  const auto to = constant_fields<T>();
  for (std::size_t i = 0; i < from.size(); ++i) out.constants.*to[i].at = static_cast<T>(c.*from[i].at);
  const double dt = 1.0 / per_minute;
  const auto lag = [dt](double tau) { return static_cast<T>(-elementary::expm1(-dt / tau)); };
  out.pace.dt = static_cast<T>(dt);
  out.pace.steps_per_minute = per_minute;
  out.pace.pulse = lag(c.lag_pulse);
  out.pace.resistance = lag(c.lag_resistance);
  out.pace.veins = lag(c.lag_veins);
  out.pace.failure_rise = lag(c.failure_rise);
  out.pace.failure_fall = lag(c.failure_fall);
  out.pace.tone = lag(c.lag_tone);
  const auto noise = [](double sigma, double tau, T& keep, T& add) {
    const double r = elementary::exp(-1.0 / tau);
    keep = static_cast<T>(r);
    add = static_cast<T>(sigma * __builtin_sqrt(1 - r * r));
  };
  noise(c.noise_pulse, c.noise_pulse_lag, out.pace.pulse_noise_keep, out.pace.pulse_noise_add);
  noise(c.noise_resistance, c.noise_resistance_lag, out.pace.resistance_noise_keep, out.pace.resistance_noise_add);
  out.pace.filling_corner = static_cast<T>(c.filling_smooth * c.filling_smooth / (4 * c.filling_pressure_rest));
  out.pace.oxygen =
      static_cast<T>(c.oxygen_extraction * c.oxygen_per_gram / 1000 * c.oxygen_saturation * c.haemoglobin_in_cells);
  return out;
}
template Physics<float> physics<float>(const Constants<double>&, int);
template Physics<double> physics<double>(const Constants<double>&, int);

void run(const Physics<double>& physics, const Traits<double>& traits, States<double>& states, std::int64_t first,
         std::span<const Signals<double>> signals, std::span<const MinuteNoise<double>> noise, std::size_t members) {
  BlockRun<double>::run(physics, traits, states, first, signals.data(), signals.size(), noise.data(), noise.size(),
                        members);
}

void observe(const Physics<double>& physics, const Traits<double>& traits, const States<double>& states,
             const Signals<double>& signals, Outputs<double>& out, std::size_t members) {
  BlockRun<double>::observe(physics, traits, states, signals, out, members);
}

}  // namespace stanch::physiology
