#!/bin/sh
# Creates the virtual environment from the lock file. Usage: make_venv.sh PYTHON VENV
set -eu
python=$1
venv=$2

have_version() { "$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' 2>/dev/null; }

if ! have_version; then
    echo "Blockwright needs Python 3.11 or newer; run: make PYTHON=/path/to/python3.11" >&2
    exit 2
fi

# Debian and its children split venv from python3.
if ! "$python" -c 'import ensurepip, venv' 2>/dev/null; then
    echo "This Python has no venv; installing it with the system's packages." >&2
    if [ "$(id -u)" = 0 ]; then as_root=""; else as_root="sudo"; fi
    if command -v apt-get >/dev/null 2>&1; then
        $as_root apt-get update -qq && $as_root apt-get install -y -qq python3-venv python3-pip
    elif command -v dnf >/dev/null 2>&1; then
        $as_root dnf install -y -q python3-pip
    else
        echo "Install Python's venv module with your system's packages, then run make again." >&2
        exit 2
    fi
fi

[ -x "$venv/bin/python" ] || "$python" -m venv "$venv"
"$venv/bin/python" -m pip install --quiet --disable-pip-version-check --require-hashes -r requirements-dev.lock
"$venv/bin/python" -m pip install --quiet --disable-pip-version-check --no-deps -e .
