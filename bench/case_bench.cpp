// bench/case_bench.cpp
//
// How long the core needs for one long case. `bench/run` runs this beside the same work in WebAssembly and makes one
// table; alone: build/bench/bin/stanch_bench --benchmark_filter=...
#include <benchmark/benchmark.h>

#include <ctime>
#include <map>
#include <memory>

#include "bench/case_work.hpp"

namespace stanch::bench {
namespace {

constexpr int takes_in_a_batch = 100;

// Processor time, so that other programs on the machine do not count.
double cpu_seconds() {
  timespec now{};
  clock_gettime(CLOCK_PROCESS_CPUTIME_ID, &now);
  return static_cast<double>(now.tv_sec) + static_cast<double>(now.tv_nsec) * 1e-9;
}

CaseWork& work_of(const benchmark::State& state) {
  static std::map<std::int64_t, std::unique_ptr<CaseWork>> made;
  auto& work = made[state.range(0)];
  if (!work) work = std::make_unique<CaseWork>(static_cast<std::size_t>(state.range(0)));
  return *work;
}

template <std::size_t (CaseWork::*Work)() const>
void whole(benchmark::State& state) {
  const CaseWork& work = work_of(state);
  for (auto _ : state) benchmark::DoNotOptimize((work.*Work)());
  state.SetComplexityN(state.range(0));
}

// One entry more is too short to time alone and changes the state: a batch is timed, on a fresh copy.
template <class Take>
void batch(benchmark::State& state, Take take) {
  CaseWork& work = work_of(state);
  for (auto _ : state) {
    work.begin_taking();
    const double start = cpu_seconds();
    for (int i = 0; i < takes_in_a_batch; ++i) benchmark::DoNotOptimize(take(work));
    state.SetIterationTime((cpu_seconds() - start) / takes_in_a_batch);
  }
}

void take(benchmark::State& state) {
  batch(state, [](CaseWork& work) { return work.take(false); });
}
void take_late(benchmark::State& state) {
  batch(state, [](CaseWork& work) { return work.take(true); });
}
void take_and_advise(benchmark::State& state) {
  batch(state, [](CaseWork& work) { return work.take_and_advise(); });
}

constexpr std::int64_t usual = 2000;

void sizes(benchmark::internal::Benchmark* bench) {
  for (const std::int64_t n : {250, 500, 1000, 2000, 4000, 8000}) bench->Arg(n);
}

BENCHMARK(whole<&CaseWork::parse_json_lines>)->Name("parse_json_lines")->Arg(usual);
BENCHMARK(whole<&CaseWork::read_file>)->Name("read_file")->Arg(usual);
BENCHMARK(whole<&CaseWork::fold>)->Name("fold")->Arg(usual);
BENCHMARK(whole<&CaseWork::advise>)->Name("advise")->Arg(usual);
BENCHMARK(whole<&CaseWork::advise_in_json>)->Name("advise_in_json")->Arg(usual);
BENCHMARK(whole<&CaseWork::answer_request>)->Name("answer_request")->Arg(usual);
BENCHMARK(whole<&CaseWork::fold_and_advise>)->Name("fold_and_advise")->Apply(sizes)->Complexity(benchmark::oN);
BENCHMARK(take)->Arg(usual)->UseManualTime();
BENCHMARK(take_late)->Arg(usual)->UseManualTime();
BENCHMARK(take_and_advise)->Arg(usual)->UseManualTime();

}  // namespace
}  // namespace stanch::bench
