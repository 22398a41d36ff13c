#!/usr/bin/env bash
# Measures the garment pool's planning and prints its figures: spreading and simulation natively, how spreading grows with
# the number of facilities, and the same shelf played by SimPy in turns with ours on the same machine.
# Usage: bench/garments.sh [REPETITIONS]     (default 5; needs tools/install.sh build bench)
set -euo pipefail
cd "$(dirname "$0")/.."
repetitions=${1:-5}
tools/install.sh build bench
mkdir -p build/log
{
  cmake --preset bench -DSTANCH_TESTS=OFF && cmake --build --preset bench -j "$(nproc)" --target stanch_bench
} >build/log/bench_garments.log 2>&1 || { tail -n 40 build/log/bench_garments.log >&2 && exit 1; }
median() { sort -g | awk '{ line[NR] = $1 } END { print line[int((NR + 1) / 2)] }'; }

echo "$(nproc) x$(grep -m1 'model name' /proc/cpuinfo | cut -d: -f2); load at the start $(cut -d' ' -f1 /proc/loadavg); medians of $repetitions, processor time"
build/bench/bin/stanch_bench --benchmark_filter='spread_garments|drifting|simulate' --benchmark_repetitions="$repetitions" \
  --benchmark_min_time=0.1 --benchmark_report_aggregates_only=true --benchmark_format=json >build/log/bench_garments.json
python3 - build/log/bench_garments.json <<'PY'
import json, sys
print("\n| work | ms | events/s |\n| --- | ---: | ---: |")
for row in json.load(open(sys.argv[1]))["benchmarks"]:
    if row.get("aggregate_name") == "median":
        rate = f"{row['events/s'] / 1e6:.1f} million" if "events/s" in row else ""
        print(f"| {row['run_name']} | {row['cpu_time']:.2f} | {rate} |")
PY

# One of ours and one of SimPy's by turns, so that a busy machine is busy for both.
ratios=$(for _ in $(seq "$repetitions"); do
  ours=$(build/bench/bin/stanch_bench --benchmark_filter=simulate_one_shelf --benchmark_min_time=0.1 --benchmark_format=json |
    python3 -c 'import json, sys; row = json.load(sys.stdin)["benchmarks"][0]; print(row["events/s"], row["women/s"])')
  echo "$ours $(/usr/bin/python3 bench/simpy_shelf.py 100000)"
done)
echo
echo "the same shelf: events/s ours $(awk '{ print $1 }' <<<"$ratios" | median), SimPy $(awk '{ print $3 }' <<<"$ratios" | median)," \
  "ratio $(awk '{ print $1 / $3 }' <<<"$ratios" | median); women/s ratio $(awk '{ print $2 / $4 }' <<<"$ratios" | median)"
