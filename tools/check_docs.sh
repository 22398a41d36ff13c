#!/usr/bin/env bash
# Keeps the documents true. In README.md and docs/**/*.md:
#   - each `$ stanch ...` line of a ```console block is run as if from the repository's root (what a page's commands
#     write goes to a folder that is thrown away) and must end with 0, or with the code stated as `# exit N`;
#   - what stands below the command must be what it prints (its errors after its output); a line `...` stands for any
#     number of lines, none too; nothing below the command leaves its output free;
#   - each relative link leads to a file.
# Usage: tools/check_docs.sh [FOLDER_OF_THE_COMMAND]   (default build/release/bin). Ends with "N passed, N failed".
set -uo pipefail
cd "$(dirname "$0")/.."
PATH="$PWD/${1:-build/release/bin}:$PATH"
shopt -s globstar nullglob

scratch=$(mktemp -d)
trap 'rm -rf "$scratch"' EXIT
fresh_folder() {
  rm -rf "$scratch/page"
  mkdir "$scratch/page"
  local folder
  for folder in demo docs protocol; do
    [[ ! -e $folder ]] || ln -s "$PWD/$folder" "$scratch/page/$folder"
  done
}

passed=0 failed=0
fail() {
  echo "$1"
  failed=$((failed + 1))
}

# Whether the output is as the page says. Each "..." lets any number of whole lines pass; between two of them the lines
# must stand as they are.
matches() {
  local wanted=$1 got=$2 line rest
  local -a pieces=('')
  while IFS= read -r line; do
    if [[ $line == ... ]]; then pieces+=(''); else pieces[-1]+="$line"$'\n'; fi
  done <<<"$wanted"
  rest="$got"$'\n'
  [[ -n $got ]] || rest=''
  if [[ ${#pieces[@]} -eq 1 ]]; then
    [[ $rest == "${pieces[0]}" ]]
    return
  fi
  [[ ${rest:0:${#pieces[0]}} == "${pieces[0]}" ]] || return 1
  rest=$'\n'"${rest:${#pieces[0]}}"
  local i piece
  for ((i = 1; i < ${#pieces[@]} - 1; i++)); do
    piece=$'\n'"${pieces[i]}"
    [[ $rest == *"$piece"* ]] || return 1
    rest=$'\n'"${rest#*"$piece"}"
  done
  [[ $rest == *$'\n'"${pieces[-1]}" ]]
}

run_command() {
  local where=$1 command=$2 wanted=$3 code=0 wanted_code=0 got
  if [[ $command =~ ^(.*[^[:space:]])[[:space:]]+#[[:space:]]exit[[:space:]]([0-9]+)$ ]]; then
    command=${BASH_REMATCH[1]} wanted_code=${BASH_REMATCH[2]}
  fi
  got=$(cd "$scratch/page" && timeout 60 bash -c "$command" 2>"$scratch/errors" </dev/null) || code=$?
  [[ ! -s $scratch/errors ]] || got+="${got:+$'\n'}$(<"$scratch/errors")"
  if [[ $code -ne $wanted_code ]]; then
    fail "$where: \$ $command"$'\n'"  ended with $code, the page says $wanted_code"$'\n'"${got:0:1000}"
  elif [[ -n $wanted ]] && ! matches "$wanted" "$got"; then
    fail "$where: \$ $command"$'\n'"--- the page says"$'\n'"$wanted"$'\n'"--- the command says"$'\n'"${got:0:4000}"
  else
    passed=$((passed + 1))
  fi
}

check_page() {
  local page=$1 number=0 in_block=0 command='' where='' wanted='' line
  finish() {
    [[ -z $command ]] || run_command "$where" "$command" "$wanted"
    command='' wanted=''
  }
  while IFS= read -r line || [[ -n $line ]]; do
    number=$((number + 1))
    if ((!in_block)); then
      [[ $line != '```console' ]] || in_block=1
    elif [[ $line == '```' ]]; then
      finish
      in_block=0
    elif [[ $line == '$ '* ]]; then
      finish
      [[ $line != '$ stanch '* ]] || { command=${line#'$ '} where=$page:$number; }
    elif [[ -n $command ]]; then
      wanted+="${wanted:+$'\n'}$line"
    fi
  done <"$page"
}

check_links() {
  local page=$1 link target
  while IFS= read -r link; do
    target=${link%%#*}
    [[ -n $target && $target != *://* && $target != mailto:* ]] || continue
    if [[ -e $(dirname "$page")/$target ]]; then passed=$((passed + 1)); else fail "$page: link to $target leads nowhere"; fi
  done < <(awk '/^```/ { code = !code } !code { gsub(/`[^`]*`/, ""); print }' "$page" | grep -oP '\]\(\K[^)\s]+' || true)
}

for page in README.md CONTRIBUTING.md docs/**/*.md; do
  [[ -e $page ]] || continue
  fresh_folder
  check_page "$page"
  check_links "$page"
done
echo "$passed passed, $failed failed"
[[ $failed -eq 0 ]]
