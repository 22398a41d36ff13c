#!/usr/bin/env bash
# Recomputes figures that tests compare with, by other programs than ours (tools/install.sh reference). A script says how
# many figures agree; exit code 77 means that its library is missing, told by a line "skipped: ...".
# Ends with "N passed, N failed". Usage: tests/reference/run.sh
set -uo pipefail
cd "$(dirname "$0")"
passed=0 failed=0
for script in *.py; do
  code=0
  said=$(/usr/bin/python3 "$script" 2>&1) || code=$?
  if [[ $code -eq 77 ]]; then
    echo "skipped: $said"
    continue
  fi
  echo "$said"
  if [[ $said =~ ([0-9]+)\ passed,\ ([0-9]+)\ failed ]]; then
    passed=$((passed + BASH_REMATCH[1])) failed=$((failed + BASH_REMATCH[2]))
  elif [[ $code -eq 0 ]]; then
    passed=$((passed + 1))
  fi
  [[ $code -eq 0 || $said =~ ,\ [1-9][0-9]*\ failed ]] || failed=$((failed + 1))
done
echo "$passed passed, $failed failed"
[[ $failed -eq 0 ]]
