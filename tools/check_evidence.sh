#!/usr/bin/env bash
# Checks that nothing clinical stands without evidence:
#   - each [[rule]] of protocol/default has a case where it holds and one at its boundary (lines `rule: ID holds`,
#     `rule: ID boundary` in protocol/cases/**/*.case);
#   - each [[value]] names its source and its status;
#   - each planned check (C001..C215, E01..E31, F01..F08) stands in a `check:` line of some case;
#   - each case names its source.
# Prints each thing that is missing, and ends with "N passed, N failed".
set -euo pipefail
cd "$(dirname "$0")/.."
shopt -s globstar nullglob
protocols=(protocol/default/*.toml)
cases=(protocol/cases/**/*.case)
[[ ${#protocols[@]} -gt 0 ]] || echo "protocol/default: no .toml file"
[[ ${#cases[@]} -gt 0 ]] || echo "protocol/cases: no .case file"

report=$(mktemp)
trap 'rm -f "$report"' EXIT
awk '
  function judge(ok, what) {
    if (ok) { passed++ } else { failed++; print what }
  }
  function close_value() {
    if (!in_value) return
    judge(value_source != "" && value_status != "", where " value " value_id " has no " \
      (value_source == "" ? "source" : "status"))
    in_value = 0
  }
  function close_case() {
    if (!in_case) return
    judge(has_source, where_case " \"" case_name "\" has no source")
    in_case = 0
  }
  function close_file() {
    close_value(); close_case()
    if (last_file ~ /\.case$/ && cases_in_file == 0) judge(0, last_file ": no line case:")
  }
  function text_of(line) { sub(/^[^=:]*[=:][ \t]*/, "", line); gsub(/^"|"[ \t]*$|[ \t]+$/, "", line); return line }

  FNR == 1 { if (last_file != "") close_file(); last_file = FILENAME; section = ""; cases_in_file = 0 }
  { sub(/\r$/, "") }

  FILENAME ~ /\.toml$/ {
    if ($0 ~ /^[ \t]*\[/) {
      close_value()
      section = $0; gsub(/[][ \t]|#.*/, "", section)
      if (section == "value") { in_value = 1; value_id = "?"; value_source = ""; value_status = ""; where = FILENAME ":" FNR }
      next
    }
    if ($1 == "id") known[text_of($0)] = 1
    if (section == "rule" && $1 == "id") rules[text_of($0)] = FILENAME ":" FNR
    if (section == "value") {
      if ($1 == "id") value_id = text_of($0)
      if ($1 == "source") value_source = text_of($0)
      if ($1 == "status") value_status = text_of($0)
    }
    next
  }

  /^case:/ { close_case(); in_case = 1; has_source = 0; cases_in_file++; case_name = text_of($0); where_case = FILENAME ":" FNR }
  /^[ \t]*source:[ \t]*[^ \t]/ { has_source = 1 }
  /^[ \t]*rule:/ {
    line = text_of($0); n = split(line, word, /[ \t,]+/); kind = word[n]
    for (i = 1; i < n; i++) {
      shown[word[i], kind] = 1
      if (!(word[i] in first_use)) first_use[word[i]] = FILENAME ":" FNR
    }
    if (kind != "holds" && kind != "boundary") judge(0, FILENAME ":" FNR ": rule line ends in neither holds nor boundary")
  }
  /^[ \t]*check:/ { line = text_of($0); n = split(line, word, /[ \t,]+/); for (i = 1; i <= n; i++) checked[word[i]] = 1 }

  END {
    close_file()
    for (id in rules) {
      judge((id, "holds") in shown, rules[id] ": rule " id " has no case where it holds")
      judge((id, "boundary") in shown, rules[id] ": rule " id " has no boundary case")
    }
    for (id in first_use) judge(id in known, first_use[id] ": rule " id " is not in the protocol")
    for (i = 1; i <= 215; i++) { id = sprintf("C%03d", i); judge(id in checked, "check " id " is in no case") }
    for (i = 1; i <= 31; i++) { id = sprintf("E%02d", i); judge(id in checked, "check " id " is in no case") }
    for (i = 1; i <= 8; i++) { id = sprintf("F%02d", i); judge(id in checked, "check " id " is in no case") }
    print passed + 0 " passed, " failed + 0 " failed"
  }
' "${protocols[@]}" "${cases[@]}" /dev/null >"$report"
head -n -1 "$report" | sort
tail -n 1 "$report"
[[ $(tail -n 1 "$report") == *", 0 failed" ]]
