#!/usr/bin/env bash
# Measures the server beside what it stands on, each pair one right after the other on the same machine, and prints
# medians and ratios: entries stored durably a second beside SQLite itself with the same group commit; how long an entry takes
# to two hundred open pages; JSON answers a second beside nginx with a file of the same size on the same cores.
# Usage: bench/server.sh [RUNS] [SECONDS]     (default 5 runs of 2 s; needs tools/install.sh build bench)
set -euo pipefail
cd "$(dirname "$0")/.."
runs=${1:-5} seconds=${2:-2}
tools/install.sh build bench
mkdir -p build/log
{
  cmake --preset bench -DSTANCH_TESTS=OFF && cmake --build --preset bench -j "$(nproc)" --target stanch intake live
} >build/log/bench_server.log 2>&1 || { tail -n 40 build/log/bench_server.log >&2 && exit 1; }
bin=$PWD/build/bench/bin
work=$(mktemp -d -p build)
work=$PWD/$work
started=()
cleanup() {
  for one in "${started[@]}"; do kill "$one" 2>/dev/null || true; done
  wait
  rm -rf "$work"
}
trap cleanup EXIT
# The middle line of those read, by the column given.
median() { sort -g -k "$1" | awk '{ line[NR] = $0 } END { print line[int((NR + 1) / 2)] }'; }

echo "$(nproc) x$(grep -m1 'model name' /proc/cpuinfo | cut -d: -f2); load at the start $(cut -d' ' -f1 /proc/loadavg); medians of $runs runs of $seconds s"
echo
echo "| phones at once | entries in a batch | server, entries/s | SQLite itself, entries/s | ratio | entries a commit |"
echo "| --- | --- | --- | --- | --- | --- |"
for load in "16 1" "64 1" "16 20" "16 200"; do
  read -r connections batch <<<"$load"
  read -r server sqlite ratio group < <(for _ in $(seq "$runs"); do "$bin/intake" "$bin/stanch" "$connections" "$batch" "$seconds"; done | median 3)
  echo "| $connections | $batch | $server | $sqlite | $ratio | $group |"
done

echo
echo "| pages with a live stream | entries, five a second | median, ms | 95th | 99th | longest |"
echo "| --- | --- | --- | --- | --- | --- |"
read -r middle high higher longest < <(for _ in $(seq "$runs"); do "$bin/live" "$bin/stanch" 200 50; done | median 3)
echo "| 200 | 50 | $middle | $high | $higher | $longest |"

"$bin/stanch" serve --data "$work/data" --port 0 --practice >"$work/out" 2>/dev/null &
started+=($!)
until grep -q '^Code' "$work/out"; do sleep 0.1; done
address=$(grep -oP '^Open \Khttp://[^/]*' "$work/out" | head -n 1)
code=$(sed -n 's/^Code for a new device: //p' "$work/out")
token=$(curl -s "$address/api/enrol" -d "{\"code\":\"$code\",\"device\":\"bench\"}" | grep -oP '"token":"\K[0-9a-f]+')

mkdir -p "$work/files"
cat >"$work/nginx.conf" <<CONF
worker_processes $(nproc);
pid $work/nginx.pid;
error_log /dev/null;
events { worker_connections 1024; }
http {
  access_log off; default_type application/json; keepalive_requests 1000000000;
  server { listen 127.0.0.1:18749; root $work/files; }
}
CONF
nginx -c "$work/nginx.conf" -g 'daemon off;' 2>/dev/null &
started+=($!)
sleep 0.5

rate() {
  local address=$1
  shift
  wrk -t1 -c64 -d"${seconds}s" "$@" "$address" | sed -n 's/^Requests\/sec: *//p'
}
echo
echo "| answer | bytes | server, requests/s | nginx with a file of that size, requests/s | ratio |"
echo "| --- | --- | --- | --- | --- |"
cursor=$(curl -s "$address/health" | grep -oP '"cursor":\K[0-9]+')
for path in /health "/api/entries?after=$((cursor - 1))" "/api/entries?after=$((cursor - 20))"; do
  curl -s -H "Authorization: Bearer $token" "$address$path" >"$work/files/answer"
  bytes=$(stat -c %s "$work/files/answer")
  chmod -R a+rX "$work"
  read -r server nginx ratio < <(for _ in $(seq "$runs"); do
    ours=$(rate "$address$path" -H "Authorization: Bearer $token")
    theirs=$(rate http://127.0.0.1:18749/answer)
    echo "$ours $theirs $(awk "BEGIN { print $ours / $theirs }")"
  done | median 3)
  echo "| \`${path%%\?*}\`$([[ $path != *\?* ]] || echo ", $((cursor - ${path##*=})) entries") | $bytes | $server | $nginx | $ratio |"
done
