#!/usr/bin/env bash
# Makes the files of tests/brought again, with the pinned tools of requirements.txt, installed under target/ where they are missing:
#   bash tests/brought/make.sh
set -euo pipefail
cd "$(dirname "${BASH_SOURCE[0]}")"
venv=../../target/brought-venv
[[ -x $venv/bin/python ]] || python3 -m venv "$venv"
"$venv/bin/pip" install --quiet --requirement requirements.txt
"$venv/bin/python" make.py
