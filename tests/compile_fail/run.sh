#!/usr/bin/env bash
# Proves that misuse does not compile. Each .cpp here is compiled twice: with -DVALID it must compile, without it must
# not; the first shows that the second fails for the misuse and not for a misspelling.
# Usage: tests/compile_fail/run.sh [BUILD_DIR]   (whose generated headers are used; default build/release)
set -uo pipefail
cd "$(dirname "$0")/../.."
build=${1:-build/release}
log=$(mktemp)
trap 'rm -f "$log"' EXIT

compile() {
  "${CXX:-g++}" -std=c++20 -fsyntax-only -Wall -Wextra -Werror -DJSON_NOEXCEPTION=1 -fno-exceptions -fno-rtti \
    -Icore -I"$build/generated" "$@" >"$log" 2>&1
}

passed=0 failed=0
for file in tests/compile_fail/*.cpp; do
  [[ -e $file ]] || break
  if ! compile -DVALID "$file"; then
    echo "$file: does not compile with VALID defined"
    head -n 20 "$log"
    failed=$((failed + 1))
  elif compile "$file"; then
    echo "$file: compiles, and must not"
    failed=$((failed + 1))
  else
    passed=$((passed + 1))
  fi
done
echo "$passed passed, $failed failed"
[[ $failed -eq 0 ]]
