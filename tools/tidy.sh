#!/usr/bin/env bash
# Runs clang-tidy over the core, the server and the command line, a file only when it, a header it includes or the settings have
# changed since it was last found clean (marks in build/tidy). Needs a native build. Usage: tools/tidy.sh [BUILD_DIR]
# Ends with how many files are clean and how many are not.
set -uo pipefail
cd "$(dirname "$0")/.."
build=${1:-build/release}
marks=build/tidy
mkdir -p "$marks"

# "source dependency..." for each object of the build, from what the compiler itself reported.
dependencies() {
  ninja -C "$build" -t deps | awk -v root="$PWD/" -v build="$PWD/$build/" '
    function flush() { if (source != "") print source, list }
    /^[^ ].*: #deps/ { flush(); source = ""; list = ""; next }
    /^ / {
      file = $1
      if (substr(file, 1, 1) != "/") file = build file
      while (sub(/[^\/]+\/\.\.\//, "", file)) {}
      if (substr(file, 1, length(root)) != root) next
      file = substr(file, length(root) + 1)
      if (source == "") source = file
      list = list " " file
    }
    END { flush() }' | sort -u
}

settings=$({ clang-tidy-22 --version && cat .clang-tidy cmake/flags.cmake; } | sha256sum)
declare -A key
todo=() passed=0
while read -r source list; do
  [[ $source == core/stanch/* || $source == server/* || $source == cli/* ]] && [[ $source != *_test.cpp ]] || continue
  # shellcheck disable=SC2086  # the list is words
  key[$source]=$({ echo "$settings" && cat $list; } | sha256sum | cut -c 1-64)
  if [[ -e $marks/${key[$source]} ]]; then passed=$((passed + 1)); else todo+=("$source"); fi
done < <(dependencies)

check_one() {
  local log
  # clang 22 doesn't tell Asio 1.74 by itself that it has coroutines.
  log=$(clang-tidy-22 -p "$1" --quiet --extra-arg=-DBOOST_ASIO_HAS_CO_AWAIT=1 \
    --extra-arg=-DBOOST_ASIO_HAS_STD_COROUTINE=1 "$2" 2>/dev/null) && { touch "$3" && exit 0; }
  echo "$2: clang-tidy"
  echo "$log"
  exit 1
}
export -f check_one

failed=0
if [[ ${#todo[@]} -gt 0 ]]; then
  for source in "${todo[@]}"; do printf '%s\0%s\0%s\0' "$build" "$source" "$marks/${key[$source]}"; done |
    xargs -0 -n 3 -P "$(nproc)" bash -c 'check_one "$@"' check_one
  for source in "${todo[@]}"; do
    if [[ -e $marks/${key[$source]} ]]; then passed=$((passed + 1)); else failed=$((failed + 1)); fi
  done
fi
if [[ $((passed + failed)) -eq 0 ]]; then
  echo "tidy: $build holds no object of the core; build first"
  failed=1
fi
echo "$passed files clean, $failed not"
[[ $failed -eq 0 ]]
