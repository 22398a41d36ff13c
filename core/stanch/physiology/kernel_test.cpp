// Every width gives the bits of one lane, whatever it is asked; the float exponential's error; bounds.
#include "stanch/physiology/kernel.hpp"

#include <gtest/gtest.h>

#include <cmath>
#include <cstring>

#include "stanch/physiology/normal.hpp"
#include "tests/support/body.hpp"

namespace stanch::physiology {
namespace {

using tests::body_constants;

/// A block of different women, everything switched on at some time.
struct Work {
  Traits<float> traits{};
  States<float> states{};
  Outputs<float> out{};
  std::vector<Signals<float>> signals;
  std::vector<MinuteNoise<float>> noise;
};

void fill(Work& work, std::uint64_t seed, int minutes, const Kernel& kernel) {
  const Random random(seed);
  Plan plan{{5, UterotonicDose{0, 5, 1}},
            {8, TranexamicDose{1, 10}},
            {10, FluidGiven{0, 1000, 20}},
            {20, GarmentSet{1, 1, 1, 1, 1}},
            {40, GarmentSet{0, {}, {}, {}, {}}},
            {45, SignalSet{SignalSet::What::compression, 40}},
            {50, SignalSet{SignalSet::What::surgery, 0.05}}};
  work.signals = as_float(tests::body_signals(plan, minutes));
  work.signals.pop_back();
  for (std::size_t place = 0; place < block_size; ++place) {
    const Words4 draws = random.block(static_cast<std::uint32_t>(place), 0, Stream::prior, 0);
    Parameters woman;
    woman.blood_volume = 3500 + 4000 * uniform(draws[0]);
    woman.bleed_rate = 20 + 800 * uniform(draws[1]);
    woman.pulse_gain = 0.5 + uniform(draws[2]);
    woman.untreated_tone = uniform(draws[3]);
    set_traits(work.traits, place, woman, body_constants());
    set_at_rest(work.states, place, woman, body_constants());
  }
  work.noise.resize(static_cast<std::size_t>(minutes));
  for (std::uint32_t m = 0; m < work.noise.size(); ++m)
    kernel.noise(random, 64, m + 1, 0, Stream::process_noise, work.noise[m]);
}

// 200 random cases: the widths must agree in every bit, on states, readings and the noise itself.
TEST(Kernel, all_widths_give_the_same_bits) {
  const auto physics_float = physics<float>(body_constants(), steps_per_minute);
  ASSERT_GE(kernels().size(), 2U);
  for (std::uint64_t seed = 0; seed < 200; ++seed) {
    const auto answer = [&](const Kernel& kernel) {
      auto work = std::make_unique<Work>();
      fill(*work, seed, 60, kernel);
      kernel.run(physics_float, work->traits, work->states, 0, work->signals, work->noise);
      kernel.observe(physics_float, work->traits, work->states, work->signals.back(), work->out);
      return work;
    };
    const auto narrow = answer(*kernels().front());
    for (const Kernel* kernel : kernels().subspan(1)) {
      const auto wide = answer(*kernel);
      ASSERT_EQ(std::memcmp(&narrow->states, &wide->states, sizeof narrow->states), 0) << kernel->name << ' ' << seed;
      ASSERT_EQ(std::memcmp(&narrow->out, &wide->out, sizeof narrow->out), 0) << kernel->name << ' ' << seed;
    }
  }
}

TEST(Kernel, running_in_pieces_is_running_at_once) {
  const auto physics_float = physics<float>(body_constants(), steps_per_minute);
  const Kernel& kernel = widest_kernel();
  Work whole;
  fill(whole, 3, 60, kernel);
  Work pieces = whole;
  kernel.run(physics_float, whole.traits, whole.states, 0, whole.signals, whole.noise);
  const std::span signals(pieces.signals);
  const std::span noise(pieces.noise);
  const std::size_t cut = 17 * 12 + 5;  // not at a whole minute
  kernel.run(physics_float, pieces.traits, pieces.states, 0, signals.first(cut), noise);
  kernel.run(physics_float, pieces.traits, pieces.states, cut, signals.subspan(cut), noise.subspan(17));
  EXPECT_EQ(std::memcmp(&whole.states, &pieces.states, sizeof whole.states), 0);
}

TEST(Kernel, noise_is_the_blocks_normal) {
  const Random random(99);
  MinuteNoise<float> noise{};
  for (const Kernel* kernel : kernels()) {
    kernel->noise(random, 128, 7, 3, Stream::noise_proposal, noise);
    for (std::uint32_t draw = 0; draw < noises_per_minute; ++draw)
      for (std::uint32_t place = 0; place < block_size; ++place)
        ASSERT_EQ(noise[draw][place], normal_from(random.block(128 + place, 7, Stream::noise_proposal, 3 + draw)));
  }
}

// Against the host's double exp, which is good to far more than float.
TEST(Kernel, exponential_is_within_two_units_in_the_last_place) {
  double worst = 0;
  for (int i = -80000; i <= 80000; ++i) {
    const float x = static_cast<float>(i) * 1e-3F;
    const double exact = std::exp(static_cast<double>(x));
    const double unit = std::ldexp(1.0, std::ilogb(exact) - 23);
    worst = std::max(worst, std::abs(static_cast<double>(exponential<1>(x)) - exact) / unit);
  }
  EXPECT_LT(worst, 2.0);
  EXPECT_EQ(exponential<1>(0.0F), 1.0F);
}

// The slow noise reaches its stated spread: 64 members over 1600 minutes, correlated over 15 and 25 of them.
TEST(Kernel, slow_noise_reaches_its_spread) {
  const auto physics_float = physics<float>(body_constants(), 1);  // one step a minute: only the noise is looked at
  const Kernel& kernel = widest_kernel();
  Work work;
  fill(work, 5, 1, kernel);
  const std::vector<Signals<float>> still(1, Signals<float>{.imposed_bleed = 0, .bleed_by = BleedBy::imposed});
  double pulse = 0;
  double resistance = 0;
  int n = 0;
  for (std::uint32_t minute = 1; minute <= 1700; ++minute) {
    kernel.noise(Random(11), 0, minute, 0, Stream::process_noise, work.noise[0]);
    kernel.run(physics_float, work.traits, work.states, minute - 1, still, work.noise);
    if (minute <= 100) continue;
    for (std::size_t place = 0; place < block_size; ++place, ++n) {
      pulse += static_cast<double>(work.states.pulse_noise[place]) * work.states.pulse_noise[place];
      resistance += static_cast<double>(work.states.resistance_noise[place]) * work.states.resistance_noise[place];
    }
  }
  EXPECT_NEAR(std::sqrt(pulse / n), 4.0, 0.08);
  EXPECT_NEAR(std::sqrt(resistance / n), 0.06, 0.0012);
}

}  // namespace
}  // namespace stanch::physiology
