#!/usr/bin/env bash
# Checks the page: types, units, and the browser suite against a real server. Ends with "N passed, N failed".
# STANCH names the server to test against (default build/release/bin/stanch), CHROMIUM the browser.
# Usage: web/test.sh [WORD]   (only browser tests whose name has the word)
set -uo pipefail
cd "$(dirname "$0")"
passed=0 failed=0
note() { if [[ $1 -eq 0 ]]; then passed=$((passed + 1)); else failed=$((failed + 1)); echo "FAIL  $2"; fi; }

./build.sh
note $? "the page is built"
npx tsc --noEmit
note $? "types"

log=$(mktemp)
trap 'rm -f "$log"' EXIT
npx vitest run --reporter=json --outputFile="$log" >/dev/null 2>&1
read -r unit_passed unit_failed < <(node -e '
  const run = JSON.parse(require("fs").readFileSync(process.argv[1], "utf8") || "{}");
  for (const file of run.testResults ?? []) for (const one of file.assertionResults) if (one.status === "failed") console.error("FAIL  " + one.fullName);
  console.log(run.numPassedTests ?? 0, (run.numFailedTests ?? 0) + (run.numFailedTestSuites && !run.numFailedTests ? 1 : 0) + (run.numTotalTests ? 0 : 1));' "$log")
passed=$((passed + unit_passed)) failed=$((failed + unit_failed))

node tests/browser/run.mjs "${1:-}" | tee "$log"
summary=$(tail -n 1 "$log")
if [[ $summary =~ ^([0-9]+)\ passed,\ ([0-9]+)\ failed$ ]]; then
  passed=$((passed + BASH_REMATCH[1])) failed=$((failed + BASH_REMATCH[2]))
else
  note 1 "the browser suite came to its end"
fi
echo "$passed passed, $failed failed"
[[ $failed -eq 0 ]]
