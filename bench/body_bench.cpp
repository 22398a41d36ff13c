// The physiology kernel by width, against general-purpose steppers of the same equations one woman at a time, and the
// time that one set of readings costs. Ratios within one run are what counts.
#include <benchmark/benchmark.h>

#include <array>
#include <boost/numeric/odeint.hpp>
#include <functional>

#include "tests/support/body.hpp"
#include "tests/support/body_slopes.hpp"

namespace {

using namespace stanch::physiology;
using namespace stanch::tests;

constexpr int minutes = 180;
constexpr std::size_t women = 10000;

Plan treated() {
  return {{5, UterotonicDose{body_pharmacy().route("oxytocin", "im").value(), 10, 0}},
          {8, TranexamicDose{1, 10}},
          {10, FluidGiven{body_pharmacy().fluid("crystalloid").value(), 1000, 20}},
          {20, GarmentSet{1, 1, 1, 1, 1}}};
}

void many_members(benchmark::State& state) {
  const auto index = static_cast<std::size_t>(state.range(0));
  if (index >= kernels().size()) return state.SkipWithError("this processor has no such width");
  const Kernel& kernel = *kernels()[index];
  state.SetLabel(kernel.name);
  const auto physics_float = physics<float>(body_constants(), steps_per_minute);
  auto signals = as_float(body_signals(treated(), minutes));
  signals.pop_back();
  const Random random(5);
  std::vector<MinuteNoise<float>> noise(minutes);
  for (auto _ : state) {
    for (std::uint32_t first = 0; first < women; first += block_size) {
      Traits<float> traits;
      States<float> states;
      for (std::size_t place = 0; place < block_size; ++place) {
        Parameters woman;
        woman.bleed_rate = 60 + 3 * static_cast<double>(place);
        set_traits(traits, place, woman, body_constants());
        set_at_rest(states, place, woman, body_constants());
      }
      for (std::uint32_t m = 0; m < minutes; ++m)
        kernel.noise(random, first, m + 1, 0, Stream::process_noise, noise[m]);
      kernel.run(physics_float, traits, states, 0, signals, noise);
      benchmark::DoNotOptimize(states);
    }
  }
  state.counters["member_steps"] = benchmark::Counter(static_cast<double>(women) * minutes * steps_per_minute,
                                                      benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(many_members)->DenseRange(0, 3)->Unit(benchmark::kMillisecond);

/// One woman by Odeint's adaptive fifth-order stepper, to the error that steps of 5 s have.
void one_woman_odeint(benchmark::State& state) {
  const auto signals = body_signals(treated(), minutes);
  for (auto _ : state) {
    auto y = resting_state(Parameters{});
    namespace odeint = boost::numeric::odeint;
    Slopes slopes(Parameters{}, signals);
    // The signals jump at each step's edge, so the stepper is given one minute at a time.
    for (int minute = 0; minute < minutes; ++minute)
      odeint::integrate_adaptive(odeint::make_controlled<odeint::runge_kutta_dopri5<BodyState>>(1e-4, 1e-4),
                                 std::ref(slopes), y, static_cast<double>(minute), minute + 1.0, 0.1);
    benchmark::DoNotOptimize(y);
  }
}
BENCHMARK(one_woman_odeint)->Unit(benchmark::kMicrosecond);

/// One more set of readings for a case of so many minutes, read every ten.
void one_more_reading(benchmark::State& state) {
  const auto members = static_cast<std::size_t>(state.range(0));
  const auto last = static_cast<int>(state.range(1));
  BodyCase body;
  body.prior = body_model().prior;
  body.plan = treated();
  body.settings = {members, 7, 8};
  for (int minute = 10; minute < last; minute += 10)
    body.sets.push_back({minute * steps_per_minute,
                         {{ReadingKind::pulse, 98.0 + minute % 7},
                          {ReadingKind::systolic, 104.0 - minute % 5},
                          {ReadingKind::diastolic, 66},
                          {ReadingKind::loss, 500.0 + 3 * minute}}});
  const Filter before = estimate(body_model(), body, Workers());
  const auto signals = as_float(body_signals(body.plan, last));
  const ReadingSet set{last * steps_per_minute,
                       {{ReadingKind::pulse, 114},
                        {ReadingKind::systolic, 88},
                        {ReadingKind::diastolic, 65},
                        {ReadingKind::loss, 500.0 + 3 * last}}};
  for (auto _ : state) {
    Filter filter = before;
    filter.take(signals, set, Workers());
    benchmark::DoNotOptimize(filter.step());
    state.counters["stages"] = filter.reports().back().stages;
  }
}
BENCHMARK(one_more_reading)
    ->Args({1000, 90})
    ->Args({2000, 30})
    ->Args({2000, 90})
    ->Args({2000, 180})
    ->Args({2000, 360})
    ->Unit(benchmark::kMillisecond);

/// The processor's own speed at what the kernel does: multiplications and additions of 16 floats, not fused.
#if defined(__x86_64__)
__attribute__((target("avx512f"))) void peak_16(benchmark::State& state) {
  if (!__builtin_cpu_supports("avx512f")) return state.SkipWithError("no 16 lanes");
  using V = float __attribute__((vector_size(64)));
  std::array<V, 12> x{};
  for (auto& v : x) v += 1.0F;
  const V a = V{} + 0.999999F;
  const V b = V{} + 1e-6F;
  for (auto _ : state) {
    auto y = x;  // kept in registers while the loop runs
    for (int i = 0; i < 1000; ++i) {
#pragma GCC unroll 12
      for (std::size_t k = 0; k < y.size(); ++k) {
        y[k] = y[k] * a;
        y[k] = y[k] + b;
      }
    }
    x = y;
    benchmark::DoNotOptimize(x);
  }
  state.counters["flops"] = benchmark::Counter(1000.0 * 12 * 2 * 16, benchmark::Counter::kIsIterationInvariantRate);
}
BENCHMARK(peak_16);
#endif

}  // namespace
