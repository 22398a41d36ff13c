// The one source of every width: included by kernel_<width>.cpp, each compiled for its own processor. Nothing in here
// may be shared between those files, so all templates depend on the width.
#pragma once

#include "stanch/base/elementary.hpp"
#include "stanch/physiology/kernel.hpp"

namespace stanch::physiology {

template <class V>
struct BlockRun {
  using T = Scalar<V>;

  /// 7.3: once a minute the slow noise moves on.
  static void tick(const Physics<T>& physics, const Traits<T>& m, States<T>& s, const MinuteNoise<T>* noise,
                   std::size_t members) {
    for (std::size_t at = 0; at < members; at += lanes_of<V>) {
      const auto of = [at](const Row<T>& row) { return load<V>(row.data() + at); };
      V log_bleed = of(s.log_bleed) - of(m.bleed_decline);
      V pulse_noise = of(s.pulse_noise) * physics.pace.pulse_noise_keep;
      V resistance_noise = of(s.resistance_noise) * physics.pace.resistance_noise_keep;
      if (noise != nullptr) {
        pulse_noise = pulse_noise + physics.pace.pulse_noise_add * of((*noise)[0]);
        resistance_noise = resistance_noise + physics.pace.resistance_noise_add * of((*noise)[1]);
        log_bleed = log_bleed + physics.constants.noise_bleed * of((*noise)[2]);
      }
      store<V>(s.log_bleed.data() + at, log_bleed);
      store<V>(s.pulse_noise.data() + at, pulse_noise);
      store<V>(s.resistance_noise.data() + at, resistance_noise);
      store<V>(s.bleed_factor.data() + at, grow(log_bleed));
    }
  }

  static void run(const Physics<T>& physics, const Traits<T>& traits, States<T>& states, std::int64_t first,
                  const Signals<T>* signals, std::size_t steps, const MinuteNoise<T>* noise, std::size_t minutes,
                  std::size_t members) {
    const std::int64_t per_minute = physics.pace.steps_per_minute;
    const std::int64_t first_minute = first / per_minute;
    for (std::size_t i = 0; i < steps; ++i) {
      for (std::size_t at = 0; at < members; at += lanes_of<V>)
        step<V>(physics.constants, physics.pace, traits, states, at, signals[i]);
      const std::int64_t next = first + static_cast<std::int64_t>(i) + 1;
      if (next % per_minute != 0) continue;
      const auto minute = static_cast<std::size_t>(next / per_minute - first_minute - 1);
      tick(physics, traits, states, minute < minutes ? noise + minute : nullptr, members);
    }
  }

  static void observe(const Physics<T>& physics, const Traits<T>& traits, const States<T>& s, const Signals<T>& signals,
                      Outputs<T>& out, std::size_t members) {
    const T form = physics.constants.form_factor;
    for (std::size_t at = 0; at < members; at += lanes_of<V>) {
      const auto of = [at](const Row<T>& row) { return load<V>(row.data() + at); };
      const auto put = [at](Row<T>& row, V value) { store<V>(row.data() + at, value); };
      const Circulation<V> o = circulation<V>(physics.constants, physics.pace, traits, s, at, signals);
      const V systolic = o.mean + (T(1) - form) * o.pulse_pressure;
      put(out.pulse, o.pulse);
      put(out.systolic, systolic);
      put(out.diastolic, o.mean - form * o.pulse_pressure);
      put(out.mean_pressure, o.mean);
      put(out.shock_index, o.pulse / systolic);
      put(out.output, o.output);
      put(out.stroke_volume, o.stroke);
      put(out.filling_pressure, o.filling);
      put(out.volume, o.volume);
      put(out.deficit_percent, T(100) * (T(1) - o.share));
      put(out.loss, of(s.loss));
      put(out.bleed, o.bleed);
      put(out.haemoglobin, physics.constants.haemoglobin_in_cells * o.haematocrit);
      put(out.fibrinogen, o.fibrinogen);
      put(out.platelets, T(1000) * of(s.platelets) * o.per_volume);
      put(out.lactate, of(s.lactate));
      put(out.tone, of(s.tone));
      put(out.failure, of(s.failure));
      put(out.garment_volume, o.moved);
      put(out.urine, of(s.urine));
    }
  }

