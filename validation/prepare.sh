#!/bin/sh
# Prepares the Python that the outside checks run in, and prints its path on the last line.
# Safe to repeat: an environment that already holds the pinned packages is left as it is.
set -eu
here=$(cd "$(dirname "$0")" && pwd)
venv="$here/../target/validation-venv"
wanted="$here/requirements.txt"
stamp="$venv/requirements.txt"
if [ ! -x "$venv/bin/python" ]; then
    mkdir -p "$(dirname "$venv")"
    "${PYTHON:-python3}" -m venv "$venv" >&2
fi
if ! cmp -s "$wanted" "$stamp"; then
    "$venv/bin/python" -m pip install --quiet --disable-pip-version-check -r "$wanted" >&2
    # Written last, so that a broken installation is tried again.
    cp "$wanted" "$stamp"
fi
echo "$(cd "$venv" && pwd)/bin/python"
