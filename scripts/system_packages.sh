#!/bin/sh
# Fetch what pip cannot bring: Chromium, for the browser tests. Without it those tests are left out.
set -eu
command -v chromium >/dev/null && exit 0

if [ "$(id -u)" != 0 ] || ! command -v apt-get >/dev/null; then
  echo "Chromium is missing, so the browser tests will be skipped. To have them: sudo apt-get install chromium"
  exit 0
fi
echo "Installing Chromium for the browser tests."
export DEBIAN_FRONTEND=noninteractive
log=$(mktemp)
if apt-get update -qq >"$log" 2>&1 && apt-get install -y -qq --no-install-recommends chromium >>"$log" 2>&1; then
  rm -f "$log"
else
  tail -n 3 "$log"
  echo "Chromium could not be installed (all that apt-get said is in $log). The browser tests will not run."
fi
