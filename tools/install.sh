#!/usr/bin/env bash
# Installs what a named list needs on Debian 12, and nothing when all of it is there already (then no network is used).
# Usage: tools/install.sh LIST...    lists: build, wasm, web, browser, test, package, reference, bench
set -euo pipefail

build=(g++ cmake ninja-build ccache nlohmann-json3-dev libtomlplusplus-dev libcli11-dev libfmt-dev libexpected-dev
  libboost-dev libsqlite3-dev libssl-dev libqrcodegencpp-dev)
wasm=(clang-22 lld-22 libc++-22-dev-wasm32 libclang-rt-22-dev-wasm32)
test=(libgtest-dev librapidcheck-dev libmpfr-dev zlib1g-dev clang-format-22 clang-tidy-22)
reference=(python3-scipy python3-mpmath python3-simpy python3-jwcrypto zbar-tools qrencode)
bench=(libbenchmark-dev wrk nginx-light python3-simpy)
package=(dpkg-dev fakeroot curl debootstrap)
browser=(chromium)

# node_is_at_least MAJOR MINOR
node_is_at_least() {
  local version major rest
  version=$(node --version 2>/dev/null) || return 1
  version=${version#v}
  major=${version%%.*}
  rest=${version#*.}
  [[ $major -gt $1 || ($major -eq $1 && ${rest%%.*} -ge $2) ]]
}

wanted=()
for list in "$@"; do
  case $list in
    build) wanted+=("${build[@]}") ;;
    wasm)
      wanted+=("${wasm[@]}")
      node_is_at_least 18 0 || wanted+=(nodejs)
      ;;
    web)
      # Debian 12's node is too old to build the page; web/build.sh then takes a newer one from npm.
      command -v npm >/dev/null || wanted+=(npm)
      command -v node >/dev/null || wanted+=(nodejs)
      ;;
    browser) wanted+=("${browser[@]}") ;;
    test) wanted+=("${test[@]}") ;;
    reference) wanted+=("${reference[@]}") ;;
    package) wanted+=("${package[@]}") ;;
    bench) wanted+=("${bench[@]}") ;;
    *)
      echo "install: no list '$list'; lists are build, wasm, web, browser, test, package, reference, bench" >&2
      exit 2
      ;;
  esac
done

if ! command -v dpkg-query >/dev/null || ! command -v apt-get >/dev/null; then
  echo "install: this script installs with apt and this system has none; install by hand: ${wanted[*]}" >&2
  exit 1
fi

missing=()
for package in "${wanted[@]}"; do
  [[ $(dpkg-query -W -f '${db:Status-Status}' "$package" 2>/dev/null) == installed ]] || missing+=("$package")
done
[[ ${#missing[@]} -gt 0 ]] || exit 0

as_root=()
if [[ $(id -u) -ne 0 ]]; then
  if ! command -v sudo >/dev/null; then
    echo "install: run this as root, or install sudo: these packages are missing: ${missing[*]}" >&2
    exit 1
  fi
  as_root=(sudo)
fi

apt() { "${as_root[@]}" env DEBIAN_FRONTEND=noninteractive apt-get -q -o DPkg::Lock::Timeout=300 "$@"; }

echo "Installing: ${missing[*]}"
log=$(mktemp)
trap 'rm -f "$log"' EXIT
if ! { apt update && apt install -y --no-install-recommends "${missing[@]}"; } >"$log" 2>&1 </dev/null; then
  tail -n 20 "$log" >&2
  echo "install: apt could not install ${missing[*]}; clang 22 comes from Debian 12's security suite (bookworm-security)" >&2
  exit 1
fi
