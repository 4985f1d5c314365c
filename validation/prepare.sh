#!/bin/sh
# Prepares the Python that the outside checks run in, and prints its path on the last line. With the argument
# `speed` it prepares the one of speed.py instead, which needs more.
# Safe to repeat: an environment that already holds the pinned packages is left as it is.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
case "${1:-}" in
    "") name=validation wanted="$here/requirements.txt" ;;
    speed) name=speed wanted="$here/requirements-speed.txt" ;;
    *) echo "prepare.sh: no such environment: $1" >&2; exit 2 ;;
esac
venv="$here/../target/$name-venv"
stamp="$venv/requirements.txt"
if [ ! -x "$venv/bin/python" ]; then
    mkdir -p "$(dirname "$venv")"
    "${PYTHON:-python3}" -m venv "$venv" >&2
fi
if ! cmp -s "$wanted" "$stamp"; then
    if [ "$name" = speed ] && [ ! -e /usr/include/suitesparse/cholmod.h ]; then
        # With the reference BLAS that comes along otherwise, CHOLMOD would be slow through no fault of its own.
        apt-get update -qq >&2
        apt-get install -y -qq gcc python3-dev libsuitesparse-dev libopenblas0-pthread >&2
    fi
    "$venv/bin/python" -m pip install --quiet --disable-pip-version-check -r "$wanted" >&2
    # Written last, so that a broken installation is tried again.
    cp "$wanted" "$stamp"
fi
echo "$(cd "$venv" && pwd)/bin/python"
