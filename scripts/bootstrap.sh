#!/bin/sh
# usage: bootstrap.sh VENV LOCK
# Make VENV and fill it from the hashed LOCK; does nothing while the lock is unchanged.
set -eu
venv=$1 lock=$2
name=$(basename "$lock" .lock)
stamp=$venv/.$name-$(cksum "$lock" | cut -d' ' -f1)
[ -f "$stamp" ] && "$venv/bin/python" -c '' 2>/dev/null && exit 0

# A name on the path may be a shim that cannot start, so each candidate is run.
say_version='import sys; v = sys.version_info; print("%d.%d" % v[:2], int((3, 11) <= v[:2] < (3, 15)))'
choose_python() {
  for candidate in ${PYTHON:-} python3 python3.14 python3.13 python3.12 python3.11 /usr/bin/python3; do
    answer=$("$candidate" -c "$say_version" 2>/dev/null) || continue
    case $answer in
      *' 0') echo "$candidate is Python ${answer% 0}; 3.11 to 3.14 is needed. Trying the next one." >&2; continue ;;
    esac
    if "$candidate" -c 'import venv, ensurepip' 2>/dev/null; then echo "$candidate"; return; fi
    echo "$candidate has no venv or ensurepip (Debian, Ubuntu: apt-get install python3-venv). Trying the next one." >&2
  done
  echo "No Python 3.11 to 3.14 that can make a virtual environment was found." >&2
  echo "Install one (Debian, Ubuntu: apt-get install python3-venv) or name it: PYTHON=/path/to/python3 make setup" >&2
  return 1
}

if ! "$venv/bin/python" -c '' 2>/dev/null; then
  python=$(choose_python)
  echo "Making $venv with $python."
  "$python" -m venv --clear "$venv"
fi

pip() { "$venv/bin/python" -m pip "$@" -q --disable-pip-version-check; }
echo "Installing $lock."
uv() { "$venv/bin/uv" pip "$@" -q --system-certs --python "$venv/bin/python"; }
if pip install uv==0.13.9 && uv install --require-hashes -r "$lock"; then :
else
  echo "uv could not install it; pip does it now, more slowly."
  pip install --require-hashes -r "$lock"
fi
rm -f "$venv/.$name"-[0-9]*
: > "$stamp"
