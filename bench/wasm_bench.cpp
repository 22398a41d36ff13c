// bench/wasm_bench.cpp
//
// The timed work as plain C functions, for a module that is built only for benchmarks (bench/wasm_case.mjs times it).
#include <cstdint>
#include <memory>

#include "bench/case_work.hpp"

#define STANCH_EXPORT(name) extern "C" __attribute__((export_name(name)))

namespace {

std::unique_ptr<stanch::bench::CaseWork> work;

std::uint32_t small(std::size_t size) { return static_cast<std::uint32_t>(size); }

}  // namespace

STANCH_EXPORT("prepare") void bench_prepare(std::uint32_t n) { work = std::make_unique<stanch::bench::CaseWork>(n); }
STANCH_EXPORT("parse_json_lines") std::uint32_t bench_parse_json_lines() { return small(work->parse_json_lines()); }
STANCH_EXPORT("read_file") std::uint32_t bench_read_file() { return small(work->read_file()); }
STANCH_EXPORT("fold") std::uint32_t bench_fold() { return small(work->fold()); }
STANCH_EXPORT("advise") std::uint32_t bench_advise() { return small(work->advise()); }
STANCH_EXPORT("advise_in_json") std::uint32_t bench_advise_in_json() { return small(work->advise_in_json()); }
STANCH_EXPORT("fold_and_advise") std::uint32_t bench_fold_and_advise() { return small(work->fold_and_advise()); }
STANCH_EXPORT("answer_request") std::uint32_t bench_answer_request() { return small(work->answer_request()); }
STANCH_EXPORT("begin_taking") void bench_begin_taking() { work->begin_taking(); }
STANCH_EXPORT("take") std::uint32_t bench_take() { return small(work->take(false)); }
STANCH_EXPORT("take_late") std::uint32_t bench_take_late() { return small(work->take(true)); }
STANCH_EXPORT("take_and_advise") std::uint32_t bench_take_and_advise() { return small(work->take_and_advise()); }
