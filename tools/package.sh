#!/usr/bin/env bash
# Builds the Debian package, with the web app in it where there is one. Usage: tools/package.sh
# Leaves build/package/stanch_VERSION_ARCH.deb and prints its path.
set -euo pipefail
cd "$(dirname "$0")/.."
tools/install.sh build package
mkdir -p build/log
build() {
  local web=''
  if [[ -x web/build.sh ]]; then
    web/build.sh
    web=$PWD/web/dist
  fi
  cmake --preset release -DSTANCH_WEB="$web"
  cmake --build --preset release -j "$(nproc)" --target stanch
  rm -rf build/package
  cpack --config build/release/CPackConfig.cmake -B build/package
}
if ! (set -e && build) >build/log/package.log 2>&1; then
  tail -n 40 build/log/package.log >&2
  echo "package: it could not be built; the whole log is in build/log/package.log" >&2
  exit 1
fi
rm -rf build/package/_CPack_Packages
ls build/package/*.deb
