#!/usr/bin/env bash
# Builds the page into web/dist: packages, the core as WebAssembly, the bundle, the list for offline use, and a .gz
# beside each file. Does only what is missing or older.
set -euo pipefail
cd "$(dirname "$0")"
root=..

# The bundler wants node 20.19 or newer; where the system's is older (Debian 12 has 18), npm itself brings one, beside
# the page's own packages so that `npm ci` does not take it away again.
read -r major minor < <(node -p 'process.versions.node.split(".").slice(0, 2).join(" ")')
if ((major < 20 || (major == 20 && minor < 19))); then
  [[ -x ../build/node/node_modules/.bin/node ]] || npm install --prefix ../build/node --no-audit --no-fund --loglevel error node@22
  PATH=$PWD/../build/node/node_modules/.bin:$PATH
fi

if [[ ! -d node_modules || package-lock.json -nt node_modules/.package-lock.json ]]; then
  npm ci --no-audit --no-fund --loglevel error
fi

core=$root/build/wasm/bin/stanch_core.wasm
if [[ ! -f $core || -n $(find $root/core $root/protocol/default $root/wasm -newer "$core" -type f -print -quit) ]]; then
  mkdir -p $root/build/log
  log=$root/build/log/web_core.log
  (cd $root && cmake --preset wasm && cmake --build --preset wasm) >"$log" || { tail -n 40 "$log" >&2 && exit 1; }
  touch "$core"
fi
cmp -s "$core" src/core/stanch_core.wasm || cp "$core" src/core/stanch_core.wasm

npx vite build --logLevel warn
node tools/finish.mjs dist
