#!/bin/sh
# usage: timed.sh NAME COMMAND...   - run the command, then say how long it took
set -u
name=$1; shift
start=$(date +%s)
"$@"; outcome=$?
echo "== $name: $(($(date +%s) - start)) s"
exit $outcome
