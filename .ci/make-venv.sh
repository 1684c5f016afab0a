#!/bin/sh
# Makes the virtual environment, or leaves a good one untouched.
# Usage: sh .ci/make-venv.sh PYTHON FOLDER
set -eu
python=$1
venv=$2

fail() {
    printf '%s\n' "$@" >&2
    exit 1
}

command -v "$python" >/dev/null 2>&1 || fail \
    "There is no command '$python' here. Witnessmark needs Python 3.11 or newer." \
    "Name yours:  make demo PYTHON=/path/to/python3"

version=$("$python" -c 'import sys; print("%d.%d.%d" % sys.version_info[:3])')
"$python" -c 'import sys; sys.exit(sys.version_info < (3, 11))' || fail \
    "Witnessmark needs Python 3.11 or newer; '$python' is $version." \
    "Install a newer one and name it, for example:  make demo PYTHON=python3.12"

# One made by the same Python that still starts is kept: a second run does no work.
if grep -q "^version = $version" "$venv/pyvenv.cfg" 2>/dev/null &&
    "$venv/bin/python" -c 'import pip' 2>/dev/null; then
    exit 0
fi

"$python" -c 'import ensurepip, venv' 2>/dev/null || fail \
    "'$python' cannot make virtual environments: its module for that is not installed." \
    "On Debian and Ubuntu:  apt-get install python3-venv   (as root, or with sudo)"

echo "Making $venv with Python $version"
"$python" -m venv --clear "$venv"
