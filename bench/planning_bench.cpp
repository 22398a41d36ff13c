// bench/planning_bench.cpp
//
// How long the garment pool's planning takes, and how it grows with the number of facilities. bench/garments.sh runs
// this beside SimPy and makes the tables.
#include <benchmark/benchmark.h>

#include <vector>

#include "stanch/planning/allocation.hpp"
#include "stanch/planning/closed_network.hpp"
#include "stanch/planning/simulation.hpp"

namespace stanch::bench {
namespace {

using namespace planning;

// Facilities as different as those of a nation, the same as in the tests.
double women_per_month(int i) { return 0.2 + ((37 * i) % 101) / 25.0; }
double days_away(int i) { return 3.0 + (53 * i) % 29; }

std::vector<Shelf> shelves(int n) {
  std::vector<Shelf> out;
  for (int i = 0; i < n; ++i) out.push_back({women_per_month(i % 2929), days_away(i % 2929)});
  return out;
}

void spread_garments(benchmark::State& state) {
  const auto all = shelves(static_cast<int>(state.range(0)));
  for (auto _ : state)
    benchmark::DoNotOptimize(spread_for_fewest_missed(all, 4 * static_cast<int>(state.range(0)))->missed_per_month);
  state.SetComplexityN(state.range(0));
}

void drifting(benchmark::State& state) {
  constexpr int n = 1000;
  std::vector<Station> stations;
  for (int i = 0; i < n; ++i) stations.push_back({women_per_month(i), 1.0 / n});
  for (auto _ : state) benchmark::DoNotOptimize(drifting_garments(stations, 10, 5000)->uses_per_month);
}

void run(benchmark::State& state, const SimulationSetup& setup) {
  double events = 0.0;
  double women = 0.0;
  for (auto _ : state) {
    const SimulationOutcome out = Simulation::prepare(setup)->run();
    events += static_cast<double>(out.n_events);
    women += out.all.women_per_year * setup.days / 365.25;
  }
  state.counters["events/s"] = benchmark::Counter(events, benchmark::Counter::kIsRate);
  state.counters["women/s"] = benchmark::Counter(women, benchmark::Counter::kIsRate);
}

// The shelf that bench/simpy_shelf.py plays: four garments, two on their way on average.
void simulate_one_shelf(benchmark::State& state) {
  SimulationSetup setup;
  setup.shelves = {{.per_month = 1, .garments = 4, .out_days = 2 * 30.4375}};
  setup.days = 300'000 * 30.4375;
  run(state, setup);
}

// Ten thousand facilities for ten years, about 2.6 million women.
void simulate_a_nation(benchmark::State& state) {
  SimulationSetup setup;
  for (int i = 0; i < 10'000; ++i)
    setup.shelves.push_back({.per_month = women_per_month(i),
                             .garments = 4,
                             .out_days = 0.5 * days_away(i),
                             .clean_days = 1,
                             .back_days = 0.5 * days_away(i),
                             .trip_every_days = i % 2 == 0 ? 7.0 : 0.0});
  setup.days = 10 * 365.25;
  run(state, setup);
}

BENCHMARK(spread_garments)
    ->Arg(1'000)
    ->Arg(10'000)
    ->Arg(100'000)
    ->Arg(1'000'000)
    ->Complexity(benchmark::oNLogN)
    ->Unit(benchmark::kMillisecond);
BENCHMARK(drifting)->Unit(benchmark::kMillisecond);
BENCHMARK(simulate_one_shelf)->Unit(benchmark::kMillisecond);
BENCHMARK(simulate_a_nation)->Unit(benchmark::kMillisecond);

}  // namespace
}  // namespace stanch::bench