 private:
  static V grow(V log_bleed);
};

/// The entry points of one width.
template <int width>
struct FloatKernel {
  using V = LaneType<width>::Float;
  static void run(const Physics<float>& physics, const Traits<float>& traits, States<float>& states, std::int64_t first,
                  std::span<const Signals<float>> signals, std::span<const MinuteNoise<float>> noise) {
    BlockRun<V>::run(physics, traits, states, first, signals.data(), signals.size(), noise.data(), noise.size(),
                     block_size);
  }
  static void observe(const Physics<float>& physics, const Traits<float>& traits, const States<float>& states,
                      const Signals<float>& signals, Outputs<float>& out) {
    BlockRun<V>::observe(physics, traits, states, signals, out, block_size);
  }
  /// Philox on all places of a block at once: plain loops over words, which the compiler turns into lanes.
  static void noise(const Random& random, std::uint32_t first_member, std::uint32_t index, std::uint32_t first_draw,
                    Stream stream, MinuteNoise<float>& out) {
    for (std::uint32_t draw = 0; draw < noises_per_minute; ++draw) {
      std::uint32_t c0[block_size];
      std::uint32_t c1[block_size];
      std::uint32_t c2[block_size];
      std::uint32_t c3[block_size];
      for (std::uint32_t m = 0; m < block_size; ++m) {
        c0[m] = first_member + m;
        c1[m] = index;
        c2[m] = static_cast<std::uint32_t>(stream);
        c3[m] = first_draw + draw;
      }
      std::uint32_t k0 = random.key_0();
      std::uint32_t k1 = random.key_1();
      for (int round = 0; round < 10; ++round) {
        for (std::uint32_t m = 0; m < block_size; ++m) {
          const std::uint64_t p0 = std::uint64_t{philox_multiplier_0} * c0[m];
          const std::uint64_t p1 = std::uint64_t{philox_multiplier_1} * c2[m];
          c0[m] = static_cast<std::uint32_t>(p1 >> 32U) ^ c1[m] ^ k0;
          c1[m] = static_cast<std::uint32_t>(p1);
          c2[m] = static_cast<std::uint32_t>(p0 >> 32U) ^ c3[m] ^ k1;
          c3[m] = static_cast<std::uint32_t>(p0);
        }
        k0 += philox_bump_0;
        k1 += philox_bump_1;
      }
      for (std::uint32_t m = 0; m < block_size; ++m) {
        const std::uint32_t sum = (c0[m] & 0xFFFFU) + (c0[m] >> 16U) + (c1[m] & 0xFFFFU) + (c1[m] >> 16U) +
                                  (c2[m] & 0xFFFFU) + (c2[m] >> 16U) + (c3[m] & 0xFFFFU) + (c3[m] >> 16U);
        out[draw].data()[m] = static_cast<float>(static_cast<std::int32_t>(sum) - 262140) * 1.8688124e-5F;
      }
    }
  }
};

template <class V>
V BlockRun<V>::grow(V log_bleed) {
  if constexpr (std::is_same_v<V, double>) {
    return elementary::exp(log_bleed);
  } else {
    return exponential<static_cast<int>(lanes_of<V>)>(log_bleed);
  }
}

template <int width>
inline constexpr Kernel kernel_of_width{width == 1   ? "1 lane"
                                        : width == 4 ? "4 lanes"
                                        : width == 8 ? "8 lanes"
                                                     : "16 lanes",
                                        width, &FloatKernel<width>::run, &FloatKernel<width>::observe,
                                        &FloatKernel<width>::noise};

}  // namespace stanch::physiology
