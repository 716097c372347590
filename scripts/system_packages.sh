#!/bin/sh
# Fetch what pip cannot bring: the libraries that set papers and, unless told "papers", Chromium for the tests,
# and PostgreSQL and Redis when told "services". Without the first the site runs and says so on each paper;
# without the others the tests that want them are left out.
set -eu
only=${1:-}
PAPER_LIBRARIES="libpango-1.0-0 libpangoft2-1.0-0 libharfbuzz-subset0"

is_installed() { dpkg-query -W -f '${Status}' "$1" 2>/dev/null | grep -q 'ok installed'; }
missing_packages() {
  [ "$only" = papers ] || command -v chromium >/dev/null || printf '%s ' chromium
  if [ "$only" = services ]; then
    ls /usr/lib/postgresql/*/bin/postgres >/dev/null 2>&1 || printf '%s ' postgresql
    command -v redis-server >/dev/null || printf '%s ' redis-server
  fi
  command -v dpkg-query >/dev/null || return 0
  for package in $PAPER_LIBRARIES; do is_installed "$package" || printf '%s ' "$package"; done
}

missing=$(missing_packages)
[ -n "$missing" ] || exit 0

if [ "$(id -u)" != 0 ] || ! command -v apt-get >/dev/null; then
  echo "Missing here: ${missing}(browser tests need Chromium, papers the libraries, test-services the servers). To have them: sudo apt-get install $missing"
  exit 0
fi
echo "Installing ${missing% }."
export DEBIAN_FRONTEND=noninteractive
log=$(mktemp)
# shellcheck disable=SC2086  each name is an argument of its own
if apt-get update -qq >"$log" 2>&1 && apt-get install -y -qq --no-install-recommends $missing >>"$log" 2>&1; then
  rm -f "$log"
else
  tail -n 3 "$log"
  echo "Not installed: ${missing}(all that apt-get said is in $log). Browser tests, tests of a server or papers may be missing."
fi
