#!/usr/bin/env bash
# Makes the Debian package, installs it in a bare Debian 12 root, starts the server by the line of its systemd unit, asks
# /health and stops it. Without root, or without debootstrap and a mirror, the package is unpacked and started here, and
# that is said. systemd itself is not there: what the unit forbids the server is not tested.
# Ends with "N passed, N failed".
set -uo pipefail
cd "$(dirname "$0")/../.."
work=$(mktemp -d)
server=''
cleanup() {
  [[ -z $server ]] || kill "$server" 2>/dev/null
  rm -rf "$work"
}
trap cleanup EXIT
passed=0 failed=0
check() {
  local what=$1
  shift
  if "$@"; then
    passed=$((passed + 1))
  else
    failed=$((failed + 1))
    echo "failed: $what"
  fi
}

tools/package.sh >"$work/package.log" 2>&1 || { cat "$work/package.log" && echo "0 passed, 1 failed" && exit 1; }
deb=$(tail -n 1 "$work/package.log")

check "the package depends on the C library" grep -q 'libc6' <(dpkg-deb -f "$deb" Depends)
check "the package holds the command and the unit" test "$(dpkg-deb -c "$deb" |
  grep -cE ' \./usr/(bin/stanch|lib/systemd/system/stanch.service)$')" -eq 2

# A bare root is made once and kept for the next run.
bare=build/bare-root
root=$work/root
as_installed=()
if [[ $(id -u) -eq 0 ]] && command -v debootstrap >/dev/null &&
  { [[ -e $bare/etc/debian_version ]] || debootstrap --variant=minbase bookworm "$bare" >"$work/bootstrap.log" 2>&1; }; then
  cp -a "$bare" "$root"
  cp "$deb" "$root/stanch.deb"
  check "the package installs in a bare Debian 12" chroot "$root" dpkg -i /stanch.deb >"$work/dpkg.log" 2>&1
  as_installed=(chroot "$root")
else
  rm -rf "$bare"
  echo "skipped: installing in a bare Debian 12 (needs root, debootstrap and a mirror); unpacked instead"
  dpkg-deb -x "$deb" "$root"
fi

# The unit's own line and settings, with the port and folder of this test.
unit=$root/usr/lib/systemd/system/stanch.service
[[ -e $unit ]] || unit=$root/lib/systemd/system/stanch.service
line=$(sed -n 's/^ExecStart=//p' "$unit")
[[ ${#as_installed[@]} -gt 0 ]] || line=$root$line
data=/var-stanch
inside=$root
if [[ ${#as_installed[@]} -eq 0 ]]; then data=$work$data inside=''; fi
tls=$(grep -oP 'STANCH_TLS=\K\w+' "$unit")
# shellcheck disable=SC2086  # the line is words
env STANCH_DATA="$data" STANCH_BIND=127.0.0.1 STANCH_PORT=0 STANCH_TLS="$tls" \
  "${as_installed[@]}" $line >"$work/out" 2>"$work/log" &
server=$!
for _ in $(seq 100); do
  grep -q '^Code' "$work/out" && break
  sleep 0.1
done
address=$(grep -oP '^Open \Khttps://[^/]*' "$work/out" | head -n 1)
authority=$inside$data/authority.pem
check "the server tells its address" test -n "$address"
check "/health answers ok" grep -q '"status":"ok"' <(curl -s --cacert "$authority" "$address/health")
check "the page's address answers" grep -qE '200|404' <(curl -s --cacert "$authority" -o /dev/null -w '%{http_code}' "$address/")
check "nobody else trusts it" test "$(curl -s -o /dev/null -w '%{http_code}' "$address/health")" = 000
kill -TERM "$server"
wait "$server"
check "it stops cleanly" test $? -eq 0
server=''
echo "$passed passed, $failed failed"
[[ $failed -eq 0 ]]
