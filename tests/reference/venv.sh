# Python with exactly the packages of requirements.txt, made under target/ where it is missing. Sourced by make.sh
# and differential.sh; sets `python`.
# shellcheck shell=bash

reference=$(cd "$(dirname "${BASH_SOURCE[0]}")" && pwd)
root=$(cd "$reference/../.." && pwd)
venv=$root/target/reference-venv
python=$venv/bin/python

if ! cmp -s "$reference/requirements.txt" "$venv/installed.txt"; then
  python3 -m venv "$venv"
  "$python" -m pip install --quiet --disable-pip-version-check -r "$reference/requirements.txt"
  cp "$reference/requirements.txt" "$venv/installed.txt"
fi
